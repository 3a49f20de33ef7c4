"""Makes a photo fit to leave the house: upright, no larger than paper needs, in sRGB, and nothing in it but dots."""

import struct
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any

from PIL import Image, ImageCms, ImageFile, ImageOps, UnidentifiedImageError

from planbook.model import DOTS_AN_INCH, Photo
from planbook.model.pictures import PHOTO_ROOM

MOST_DOTS = 50_000_000
ROOM = (int(PHOTO_ROOM[0] / 25.4 * DOTS_AN_INCH), int(PHOTO_ROOM[1] / 25.4 * DOTS_AN_INCH))
"""Width and height in dots of what paper can show of a photo."""
_SORTS = {"JPEG": "JPEG", "MPO": "JPEG", "PNG": "PNG"}
"""Sorts of pictures as Pillow calls them; MPO is a JPEG with others behind it, as many cameras write."""
_NAMES = {".jpg": "JPEG", ".jpeg": "JPEG", ".png": "PNG"}
_JPEG: dict[str, Any] = {"quality": 85, "subsampling": "4:2:0", "optimize": False, "progressive": False}
_ORIENTATION = 0x0112
"""The tag of EXIF (CIPA DC-008) that says which side is up."""
_BROKEN = (OSError, ValueError, SyntaxError, TypeError, KeyError, IndexError, struct.error, OverflowError, EOFError)
"""What Pillow raises on files that are damaged."""
SUFFIXES = tuple(_NAMES)


class NotAPhoto(ValueError):  # noqa: N818 - it becomes a finding
    """Bytes that are no photo; the message continues a sentence about the file."""


class TooManyDots(NotAPhoto):
    """A picture that would take too much memory."""


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo, its dots before it was made smaller, how many pictures the file holds, whether its colours are sure."""

    photo: Photo
    dots: tuple[int, int]
    pictures: int
    sure: bool


def take_photo(file: str, suffix: str, raw: bytes) -> Taken:
    """The photo in some bytes, under a name that ends in `suffix`. Raises NotAPhoto and TooManyDots.

    How large it is and of which sort is read off its head before anything is unpacked.
    """
    with _opened(raw) as picture:
        sort = _sort(picture, suffix)
        if picture.width * picture.height > MOST_DOTS:
            raise TooManyDots(f"has {picture.width} x {picture.height} dots")
        pictures = int(getattr(picture, "n_frames", 1)) if sort == "PNG" else 1
        bare = _is_bare(sort, raw)
        turned = 1 if bare else _orientation(picture)
        dots = (picture.height, picture.width) if turned >= 5 else picture.size
        upright, sure = _made_fit(picture, turned)
    if not (bare and dots[0] <= ROOM[0] and dots[1] <= ROOM[1]):
        raw = _written(upright, sort)
    jpeg = raw if sort == "JPEG" else _written(upright, "JPEG")
    return Taken(Photo(file, raw, jpeg, *upright.size), dots, pictures, sure)


@contextmanager
def _opened(raw: bytes) -> Iterator[Image.Image]:
    """Raises NotAPhoto for whatever goes wrong while it is open."""
    with warnings.catch_warnings(), _whole_only():
        # Pillow warns of large or odd pictures by itself; what is too large is refused here.
        warnings.simplefilter("ignore")
        try:
            with Image.open(BytesIO(raw), formats=("JPEG", "PNG")) as picture:
                yield picture
        except NotAPhoto:
            raise
        except UnidentifiedImageError:
            raise NotAPhoto("is neither a JPEG nor a PNG picture") from None
        except Image.DecompressionBombError:
            raise TooManyDots("has hundreds of millions of dots") from None
        except _BROKEN:
            raise NotAPhoto("is damaged or cut off") from None


@contextmanager
def _whole_only() -> Iterator[None]:
    """Pillow tells of a picture that is cut off; the printer asks it not to, for the whole process."""
    before, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _sort(picture: Image.Image, suffix: str) -> str:
    found = _SORTS[picture.format or ""]
    if found != _NAMES[suffix.lower()]:
        raise NotAPhoto(f"is a {found} picture, and its name ends in `{suffix}`")
    return found


def _orientation(picture: Image.Image) -> int:
    """Which side is up, from 1 to 8; 1 where that is not said or cannot be read."""
    try:
        said = picture.getexif().get(_ORIENTATION, 1)
    except _BROKEN:
        return 1
    return said if isinstance(said, int) and 1 <= said <= 8 else 1


_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def _made_fit(picture: Image.Image, turned: int) -> tuple[Image.Image, bool]:
    """The dots alone, upright and small enough, and whether their colours are sure."""
    profile = picture.info.get("icc_profile")
    box = ROOM if turned < 5 else (ROOM[1], ROOM[0])
    if picture.format == "PNG":
        picture = _in_eight_bits(picture)
    picture.thumbnail(box, Image.Resampling.LANCZOS, reducing_gap=3.0)
    picture.load()
    coloured, sure = _in_srgb(_on_white(picture), profile)
    if turned in _TURNS:
        coloured = coloured.transpose(_TURNS[turned])
    # What Pillow remembers of a file, such as comments, would be written again.
    return Image.frombytes(coloured.mode, coloured.size, coloured.tobytes()), sure


def _in_eight_bits(picture: Image.Image) -> Image.Image:
    if picture.mode == "P":
        return picture.convert("RGBA" if "transparency" in picture.info else "RGB")
    if picture.mode.startswith("I"):
        return picture.convert("I").point(lambda value: value * (1 / 257)).convert("L")
    return picture.convert("L") if picture.mode == "1" else picture


def _on_white(picture: Image.Image) -> Image.Image:
    """What shines through is the paper."""
    if "A" not in picture.mode and "transparency" not in picture.info:
        return picture
    clear = picture.convert("RGBA")
    return Image.alpha_composite(Image.new("RGBA", clear.size, "white"), clear).convert("RGB")


def _in_srgb(picture: Image.Image, profile: bytes | None) -> tuple[Image.Image, bool]:
    """The dots in sRGB (IEC 61966-2-1), or in grey; False where their colours had to be guessed."""
    if profile:
        try:
            own = ImageCms.ImageCmsProfile(BytesIO(profile))
            made = ImageCms.profileToProfile(picture, own, _srgb(), outputMode="RGB")
            if made is not None:
                return made, True
        except (ImageCms.PyCMSError, *_BROKEN):
            pass
    grey = picture.mode == "L"
    return picture.convert("L" if grey else "RGB"), not profile and picture.mode != "CMYK"


@cache
def _srgb() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))


def _written(picture: Image.Image, sort: str) -> bytes:
    out = BytesIO()
    picture.save(out, sort, **(_JPEG if sort == "JPEG" else {"compress_level": 9}))
    return out.getvalue()


def in_grey(jpeg: bytes) -> bytes:
    """A photo that was made fit, in grey."""
    with Image.open(BytesIO(jpeg), formats=("JPEG",)) as picture:
        return jpeg if picture.mode == "L" else _written(ImageOps.grayscale(picture), "JPEG")


def _is_bare(sort: str, raw: bytes) -> bool:
    """Whether a file holds dots and nothing else: no words, no place, no profile, nothing behind its end."""
    bare: Callable[[bytes], bool] = _is_bare_jpeg if sort == "JPEG" else _is_bare_png
    try:
        return bare(raw)
    except (IndexError, struct.error):
        return False


_TABLES = {0xC0, 0xC2, 0xC4, 0xDB, 0xDD}
"""Markers of segments that say how to unpack the dots (ITU-T T.81, table B.1)."""


def _is_bare_jpeg(raw: bytes) -> bool:
    """One picture of 8 bits in grey or in three colours; of the head of JFIF (ITU-T T.871) only the 16 bytes without
    a small picture are taken."""
    at = 2
    while True:
        if raw[at] != 0xFF:
            return False
        marker = raw[at + 1]
        if marker == 0xD9:
            return at + 2 == len(raw)
        (length,) = struct.unpack_from(">H", raw, at + 2)
        body = raw[at + 4 : at + 2 + length]
        jfif = marker == 0xE0 and len(body) == 14 and body.startswith(b"JFIF\0")
        if not (jfif or marker in _TABLES or marker == 0xDA):
            return False
        if marker in (0xC0, 0xC2) and (body[0] != 8 or body[5] not in (1, 3)):
            return False
        at += 2 + length
        if marker == 0xDA:
            at = _end_of_scan(raw, at)


def _end_of_scan(raw: bytes, at: int) -> int:
    """Where the next marker stands behind packed dots: 0xFF followed by neither a stuffed zero nor a restart."""
    at = raw.find(b"\xff", at)
    while at >= 0 and (raw[at + 1] == 0 or 0xD0 <= raw[at + 1] <= 0xD7):
        at = raw.find(b"\xff", at + 2)
    return at if at >= 0 else len(raw)


def _is_bare_png(raw: bytes) -> bool:
    """8 bits in grey or in three colours, in order, with no other chunks than a picture needs (ISO/IEC 15948)."""
    if raw[24] != 8 or raw[25] not in (0, 2) or raw[28] != 0:
        return False
    at = 8
    while at < len(raw):
        (length,) = struct.unpack_from(">I", raw, at)
        kind = raw[at + 4 : at + 8]
        at += 12 + length
        if kind == b"IEND":
            return bool(at == len(raw))
        if kind not in (b"IHDR", b"IDAT"):
            return False
    return False
