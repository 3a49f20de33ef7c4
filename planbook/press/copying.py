"""Makes buyers' copies of a marked PDF by appending to it: the name on every page and in the metadata."""

import io
import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from xml.sax.saxutils import escape, quoteattr

import pikepdf

from planbook.press.appending import CannotAppend, Ending, ending_of, stream, text_string, update
from planbook.press.mark import KEY, NoMaster
from planbook.press.mark_places import HIGH, WIDE
from planbook.press.outlines import SetLine, Typesetter
from planbook.speech import LANGUAGES, say, speaking

SIZE, LEAST_SIZE = 7.0, 5.0
"""Type sizes of the mark, points: as it should be, and so small that it can just be read on paper."""
GAP = 9.0
"""Between name, order and licence, points."""
_BASELINE = 2.6
_GREY = b"0.25 g"
_END = b"</rdf:RDF>"
_OWN = ("/CopyFor", "/CopyOrder", "/CopyLicence")
"""Keys of our own in the information of the document (ISO 32000-1, 14.3.3, lets them stand there)."""
_PREFIXES = (
    'xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" xmlns:dc="http://purl.org/dc/elements/1.1/" '
    'xmlns:xmpRights="http://ns.adobe.com/xap/1.0/rights/"'
)
"""Namespaces of ISO 16684-1 (XMP), which has these properties: rights, identifier, terms of use."""


@dataclass(frozen=True, slots=True)
class Owner:
    """Whose copy it is: a name, the number of the order, the licence."""

    name: str
    order: str
    licence: str


@dataclass(frozen=True)
class Copier:
    """A marked PDF, looked at once, from which copies are made."""

    master: bytes
    setter: Typesetter
    language: str
    _ending: Ending
    _mark: int
    _metadata: int
    _info: tuple[tuple[bytes, bytes], ...]
    _packet: tuple[bytes, bytes]

    def lacking(self, owner: Owner) -> tuple[str, ...]:
        """Characters of the mark that no font has."""
        return self.setter.lacking("".join(self._words(owner)))

    def type_size(self, owner: Owner) -> float:
        """The type size (points) with which the mark fits its room; below LEAST_SIZE it is too long to be read."""
        return _fitting(self._lines(owner))

    def copy(self, owner: Owner) -> bytes:
        """What is appended to the master to make it this owner's copy. The same owner gives the same bytes."""
        identity = sha256("\0".join((owner.name, owner.order, owner.licence)).encode()).digest()[:16]
        objects = {
            self._mark: _form(self._lines(owner)),
            self._ending.info: self._info_for(owner),
            self._metadata: stream(b"/Type/Metadata/Subtype/XML", self._packet_for(owner)),
        }
        return update(self._ending, objects, identity)

    def _words(self, owner: Owner) -> tuple[str, str, str]:
        with speaking(self.language):
            return say("Copy for {name}", name=owner.name), say("order {order}", order=owner.order), owner.licence

    def _lines(self, owner: Owner) -> tuple[SetLine, ...]:
        first, second, third = self._words(owner)
        return self.setter.line(first), self.setter.line(second), self.setter.kept_line(third)

    def _info_for(self, owner: Owner) -> bytes:
        own = zip(_OWN, (owner.name, owner.order, owner.licence), strict=True)
        rows = (*self._info, *((key.encode(), text_string(value)) for key, value in own))
        return b"<<%b>>" % b"".join(b"%b %b" % row for row in rows)

    def _packet_for(self, owner: Owner) -> bytes:
        said = " · ".join(self._words(owner))
        alternatives = f'<rdf:Alt><rdf:li xml:lang="x-default">{escape(said)}</rdf:li></rdf:Alt>'
        terms = f'<rdf:Alt><rdf:li xml:lang="x-default">{escape(owner.licence)}</rdf:li></rdf:Alt>'
        described = (
            f'<rdf:Description rdf:about="" {_PREFIXES} dc:identifier={quoteattr(owner.order)}>'
            f"<dc:rights>{alternatives}</dc:rights><xmpRights:UsageTerms>{terms}</xmpRights:UsageTerms>"
            "</rdf:Description>"
        )
        return self._packet[0] + described.encode() + self._packet[1]


def copier(marked: bytes, setter: Typesetter) -> Copier:
    """Look at a PDF that `with_mark` made. Raises NoMaster."""
    try:
        with pikepdf.open(io.BytesIO(marked)) as document:
            if _OWN[0] in document.docinfo:
                raise NoMaster("it is a buyer's copy already")
            ending = ending_of(marked, document)
            packet = document.Root.Metadata.read_bytes()
            before, end, after = packet.rpartition(_END)
            if not end:
                raise NoMaster("its metadata has no end")
            return Copier(
                marked,
                setter,
                _language(document),
                ending,
                document.Root[KEY].objgen[0],
                document.Root.Metadata.objgen[0],
                tuple((str(key).encode(), item.unparse()) for key, item in sorted(document.docinfo.items())),
                (before, end + after),
            )
    except CannotAppend as problem:
        raise NoMaster(str(problem)) from None
    except (pikepdf.PdfError, AttributeError, KeyError):
        raise NoMaster("its mark or its metadata cannot be read") from None


def _language(document: pikepdf.Pdf) -> str:
    told = str(document.Root.get("/Lang", "en"))[:2].lower()
    return told if told in LANGUAGES else "en"


def _fitting(lines: Sequence[SetLine]) -> float:
    """Tall scripts are set smaller, so that nothing of them is cut off."""
    width = sum(line.width for line in lines) / 1000
    low, high = min(line.low for line in lines) / 1000, max(line.high for line in lines) / 1000
    room = WIDE - GAP * (len(lines) - 1)
    return min(SIZE, room / width if width else SIZE, HIGH / (high - low) if high > low else SIZE)


def _form(lines: Sequence[SetLine]) -> bytes:
    """The mark: outlines, so that any script shows with no font in the file."""
    size = _fitting(lines)
    low, high = size * min(line.low for line in lines) / 1000, size * max(line.high for line in lines) / 1000
    baseline = min(max(_BASELINE, -low), HIGH - high)
    parts = [b"%b %.5f 0 0 %.5f 0 %.3f cm" % (_GREY, size / 1000, size / 1000, baseline)]
    start, x, y = 0.0, 0, 0
    for line in lines:
        for glyph, right, up in line.glyphs:
            across = round(start + right)
            parts.append(b"1 0 0 1 %d %d cm %b f" % (across - x, up - y, glyph.path))
            x, y = across, up
        start += line.width + GAP * 1000 / size
    content = zlib.compress(b"\n".join(parts), 1)
    box = b"/Type/XObject/Subtype/Form/BBox[0 0 %g %g]/Resources<<>>/Filter/FlateDecode" % (WIDE, HIGH)
    return stream(box, content)
