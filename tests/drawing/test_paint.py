"""Lines of a picture that are no lines of a piece are left out."""

import pytest

from planbook.drawing.ink import USUAL
from planbook.drawing.look import Line, Look
from planbook.drawing.paint import Style, lines
from planbook.drawing.paper import Paper
from planbook.drawing.views import HOME

THERE_AND_BACK = ((1.0, 1.0), (2.0, 1.1), (1.0, 1.0))
SLIVER = ((1.0, 1.0), (2.0, 1.0), (2.0, 1.02), (1.0, 1.0))
PLUG = ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0), (1.0, 1.0))
OPEN = ((1.0, 1.0), (1.4, 1.0))


@pytest.mark.parametrize(
    ("kind", "points", "drawn"),
    [
        ("seam", THERE_AND_BACK, 0),
        ("seam", SLIVER, 0),
        ("seam", PLUG, 1),
        ("seam", OPEN, 1),
        ("crease", SLIVER, 0),
        ("crease", PLUG, 1),
    ],
)
def test_a_line_around_next_to_nothing_is_not_drawn(kind, points, drawn):
    look = Look(HOME, (), (), (), (Line(0, kind, points),), (0.0, 0.0, 3.0, 3.0))
    assert len(lines(look, Paper(1.0, 0.0, 10.0), Style(("worked",), USUAL, "colour"))) == drawn
