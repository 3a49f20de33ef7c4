"""What belongs to a step stands in it, on whatever page the step comes to stand; measured in the boxes of the printer."""

from collections.abc import Iterator
from dataclasses import replace
from types import ModuleType
from typing import Any

import pytest

from planbook.booklet import Edition, compose
from planbook.booklet.basics import FilmRow
from planbook.booklet.shown import code
from planbook.press.fetch import Shelf
from planbook.press.library import printer
from planbook.press.press import _fetcher

ADDRESS = "https://film.example/saltmarsh/boat-tray?from=125"


def inside(box: Any, step: Any = None) -> Iterator[tuple[Any, Any]]:
    """Every box of an element in a step, with the box of the step."""
    element = getattr(box, "element", None)
    if element is not None and element.tag == "section" and element.get("class") == "step":
        step = box
    if step is not None and step is not box:
        yield box, step
    for child in getattr(box, "children", None) or ():
        yield from inside(child, step)


@pytest.mark.parametrize("edition", [Edition("letter"), Edition("a4", "mm", layout="shop")], ids=lambda e: e.layout)
def test_the_code_of_a_film_stays_in_its_step(edition: Edition, boat_tray: ModuleType) -> None:
    book = boat_tray.boat_tray(edition, steps=9, stencils=1)
    film = FilmRow(code(ADDRESS, ""), "In the film at 2 min 5 s", ADDRESS, ADDRESS.removeprefix("https://"))
    html = compose(replace(book, steps=tuple(replace(step, film=film) for step in book.steps)), edition.layout)
    weasyprint = printer()
    pages = weasyprint.HTML(string=html, url_fetcher=_fetcher(weasyprint, Shelf())).render().pages
    boxes = [pair for page in pages for pair in inside(page._page_box)]
    codes = [(box, step) for box, step in boxes if box.element_tag == "img" and round(box.width / box.height, 2) == 1]
    assert len(codes) == 9
    for box, step in codes:
        assert step.position_y < box.position_y
        assert box.position_y + box.margin_height() <= step.position_y + step.margin_height() + 0.01
