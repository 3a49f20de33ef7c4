"""The legend explains the marks that are there: those of pictures always, those of stencils where they are printed."""

import pytest

from planbook.booklet.legend import legend
from planbook.drawing.marks import Stroke
from planbook.drawing.stencil_figure import mark_box

STENCILS = {
    "cut": "Thick line with ticks",
    "entry": "Thick line with arrow heads",
    "sand to": "Long dashes",
    "guide": "Short dashes",
    "edge": "Thin line",
    "hole": "Circle with a cross",
    "grain": "Half arrow heads",
    "match": "Diamond, half dark",
}


@pytest.mark.parametrize("layer", STENCILS)
def test_a_mark_of_stencils_is_explained_where_it_is_printed(layer: str) -> None:
    said = {row.name for row in legend({layer})} - {row.name for row in legend(())}
    assert said == {STENCILS[layer]}


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_every_mark_is_drawn_within_its_picture(ink: str) -> None:
    for row in legend(STENCILS, ink):  # type: ignore[arg-type]
        boxes = [mark_box(mark) for mark in row.picture.marks]
        assert boxes
        assert min(min(left, top) for left, top, _, _ in boxes) >= 0
        assert max(right for _, _, right, _ in boxes) <= row.picture.width
        assert max(bottom for _, _, _, bottom in boxes) <= row.picture.height


def test_the_black_edition_has_no_colours() -> None:
    for row in legend(STENCILS, "black"):
        for mark in row.picture.marks:
            colour = mark.pen.colour if isinstance(mark, Stroke) else mark.colour
            red, green, blue = (int(colour[k : k + 2], 16) for k in (1, 3, 5))
            assert max(red, green, blue) - min(red, green, blue) < 16
