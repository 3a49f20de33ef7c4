"""Packs the streams of a PDF once: the printer would do it again for the identifier of the file."""

import zlib
from collections.abc import Iterable
from typing import Any


def pack(objects: Iterable[Any]) -> None:
    """Compress (ISO 32000-1, 7.4.4) every stream of a PDF that is about to be written and is to be compressed."""
    for each in objects:
        if getattr(each, "compress", False):
            content = b"\n".join(map(_bytes, each.stream))
            each.stream, each.compress = [zlib.compress(content)], False
            each.extra["Filter"] = "/FlateDecode"


def _bytes(item: Any) -> bytes:
    if isinstance(item, bytes):
        return item
    return item.encode("ascii") if isinstance(item, str) else bytes(item.data)
