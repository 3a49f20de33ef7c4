"""Lines that would run into one another in print: fine, or left out (ISO 128-2: two thick lines, and white between)."""

import math

import pytest
from shapely.geometry import LineString
from shapely.ops import unary_union

from planbook.drawing import paint
from planbook.drawing.crowded import CLEAR, FINE, told_apart
from planbook.drawing.ink import USUAL
from planbook.drawing.look import Line, Look
from planbook.drawing.marks import Pen, Stroke
from planbook.drawing.paper import Paper
from planbook.drawing.scene import step_picture
from planbook.drawing.views import HOME
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop import Shown

THICK = Pen(0.35)


def upright(*places, high=8.0, pen=THICK):
    return [Stroke(((x, 0.0), (x, high)), pen, "outline") for x in places]


def printed(strokes):
    """The ink of strokes, round at the ends as it is drawn."""
    return unary_union([LineString(s.points).buffer(s.pen.width / 2) for s in strokes])


def widths(strokes):
    return [stroke.pen.width for stroke in strokes]


def test_lines_with_white_between_them_stay():
    lines = upright(0.0, 0.35 + CLEAR + 0.01, 5.0)
    assert told_apart(lines) == tuple(lines)


def test_one_of_two_close_lines_is_drawn_fine_and_of_many_only_the_first_is_thick():
    assert sorted(widths(told_apart(upright(0.0, 0.4)))) == [FINE, 0.35]
    many = told_apart(upright(0.0, 0.33, 0.66, 0.99, 1.32))
    assert sorted(widths(many)) == [FINE] * 4 + [0.35]
    # They can be told apart: between each two of them some white is left.
    assert len(printed(many).geoms) == 5


def test_what_would_print_as_one_even_fine_is_left_out():
    left = told_apart(upright(*(0.05 * k for k in range(20))))
    assert 0.35 in widths(left)
    assert len(left) < 8
    assert len(printed(left).geoms) == len(left)


def test_the_stronger_and_the_longer_line_stays():
    strong = upright(0.1, high=6.0, pen=Pen(0.5))
    weak = upright(0.0)
    assert told_apart([*weak, *strong])[-1] == strong[0]
    short, long = upright(0.0, high=3.0), upright(0.1)
    assert told_apart([*long, *short]) == tuple(long)


def test_a_line_that_only_meets_others_is_not_beside_them():
    zigzag = [((0.3 * k, 0.3 * (k % 2)), (0.3 * k + 0.3, 0.3 * ((k + 1) % 2))) for k in range(6)]
    square = [((0.0, 0.0), (0.5, 0.0)), ((0.5, 0.0), (0.5, 0.5)), ((0.5, 0.5), (1.0, 0.5))]
    for chain in (zigzag, square):
        strokes = [Stroke(line, THICK, "outline") for line in chain]
        assert told_apart(strokes) == tuple(strokes)


def test_a_short_line_that_touches_nothing_is_left_out_and_one_that_does_is_not():
    long = upright(0.0)
    crumb, held = Stroke(((3.0, 4.0), (3.0, 4.6)), THICK, "crease"), Stroke(((0.0, 4.0), (0.9, 4.0)), THICK, "crease")
    assert told_apart([*long, crumb]) == tuple(long)
    assert told_apart([*long, held]) == (*long, held)
    ring = Stroke(((5.0, 4.0), (5.3, 4.0), (5.3, 4.3), (5.0, 4.3)), Pen(0.13), "crease", closed=True)
    assert told_apart([*long, ring]) == (*long, ring)


@pytest.mark.parametrize(("across", "wide"), [(0.4, FINE), (1.5, 0.35)])
def test_a_loop_that_would_fill_in_is_drawn_fine(across, wide):
    ring = tuple((across / 2 * math.cos(k * math.pi / 12), across / 2 * math.sin(k * math.pi / 12)) for k in range(24))
    far = upright(9.0)
    (loop, _) = told_apart([Stroke(ring, THICK, "outline", closed=True), *far])
    assert loop.pen.width == wide


@pytest.mark.parametrize(("long", "radius"), [(320.0, 2.0), (480.0, 3.0), (640.0, 2.0)])
def test_relief_holes_in_the_corners_of_a_mortise_do_not_print_as_a_spot(bench, monkeypatch, long, radius):
    """There is next to no ink any more that lies further from white than that of a thick line."""
    top = FACE_FRAMES["top"]
    corners = [(x, y) for x in (60.0, 78.0) for y in (140.0, 230.0)]
    board = block((0, 0, 0), (long, 0.7 * long, 18)).minus(
        block((60, 140, -1), (78, 230, 19)),
        *(cylinder(top, at, radius, -1, 19) for at in corners),
    )
    event = bench.event("mortise", "top", [Shown(bench.piece("board", board), "worked")])
    before = _spots(_bored(bench, event, monkeypatch, tuple))
    assert _spots(_bored(bench, event, monkeypatch, told_apart)) < 0.3 * before


def _bored(bench, event, monkeypatch, apart):
    monkeypatch.setattr(paint, "told_apart", apart)
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    return [m for kind in ("outline", "crease") for m in picture.of_layer(kind) if isinstance(m, Stroke)]


def _spots(lines):
    """The area in mm2 of all ink that lies further than a thick line's width from white."""
    return printed(lines).buffer(-0.2).area


def test_the_rim_of_a_sliver_is_no_line():
    """Brought on paper it runs there and back, with nothing between."""
    ring = tuple((0.2 * math.sin(t) * 0.01, 3.0 * math.cos(t)) for t in (0.0, 1.0, 2.0, 3.0, 4.0, 5.0))
    seen = Look(
        HOME, (), (), (), (Line(0, "seam", (*ring, ring[0])), Line(0, "seam", ((5.0, 0.0), (5.0, 3.0)))), (0, 0, 9, 9)
    )
    style = paint.Style(("worked",), USUAL, "colour")
    assert [s.points[0][0] for s in paint.lines(seen, Paper(1.0, 0.0, 0.0), style)] == [5.0]
