"""Puts into the tags of a PDF what the printer leaves out of them; nothing that is seen changes.

It stands in the printer's own walk over its boxes, since only there an element of the tags and its HTML are known
together. Sections and tables named here are those of ISO 32000-1.
"""

from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

_POINTS = 0.75
"""Points to a unit of the printer (CSS: 96 to the inch)."""
_HEADINGS = ("/H1", "/H2", "/H3", "/H4", "/H5", "/H6")
_SIDES = {"@top": "/Header", "@bottom": "/Footer"}
_NUMBERING = {"none": "/None", "decimal": "/Decimal", "disc": "/Disc", "circle": "/Circle", "square": "/Square"}
Walk = Callable[..., Iterator[Any]]


@contextmanager
def whole_tags() -> Iterator[None]:
    """While this lasts, what is printed has whole tags."""
    tags: Any = import_module("weasyprint.pdf.tags")
    printers = tags._build_box_tree
    tags._build_box_tree = _better(printers)
    try:
        yield
    finally:
        tags._build_box_tree = printers


def _better(printers: Walk) -> Walk:
    """The printer's walk over a box, which gives the elements made of it, with what it leaves out."""
    boxes: Any = import_module("weasyprint.formatting_structure.boxes")

    def walk(
        box: Any, parent: Any, pdf: Any, page: int, nums: dict[int, Any], notes: Any, tags: dict[Any, Any]
    ) -> Iterator[Any]:
        if isinstance(box, boxes.MarginBox):
            _set_apart(box, _object(pdf, pdf.page_references[page]), pdf, nums, tags)
            return
        if box.link_annotation and _in_link(parent, pdf):
            _take_off(box, _object(pdf, pdf.page_references[page]))
        passed_over = isinstance(box, boxes.PageBox) or box.element_tag in ("html", "body")
        for element in printers(box, parent, pdf, page, nums, notes, tags):
            if not passed_over:
                _complete(element, box, parent, pdf)
            yield element

    return walk


def _set_apart(box: Any, page: Any, pdf: Any, nums: dict[int, Any], tags: dict[Any, Any]) -> None:
    """Make what is drawn in a margin an artifact of pagination (14.8.2.2), so that it is not read aloud."""
    places = {tags.pop(each)["mcid"] for each in _inside(box) if each in tags}
    nums.update(dict.fromkeys(places, "null"))
    subtype = next((name for side, name in _SIDES.items() if box.at_keyword.startswith(side)), None)
    kind = {"Type": "/Pagination"} | ({"Subtype": subtype} if subtype else {})
    drawn = _object(pdf, page["Contents"]).stream
    for at in range(len(drawn) - 1, 0, -1):
        if not places:
            return
        if isinstance(drawn[at], dict) and drawn[at].get("MCID") in places:
            places.remove(drawn[at]["MCID"])
            drawn[at - 1], drawn[at] = "/Artifact", type(drawn[at])(kind)


def _in_link(element: Any, pdf: Any) -> bool:
    while element["S"] not in ("/Link", "/Document"):
        element = _object(pdf, element["P"])
    return bool(element["S"] == "/Link")


def _take_off(box: Any, page: Any) -> None:
    """A box within a link is not one more link: the printer hands links down to what stands in them."""
    page["Annots"].remove(box.link_annotation.reference)
    box.link_annotation.clear()
    box.link_annotation = None


def _inside(box: Any) -> Iterator[Any]:
    for child in getattr(box, "children", None) or ():
        yield child
        yield from _inside(child)


def _complete(element: Any, box: Any, parent: Any, pdf: Any) -> None:
    sort, html = element["S"], box.element
    if html is not None and html.get("lang"):
        element["Lang"] = _text(html.get("lang"))
    if sort in (*_HEADINGS, "/Link") and parent["S"] == sort:
        # The box within the box of a heading or a link is no other heading or link.
        element["S"] = "/NonStruct"
    elif sort == "/Link" and not box.link_annotation:
        # What it leads to is not in the file.
        element["S"] = "/Span"
    elif sort == "/L":
        element["A"] = _record(O="/List", ListNumbering=_NUMBERING.get(str(box.style["list_style_type"]), "/None"))
    elif sort == "/Figure":
        element["A"]["BBox"] = _on_page(element["A"]["BBox"], _object(pdf, element["Pg"]))
    elif sort == "/TH" and "A" in element:
        element["A"]["Scope"] = "/Column" if _object(pdf, parent["P"])["S"] == "/THead" else "/Row"
    elif sort == "/Table":
        for row in _rows(element, pdf):
            _own_headings(row)
    if box.link_annotation:
        box.link_annotation["Contents"] = _text(_said_by(html))


def _on_page(box: Collection[float], page: Any) -> Any:
    """A box of the printer, from the top left, as one of the page: left, bottom, right, top (table 344)."""
    left, top, right, bottom = (side * _POINTS for side in box)
    height = page["TrimBox"][3]
    return type(page["TrimBox"])((left, height - bottom, right, height - top))


def _rows(table: Any, pdf: Any) -> Iterator[list[Any]]:
    """The cells of each row of the body of a table."""
    for part in (_object(pdf, kid) for kid in table["K"]):
        if part["S"] in ("/TBody", "/TFoot"):
            for row in (_object(pdf, kid) for kid in part["K"]):
                yield [_object(pdf, kid) for kid in row["K"]]


def _own_headings(row: list[Any]) -> None:
    """In a row of several headings each cell is under the one before it, or behind it if the row begins with a cell."""
    headings = [at for at, cell in enumerate(row) if cell["S"] == "/TH"]
    if len(headings) < 2:
        return
    before = headings[0] == 0
    for at, cell in enumerate(row):
        if cell["S"] == "/TD":
            beside = [other for other in headings if (other < at) == before]
            own = (max if before else min)(beside, default=None)
            cell["A"]["Headers"] = type(cell["A"].get("Headers", row))([row[own]["ID"]] if own is not None else [])


def _said_by(html: Any) -> str:
    """The words of a link, or its address if it has none."""
    return " ".join("".join(html.itertext()).split()) or str(html.get("href"))


def _object(pdf: Any, reference: bytes) -> Any:
    return pdf.objects[int(reference.split()[0])]


def _text(words: str) -> Any:
    return import_module("pydyf").String(words)


def _record(**entries: str) -> Any:
    return import_module("pydyf").Dictionary(entries)
