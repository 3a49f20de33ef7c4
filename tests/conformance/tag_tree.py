"""Reads the tags of a PDF: its elements in reading order, what is drawn on a page, and where it stands.

Sections named here are those of ISO 32000-1.
"""

import ctypes
import io
from collections.abc import Iterator
from dataclasses import dataclass

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium

PAINTS = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "'", '"', "Do", "sh", "INLINE IMAGE"}
"""Operators that leave ink on a page (tables 60, 74, 77, 87, 92, 109)."""
BLOCKS = {"P", "H1", "H2", "H3", "LBody", "TD", "TH", "Figure"}


@dataclass(frozen=True)
class Element:
    """One element with the sorts of those around it, outermost first; `marked` are numbers of its own content."""

    sort: str
    around: tuple[str, ...]
    at: pikepdf.Object
    kids: tuple["Element", ...]
    marked: tuple[tuple[int, int], ...]

    def all(self) -> Iterator["Element"]:
        yield self
        for kid in self.kids:
            yield from kid.all()

    def content(self) -> Iterator[tuple[int, int]]:
        """Page and number of all content below it, in reading order as far as elements tell it."""
        yield from self.marked
        for kid in self.kids:
            yield from kid.content()


def root_of(document: pikepdf.Pdf) -> Element:
    """The element of the whole document."""
    numbers = {page.obj.objgen: number for number, page in enumerate(document.pages)}
    tops = document.Root.StructTreeRoot.K
    assert len(tops) == 1
    return _element(tops[0], (), numbers, None)


def _element(at: pikepdf.Object, around: tuple[str, ...], numbers, page: int | None) -> Element:
    assert len(around) < 60
    sort = str(at.S)[1:]
    page = numbers[at.Pg.objgen] if "/Pg" in at else page
    kids, marked = [], []
    found = at.get("/K", pikepdf.Array())
    for kid in found if isinstance(found, pikepdf.Array) else [found]:
        if isinstance(kid, int):
            marked.append((page, int(kid)))
        elif kid.get("/Type") == "/MCR":
            marked.append((numbers[kid.Pg.objgen] if "/Pg" in kid else page, int(kid.MCID)))
        elif kid.get("/Type") != "/OBJR":
            kids.append(_element(kid, (*around, sort), numbers, page))
    return Element(sort, around, at, tuple(kids), tuple(marked))


@dataclass(frozen=True)
class Drawn:
    """A piece of content with ink: the tag it stands in, its number there if it has one, entries of an artifact."""

    tag: str | None
    number: int | None
    entries: dict[str, str]


def drawn_on(page: pikepdf.Page) -> Iterator[Drawn]:
    """Each painting of a page's own content, with the mark nearest around it (14.6)."""
    stack: list[Drawn] = []
    for step in pikepdf.parse_content_stream(page):
        operator = str(step.operator)
        if operator in ("BDC", "BMC"):
            listed = step.operands[1] if operator == "BDC" else pikepdf.Dictionary()
            assert isinstance(listed, pikepdf.Dictionary)
            number = int(listed.MCID) if "/MCID" in listed else None
            stack.append(Drawn(str(step.operands[0])[1:], number, {str(k): str(v) for k, v in listed.items()}))
        elif operator == "EMC":
            stack.pop()
        elif operator in PAINTS:
            yield next((each for each in reversed(stack) if each.tag == "Artifact" or each.number is not None), NOTHING)
    assert not stack


NOTHING = Drawn(None, None, {})
Box = tuple[float, float, float, float]


def places(pdf: bytes) -> dict[tuple[int, int], Box]:
    """Left, bottom, right, top (points) of each piece of marked content, by page and number, as PDFium lays it out."""
    document = pypdfium2.PdfDocument(io.BytesIO(pdf))
    found: dict[tuple[int, int], Box] = {}
    try:
        for n, page in enumerate(document):
            for item in page.get_objects(max_depth=1):
                number = pdfium.FPDFPageObj_GetMarkedContentID(item.raw)
                if number >= 0:
                    sides = [ctypes.c_float() for _ in range(4)]
                    pdfium.FPDFPageObj_GetBounds(item.raw, *sides)
                    box = tuple(side.value for side in sides)
                    found[n, number] = _around(found.get((n, number), box), box)
    finally:
        document.close()
    return found


def blocks(root: Element, where: dict[tuple[int, int], Box]) -> Iterator[tuple[int, Box, str]]:
    """Page, box and sort of each block of text or picture that holds no other, in reading order."""
    for element in root.all():
        if element.sort in BLOCKS and not any(kid.sort in BLOCKS for kid in list(element.all())[1:]):
            seen = [(page, where[page, number]) for page, number in element.content() if (page, number) in where]
            for page in dict.fromkeys(page for page, _ in seen):
                boxes = [box for other, box in seen if other == page]
                yield page, _united(boxes), element.sort


def _united(boxes: list[Box]) -> Box:
    left, bottom, right, top = zip(*boxes, strict=True)
    return min(left), min(bottom), max(right), max(top)


def _around(one: Box, other: Box) -> Box:
    return _united([one, other])
