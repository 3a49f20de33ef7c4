"""The last touches to the objects of a PDF: its streams are packed once, its pictures shown as they are."""

import zlib
from collections.abc import Iterable
from typing import Any


def pack(objects: Iterable[Any]) -> None:
    """Compress (ISO 32000-1, 7.4.4) every stream of a PDF that is about to be written and is to be compressed.

    Metadata is left plain, for readers that know no PDF (ISO 19005-3, 6.6.2.1); so is what would end in a carriage
    return when compressed, since with the line feed behind it that looks like a line end, and the length like a wrong
    one (6.1.7.1).
    """
    for each in objects:
        if getattr(each, "compress", False):
            content = b"\n".join(map(_bytes, each.stream))
            packed = zlib.compress(content)
            plain = each.extra.get("Type") == "/Metadata" or packed.endswith(b"\r")
            each.stream, each.compress = [content if plain else packed], False
            if not plain:
                each.extra["Filter"] = "/FlateDecode"


def show_dots_as_they_are(objects: Iterable[Any]) -> None:
    """Ask no reader to smooth pictures of dots: files for archives must not (ISO 19005-3, 6.2.8), and each reader does
    it in another way."""
    for each in objects:
        if getattr(each, "extra", {}).get("Subtype") == "/Image":
            each.extra["Interpolate"] = "false"


def _bytes(item: Any) -> bytes:
    if isinstance(item, bytes):
        return item
    return item.encode("ascii") if isinstance(item, str) else bytes(item.data)
