"""Photos made while testing: a bright left half, so that its turning is seen, with what a camera writes into it."""

import struct
import zlib
from io import BytesIO
from typing import Any

from PIL import Image, ImageCms

SECRETS = (b"SECRET-MAKER", b"SECRET-MODEL", b"SECRET-WORDS", b"GPSSECRET", b"SECRET-XMP")
"""What a camera might tell; none of it may be found in a file that goes out."""
GPS, MAKER, MODEL, ORIENTATION = 0x8825, 0x010F, 0x0110, 0x0112
"""Tags of EXIF (CIPA DC-008-2019)."""


def picture(width: int, height: int, mode: str = "RGB") -> Image.Image:
    """White on the left, dark on the right."""
    made = Image.new("RGB", (width, height), (40, 30, 20))
    made.paste((250, 250, 250), (0, 0, width // 2, height))
    return made.convert(mode)


def photo(width: int = 1600, height: int = 1200, sort: str = "JPEG", mode: str = "RGB", **more: Any) -> bytes:
    out = BytesIO()
    picture(width, height, mode).save(out, sort, **more)
    return out.getvalue()


def from_a_camera(width: int = 1600, height: int = 1200, orientation: int = 1) -> bytes:
    """A JPEG with maker, model, place, comment and XMP in it, and words behind its end."""
    exif = Image.Exif()
    exif[MAKER], exif[MODEL], exif[ORIENTATION] = "SECRET-MAKER", "SECRET-MODEL", orientation
    exif.get_ifd(GPS).update({1: "N", 2: (54.0, 12.0, 34.5), 27: b"GPSSECRET"})
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    xmp = b"<x:xmpmeta>SECRET-XMP</x:xmpmeta>"
    return photo(width, height, exif=exif, comment=b"SECRET-WORDS", icc_profile=srgb, xmp=xmp) + b"SECRET-WORDS"


def png_head(width: int, height: int) -> bytes:
    """The head of a PNG (ISO/IEC 15948) that says it is so large, with hardly any dots behind it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b"")
    )
