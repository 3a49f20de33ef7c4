"""An arrow has its tip at what it pushes: off small faces, not beside another piece, and not on its neighbour's name."""

import pytest
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import unary_union

from planbook.drawing.marks import Fill
from planbook.drawing.scene import step_picture
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop import Cue, Shown


def arrows(picture):
    return [mark.rings[0] for mark in picture.of_layer("push") if isinstance(mark, Fill)]


def pictured(bench, face, shown, cues):
    return step_picture(bench.timeline(), bench.event("plug", face, shown, cues), 98.0, 64.0)


def knobbed(bench, radius):
    """A drawer front with a knob, pushed at the middle of the knob."""
    knob = cylinder(FACE_FRAMES["front"], (150, 60), radius, -1, 30)
    drawer = bench.piece("drawer", block((0, 0, 0), (300, 200, 120)).plus(knob))
    cue = Cue("push", ((150.0, -90.0, 60.0), (150.0, -30.0, 60.0)), "drawer")
    return pictured(bench, "front", [Shown(drawer, "worked")], [cue])


def test_an_arrow_stops_before_a_knob_and_does_not_cover_it(bench):
    picture = knobbed(bench, 5)
    (arrow,) = arrows(picture)
    end = min((Polygon(m.rings[0]) for m in picture.of_layer("face") if isinstance(m, Fill)), key=lambda r: r.area)
    assert not Polygon(arrow).intersects(end)
    assert Polygon(arrow).distance(end) < 0.8


def test_on_a_large_face_it_stands_where_it_is_pushed(bench):
    picture = knobbed(bench, 40)
    (arrow,) = arrows(picture)
    faces = unary_union([Polygon(m.rings[0]) for m in picture.of_layer("face") if isinstance(m, Fill)])
    assert faces.contains(Point(arrow[3]))


def test_an_arrow_that_would_stop_at_another_piece_is_not_drawn(bench):
    """A rail under the back of a shelf, pushed up from below: the front of the shelf hides where it is pushed."""
    shelf = bench.piece("shelf", block((0, 0, 100), (400, 300, 120)))
    rail = bench.piece("rail", block((0, 250, 60), (400, 270, 100)))
    shown = [Shown(shelf, "worked"), Shown(rail, "worked", (0.0, 0.0, -20.0))]
    up = Cue("push", ((200.0, 260.0, -20.0), (200.0, 260.0, 60.0)), "rail")
    assert not arrows(pictured(bench, "top", shown, [up]))
    own = Cue("push", ((200.0, 150.0, 20.0), (200.0, 150.0, 100.0)), "shelf")
    assert len(arrows(pictured(bench, "top", shown[:1], [own]))) == 1


@pytest.mark.parametrize(("apart", "drawn"), [(30.0, 1), (300.0, 2)])
def test_of_arrows_at_alike_pegs_that_stand_close_one_is_drawn(bench, apart, drawn):
    board = bench.piece("board", block((0, 0, 0), (600, 20, 200)))
    shown, cues = [Shown(board, "worked")], []
    for k in (0, 1):
        x = 100.0 + apart * k
        peg = bench.piece(f"peg {k}", cylinder(FACE_FRAMES["front"], (x, 100), 5, 0, 12))
        shown.append(Shown(peg, "worked", (0.0, -20.0, 0.0)))
        cues.append(Cue("push", ((x, -40.0, 100.0), (x, -12.0, 100.0)), f"peg {k}"))
    picture = pictured(bench, "front", shown, cues)
    assert len(arrows(picture)) == drawn
    assert picture.missing == ()
    assert {"peg 0", "peg 1"} <= set(bench.texts(picture))
    for arrow in arrows(picture):
        assert not any(LineString(leader).intersects(Polygon(arrow)) for leader in bench.leaders(picture))


def test_close_arrows_at_pieces_of_another_size_all_stay(bench):
    board = bench.piece("board", block((0, 0, 0), (600, 20, 200)))
    pegs = [bench.piece(f"peg {k}", cylinder(FACE_FRAMES["front"], (100 + 30 * k, 100), 5 + k, 0, 12)) for k in (0, 1)]
    cues = [Cue("push", ((100.0 + 30 * k, -40.0, 100.0), (100.0 + 30 * k, -12.0, 100.0)), f"peg {k}") for k in (0, 1)]
    shown = [Shown(board, "worked"), *(Shown(peg, "worked", (0.0, -20.0, 0.0)) for peg in pegs)]
    assert len(arrows(pictured(bench, "front", shown, cues))) == 2
