"""Ticks on the side of a line where the wood goes: on that side of it all along, and in the colour of cuts."""

import math

import pytest
from shapely.geometry import LineString, Polygon

from planbook.drawing.ink import CUT, LINE, PAPER
from planbook.drawing.marks import Stroke
from planbook.drawing.scene import step_picture
from planbook.drawing.waste_side import APART, LAYER, LONG, ticked
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown
from planbook.workshop.timeline import WASTE_LEFT, WASTE_RIGHT, WAY_IN

BOX = ((0.0, 0.0), (20.0, 0.0), (20.0, 16.0), (0.0, 16.0))
"""On paper, where y grows downward: clockwise as it is seen, so that its inside lies to the right."""


@pytest.mark.parametrize(("side", "inside"), [(WASTE_RIGHT, True), (WASTE_LEFT, False)])
def test_every_tick_begins_on_the_line_and_ends_on_its_waste_side(side, inside):
    ticks = [m for m in ticked([(BOX, True)], side, "colour") if m.pen.colour != PAPER]
    assert len(ticks) == math.floor(72 / APART)
    for tick in ticks:
        start, end = (Polygon(BOX).contains(LineString([p, p]).centroid) for p in tick.points)
        assert Polygon(BOX).boundary.distance(LineString([tick.points[0]] * 2)) < 1e-9
        assert (start, end) == (False, inside)


def test_other_lines_have_none():
    assert ticked([(BOX, True)], "", "colour") == ticked([(BOX, True)], WAY_IN, "black") == ()


@pytest.mark.parametrize(("ink", "colour"), [("colour", CUT), ("black", LINE)])
def test_the_line_of_a_board_has_its_fringe_beside_the_board(bench, ink, colour):
    """A board taken down to a line at its right end: the ticks lie to the right of the line, and stay on the paper."""
    line = Cue("cut line", ((100.0, 0.0, 0.0), (100.0, 0.0, 60.0)), "board", WASTE_RIGHT)
    shown = [Shown(bench.piece("board", block((0, 0, 0), (100, 20, 60))), "worked")]
    picture = step_picture(bench.timeline(), bench.event("sand to line", "front", shown, [line]), 98, 64, ink)
    ticks = [m for m in picture.of_layer(LAYER) if isinstance(m, Stroke) and m.pen.colour == colour]
    assert len(ticks) > 5
    (at,) = {round(m.points[0][0], 2) for m in ticks}
    assert {round(m.points[1][0] - at, 2) for m in ticks} == {LONG}
    assert bench.extent(picture)[2] <= picture.width
