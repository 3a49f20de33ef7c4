"""The tone of a lined floor: as much of it as geometry says is seen, no wood's, and in later pictures too."""

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point, Polygon

from planbook.drawing.ink import PAPER
from planbook.drawing.look import look
from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.paint import DOTTED
from planbook.drawing.portraits import cover_picture, piece_picture
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.stage import names, stages
from planbook.drawing.surfaces import LINED
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder, prism
from planbook.solids.visible import orthographic
from planbook.workshop import Cue, Shown
from planbook.workshop.openings import wall_of
from planbook.workshop.operations.line import THICK, floor_of, lining_of
from planbook.workshop.pieces import moved, turned
from planbook.workshop.timeline import Fitted, Lined, Member, Way

TOP = FACE_FRAMES["top"]
FLOOR = 80.0 * 40.0
STILL = (0.0, 0.0, 0.0)


def tray(bench, high: float = 12.0):
    """A tray of 100 x 60 mm with walls of 10 mm that rise so high over the floor, lined."""
    solid = block((0, 0, 0), (100, 60, 8 + high)).minus(block((10, 10, 8), (90, 50, 99)))
    return bench.piece("tray", solid, lined=(lining_of(solid, floor_of(solid, TOP), TOP),))


def lined(bench, high: float):
    spots = ((50.0, 30.0, 8.0),)
    return bench.event("line", "top", [Shown(tray(bench, high), "worked")], [Cue("lining", spots, "tray", "top")])


def from_above(piece, calm: tuple[int, ...] = ()) -> dict[str, float]:
    """The area, mm2, of the lining, and of each wood that lies on another, as seen from above."""
    seen = look(((piece, STILL),), orthographic("top"), calm)
    found: dict[str, float] = {}
    for face in seen.inlays:
        on_lining = any(ground.wood == LINED and ground.surface == face.surface for ground in seen.faces)
        wood, sign = (LINED, -1) if on_lining else (face.wood, 1)
        found[wood] = found.get(wood, 0.0) + sign * area(face)
    whole = sum(area(face) for face in seen.faces if face.wood == LINED)
    return {**found, LINED: found.get(LINED, 0.0) + whole} if whole else found


def area(face) -> float:
    return sum(Polygon(outer, holes).area for outer, holes in face.polygons)


def fills(picture) -> list[Fill]:
    return [mark for mark in picture.of_layer("lining") if isinstance(mark, Fill)]


@pytest.mark.parametrize("high", [5.0, 20.0])
def test_it_covers_what_is_seen_of_the_floor(bench, high):
    event = lined(bench, high)
    scale = step_scale(bench.timeline(), event, 110.0, 80.0)
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    (fill,) = fills(picture)
    # The eye looks along (-1, 1, -1), so that walls hide as much behind them as they are high; level areas are drawn
    # at 1 / sqrt(3) of their size in an isometric view (ISO 5456-3).
    assert scale is not None
    seen = (80 - high) * (40 - high) / math.sqrt(3) * scale**2
    assert sum(Polygon(ring).area for ring in fill.rings) == pytest.approx(seen, rel=0.02)
    assert not picture.missing


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_no_face_has_its_tone(bench, ink):
    picture = step_picture(bench.timeline(), lined(bench, 10.0), 110.0, 80.0, ink)
    (fill,) = fills(picture)
    assert fill.colour not in {mark.colour for mark in picture.of_layer("face") if isinstance(mark, Fill)}
    assert "where it is lined" in picture.alt


def test_a_floor_that_nobody_sees_is_told(bench):
    """A box as deep as this shows nothing of its floor."""
    picture = step_picture(bench.timeline(), lined(bench, 90.0), 110.0, 80.0)
    assert not picture.of_layer("lining")
    assert picture.missing == ("where `tray` is lined",)


@pytest.mark.parametrize("role", ["worked", "context"])
def test_a_later_step_shows_it_and_does_not_speak_of_it(bench, role):
    block_beside = Shown(bench.piece("block", block((200, 0, 0), (240, 40, 40))), "worked")
    event = bench.event("assemble", "top", [block_beside, Shown(tray(bench), role)])
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    assert len(fills(picture)) == 1
    assert "lined" not in picture.alt


def test_it_goes_where_its_piece_goes(bench):
    assert from_above(tray(bench)) == pytest.approx({LINED: FLOOR})
    assert from_above(moved(tray(bench), (300.0, -20.0, 7.0))) == pytest.approx({LINED: FLOOR})
    upright = turned(tray(bench), (1.0, 0.0, 0.0), 90.0, (5.0, 5.0, 5.0))
    assert from_above(upright) == {}
    assert from_above(turned(upright, (1.0, 0.0, 0.0), -90.0, (0.0, 0.0, 0.0))) == pytest.approx({LINED: FLOOR})
    assert from_above(turned(tray(bench), (0.0, 0.0, 1.0), 30.0, STILL)) == pytest.approx({LINED: FLOOR})


def test_what_is_cut_away_or_built_over_later_is_lined_no_more(bench):
    piece = tray(bench)

    def with_solid(solid) -> dict[str, float]:
        return from_above(replace(piece, solid=solid))

    assert with_solid(piece.solid.minus(block((10, 10, 5), (40, 50, 9)))) == pytest.approx({LINED: 50 * 40})
    assert with_solid(piece.solid.minus(block((10, 10, -1), (90, 50, 9)))) == {}
    # From above a block hides what it stands on, and nothing of it is lined itself.
    assert with_solid(piece.solid.plus(block((20, 20, 8), (30, 30, 15)))) == pytest.approx({LINED: FLOOR - 100})
    assert with_solid(piece.solid.meet(block((0, 0, 0), (50, 60, 99)))) == pytest.approx({LINED: 40 * 40})


def test_no_wood_shows_through_it(bench):
    """A plug goes right through the floor; it is cut out of what is around it, unlike boards, which lie in boxes."""
    piece, region = tray(bench), cylinder(TOP, (50, 30), 8, -1, 50)
    plug = Member("plug", "black walnut", (0.0, 0.0, 1.0), region, region.bounds)
    rim = cylinder(TOP, (5, 5), 3, -1, 50)
    pin = Member("pin", "black walnut", (0.0, 0.0, 1.0), rim, rim.bounds)
    both = replace(piece, members=(*piece.members, plug, pin))
    assert from_above(both) == pytest.approx({LINED: FLOOR, "black walnut": math.pi * 9}, rel=0.02)
    assert "black walnut" in from_above(replace(both, lined=()))
    assert from_above(replace(both, lined=()))["black walnut"] > math.pi * 64


def test_a_piece_in_one_wood_keeps_it(bench):
    solid = tray(bench).solid
    boards = bench.layered("tray", solid, (0, 10, 20), ("black walnut", "sugar maple"))
    piece = replace(boards, lined=tray(bench).lined)
    assert from_above(piece, calm=(0,)) == pytest.approx({LINED: FLOOR})


def test_two_floors_of_a_round_bottom_are_lined_and_its_walls_are_not(bench):
    """Of a trough of radius 40 mm that is 30 mm deep, the floor is what is deeper than half of that."""
    trough = cylinder(FACE_FRAMES["front"], (50, 50), 40, -200, 200)
    solid = block((0, 0, 0), (100, 60, 40)).minus(trough.meet(block((0, 8, 0), (100, 28, 99))))
    solid = solid.minus(trough.meet(block((0, 32, 0), (100, 52, 99))))
    floor = floor_of(solid, TOP)
    piece = bench.piece("trough", solid, lined=(lining_of(solid, floor, TOP),))
    assert len(floor.parts) == 2
    assert from_above(piece) == pytest.approx({LINED: floor.size}, rel=0.01)


def test_the_opened_cover_and_the_small_picture_show_it(bench):
    piece = tray(bench)
    lid = bench.piece("lid", block((0, 0, 20), (100, 60, 26)))
    shut = bench.timeline(piece, lid)
    away = Fitted("lid lifts", "lift out", 1.0, None, way=Way("lid", (0.0, 90.0, 0.0)))
    assert not fills(cover_picture(shut, 150.0, 90.0))
    assert fills(cover_picture(replace(shut, fits=(away,)), 150.0, 90.0))
    assert fills(piece_picture(piece, 30.0, 20.0, "black"))


def test_walls_of_an_opening_are_lined_without_its_floor(bench):
    """A case open in front: of what is lined only the floor is seen from above, through a window in its top."""
    case = block((0, 0, 0), (100, 60, 50)).minus(block((10, -1, 10), (90, 50, 40)))
    area, level = wall_of(case, "bottom", "front")
    lining = Lined(prism(area, TOP, level - THICK, level + THICK), TOP.n)
    open_above = case.minus(block((30, 20, 39), (70, 40, 51)))
    assert from_above(bench.piece("case", open_above, lined=(lining,))) == pytest.approx({LINED: 40 * 20}, rel=0.01)
    assert from_above(bench.piece("case", case, lined=(lining,))) == {}


def test_the_name_of_a_lining_points_amid_what_is_seen_of_it(bench):
    """A floor of 80 x 40 mm behind a wall 20 mm high, of which only the back is seen from the front."""
    piece = tray(bench, 20.0)
    spots = tuple((x, y, 8.0) for x in range(15, 90, 5) for y in range(13, 50, 3))
    event = bench.event("line", "top", [Shown(piece, "worked")], [Cue("note", spots, "tray", "felt")])
    (stage,) = stages(event)
    at = next(name.spot for name in names(stage) if name.text == "felt")
    seen = [Polygon(outer, holes) for face in stage.look.faces if face.wood == LINED for outer, holes in face.polygons]
    whole = max(seen, key=lambda polygon: polygon.area)
    assert whole.contains(Point(at))
    assert whole.boundary.distance(Point(at)) > 3.0


def test_linings_of_two_pieces_are_told_apart(bench):
    """Each is cut for its own piece; the lining of one alone needs no more than its name."""
    near = tray(bench)
    far = replace(moved(near, (150.0, 0.0, 0.0)), name="box")
    spots = {"tray": (50.0, 30.0, 8.0), "box": (200.0, 30.0, 8.0)}
    cues = {name: [Cue("lining", (at,), name, "top"), Cue("note", (at,), name, "felt")] for name, at in spots.items()}
    (both,) = stages(
        bench.event("line", "top", [Shown(near, "worked"), Shown(far, "worked")], [*cues["tray"], *cues["box"]])
    )
    (one,) = stages(bench.event("line", "top", [Shown(near, "worked")], cues["tray"]))
    assert [name.text for name in names(both) if "felt" in name.text] == ["felt (tray)", "felt (box)"]
    assert [name.text for name in names(one) if "felt" in name.text] == ["felt"]


def test_linings_of_walls_are_told_apart_by_where_they_go(bench):
    """Of two walls of one piece each is named; what lies on the bottom is a floor. One wall alone needs no name."""
    piece = bench.piece("box", block((0, 0, 0), (100, 20, 50)).minus(block((5, -1, 5), (95, 15, 45))))
    notes = [Cue("note", (at,), "box", "felt", wall) for at, wall in (((50, 5, 5), "bottom"), ((50, 15, 10), "back"))]
    (both,) = stages(bench.event("line", "front", [Shown(piece, "worked")], notes))
    (one,) = stages(bench.event("line", "front", [Shown(piece, "worked")], notes[:1]))
    assert [name.text for name in names(both) if "felt" in name.text] == ["felt, floor", "felt, back"]
    assert [name.text for name in names(one) if "felt" in name.text] == ["felt"]


def test_linings_of_two_openings_of_one_piece_are_told_apart(bench):
    """Each opening has a floor; the face that it opens to says which is meant. One opening needs no face."""
    solid = block((0, 0, 0), (100, 60, 50)).minus(block((10, -1, 10), (40, 30, 40)), block((60, 20, 10), (101, 50, 40)))
    piece = bench.piece("box", solid)
    near, far = (25.0, 10.0, 10.0), (90.0, 45.0, 10.0)
    front = [Cue("lining", (near,), "box", "front"), Cue("note", (near,), "box", "felt", "bottom")]
    right = [Cue("lining", (far,), "box", "right"), Cue("note", (far,), "box", "felt", "bottom")]
    back = [
        Cue("lining", ((92.0, 50.0, 15.0),), "box", "right"),
        Cue("note", ((92.0, 50.0, 15.0),), "box", "felt", "back"),
    ]

    def told(*cues):
        (stage,) = stages(bench.event("line", "front", [Shown(piece, "worked")], cues))
        return [name.text for name in names(stage) if "felt" in name.text]

    assert told(*front, *right) == ["felt (front)", "felt (right)"]
    assert told(*front, *right, *back) == ["felt, floor (front)", "felt, floor (right)", "felt, back (right)"]
    assert told(*front) == ["felt"]


@pytest.mark.parametrize(("ink", "there"), [("black", True), ("colour", False)])
def test_in_black_ink_it_has_pale_dots_and_no_wood_has(bench, ink, there):
    """Its tone alone is that of a dark wood in shadow."""
    picture = step_picture(bench.timeline(), lined(bench, 12.0), 110.0, 80.0, ink)
    dots = [mark for mark in picture.of_layer("felt") if isinstance(mark, Stroke)]
    assert bool(dots) == there
    floor = Polygon(fills(picture)[0].rings[0]).buffer(0.01)
    assert all(floor.contains(LineString(mark.points)) and mark.pen.colour == PAPER for mark in dots)


def test_dots_stay_off_a_wall_that_runs_on_from_the_floor(bench):
    """A trough of which the floor and both walls are one smooth surface, most of it lined; the walls are wood."""
    trough = cylinder(FACE_FRAMES["front"], (50, 50), 40, -200, 200).meet(block((0, 10, 0), (100, 110, 99)))
    solid = block((0, 0, 0), (100, 120, 40)).minus(trough)
    floor = floor_of(solid, TOP)
    piece = bench.piece("trough", solid, lined=(lining_of(solid, floor, TOP),))
    event = bench.event(
        "line", "top", [Shown(piece, "worked")], [Cue("lining", ((50.0, 60.0, 10.0),), "trough", "top")]
    )
    scale = step_scale(bench.timeline(), event, 110.0, 80.0)
    picture = step_picture(bench.timeline(), event, 110.0, 80.0, "black")
    (stage,) = stages(event)
    assert scale is not None
    assert any(face.wood == LINED for face in stage.look.faces)
    whole = sum(area(face) for face in stage.look.faces if face.wood == LINED)
    bare = whole - sum(area(face) for face in stage.look.inlays if face.wood != LINED)
    assert bare < 0.9 * whole
    dotted = sum(LineString(mark.points).length for mark in picture.of_layer("felt") if isinstance(mark, Stroke))
    assert dotted * DOTTED == pytest.approx(bare * scale**2, rel=0.03)
