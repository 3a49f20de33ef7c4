"""What is painted: no lines that are none of a piece, and one pale tone for what only stands by."""

import pytest

from planbook.drawing import ink
from planbook.drawing.ink import GREYEST, USUAL, base, painted, tone
from planbook.drawing.look import Line, Look
from planbook.drawing.marks import Fill
from planbook.drawing.paint import Style, lines
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.drawing.views import HOME
from planbook.handbook import woods
from planbook.solids.solid import block
from planbook.workshop import Shown

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


@pytest.mark.parametrize("wood", ["black walnut", "sugar maple", "black cherry", "a wood of nobody's"])
def test_what_stands_by_has_the_tone_of_the_key_whatever_its_wood(bench, wood):
    """Its top, which is in full light, is filled with the colour of the pale piece in the key."""
    lid = bench.piece("lid", block((0, 0, 30), (100, 80, 40)), wood)
    base = bench.piece("base", block((0, 0, 0), (100, 80, 20)), "black walnut")
    picture = step_picture(
        bench.timeline(), bench.event("bore", "", [Shown(base, "worked"), Shown(lid, "context")]), 90, 70
    )
    pale = painted(ink.base("", "context", "colour"), 1.0, "colour")
    assert pale in {mark.colour for mark in picture.of_layer("face") if isinstance(mark, Fill)}
    red, green, blue = ink.base("", "context", "colour")
    assert red > green > blue > 0.9 * red  # warm, and near to the white of paper


def test_dark_middling_and_pale_woods_are_told_apart_in_black_ink():
    tints = [woods()[name].tint for name in ("walnut", "cherry", "hard maple")]
    walnut, cherry, maple = (base(tint, "worked", "black")[0] for tint in tints)
    assert walnut + 0.06 < cherry < maple - 0.06
    # Even the darkest wood in shadow leaves black lines a contrast of 4.5 to 1 (WCAG 2.2, success criterion 1.4.3).
    shadow = _linear(GREYEST * tone(0.0, "black"))
    assert (shadow + 0.05) / (_linear(0x1D / 255) + 0.05) > 4.5


def _linear(share):
    """Relative luminance of a grey (IEC 61966-2-1)."""
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
