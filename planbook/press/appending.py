"""Appends changed objects to a finished PDF as an incremental update; what was there stays byte for byte.

ISO 32000-1, 7.5.6 (incremental updates), 7.5.4 and 7.5.8 (the two kinds of cross-reference).
"""

import io
import struct
from collections.abc import Mapping
from dataclasses import dataclass

import pikepdf

_KEYWORD = b"startxref"
_TAIL = 1024
"""Readers look for the last `startxref` this near to the end of the file."""


@dataclass(frozen=True, slots=True)
class Ending:
    """What an update has to know of the file it is appended to.

    `start` is where the last cross-reference begins, `size` one more than the highest object number, `root` and
    `info` are numbers of objects of generation 0, `identity` is the first half of the file's identifier.
    """

    length: int
    start: int
    size: int
    root: int
    info: int
    identity: bytes
    in_stream: bool


class CannotAppend(ValueError):  # noqa: N818 - it is told to people like a finding
    """A PDF whose end is not of the form that an update can be appended to."""


def ending_of(pdf: bytes, document: pikepdf.Pdf) -> Ending:
    """Read the ending of a PDF that is open as `document`. Raises CannotAppend."""
    at = pdf.rfind(_KEYWORD, max(0, len(pdf) - _TAIL))
    words = pdf[at + len(_KEYWORD) :].split(maxsplit=1) if at >= 0 else []
    if not words or not words[0].isdigit():
        raise CannotAppend("it has no cross-reference at its end")
    start, trailer = int(words[0]), document.trailer
    root, info = trailer.Root.objgen, document.docinfo.objgen
    if root[1] or info[1] or not info[0] or not 0 < start < len(pdf):
        raise CannotAppend("its cross-reference is not of the usual form")
    identity = bytes(trailer.ID[0]) if "/ID" in trailer else b""
    in_stream = not pdf[start : start + 32].lstrip().startswith(b"xref")
    return Ending(len(pdf), start, int(trailer.Size), root[0], info[0], identity, in_stream)


def update(ending: Ending, objects: Mapping[int, bytes], identity: bytes) -> bytes:
    """The bytes to put after the file, so that the objects of these numbers are those given (their bodies).

    `identity` is the second half of the new file's identifier. The cross-reference is of the kind the file has.
    """
    out = io.BytesIO()
    out.write(b"\n")
    places: dict[int, int] = {}
    for number in sorted(objects):
        places[number] = ending.length + out.tell()
        out.write(b"%d 0 obj\n%b\nendobj\n" % (number, objects[number]))
    start = ending.length + out.tell()
    pair = b"/ID[<%b><%b>]" % ((ending.identity or identity).hex().encode(), identity.hex().encode())
    common = b"/Prev %d/Root %d 0 R/Info %d 0 R%b" % (ending.start, ending.root, ending.info, pair)
    out.write(_as_stream(ending, places, start, common) if ending.in_stream else _as_table(ending, places, common))
    out.write(b"startxref\n%d\n%%%%EOF\n" % start)
    return out.getvalue()


def stream(entries: bytes, content: bytes) -> bytes:
    """The body of a stream object: its dictionary's entries without the length, and its content."""
    return b"<<%b/Length %d>>stream\n%b\nendstream" % (entries, len(content), content)


def text_string(text: str) -> bytes:
    """A text string as UTF-16 in hexadecimal digits (ISO 32000-1, 7.9.2.2)."""
    return b"<FEFF%b>" % text.encode("utf-16-be").hex().upper().encode()


def _as_table(ending: Ending, places: Mapping[int, int], common: bytes) -> bytes:
    rows = b"".join(b"%d 1\n%010d 00000 n\r\n" % (number, place) for number, place in sorted(places.items()))
    return b"xref\n%btrailer\n<</Size %d%b>>\n" % (rows, max(ending.size, *(n + 1 for n in places)), common)


def _as_stream(ending: Ending, places: Mapping[int, int], start: int, common: bytes) -> bytes:
    own = max(ending.size, *(number + 1 for number in places))
    every = {**places, own: start}
    index = b" ".join(b"%d 1" % number for number in sorted(every))
    content = b"".join(struct.pack(">BQH", 1, place, 0) for _, place in sorted(every.items()))
    entries = b"/Type/XRef/Size %d/Index[%b]/W[1 8 2]%b" % (own + 1, index, common)
    return b"%d 0 obj\n%b\nendobj\n" % (own, stream(entries, content))
