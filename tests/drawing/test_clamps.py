"""Clamps on faces that are not seen: their marks stand at the wood that they press, or not at all; sizes by hand."""

import math

import pytest
from shapely.geometry import Point, Polygon

from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.pads import BLOCK, UNSEEN, hidden, pressing
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.solids.solid import block, joined
from planbook.workshop import Cue, Shown

BOARD = block((0, 0, 0), (100, 20, 60))
BEHIND = Cue("clamp", ((50.0, 60.0, 30.0), (50.0, 20.0, 30.0)), "board")
"""It presses on the back of the board, which no view from the front shows."""


def blocks(bench, *others, cue=BEHIND, board=BOARD) -> int:
    """How many blocks of clamps are drawn on a board and other pieces."""
    shown = [Shown(bench.piece("board", board), "worked")]
    shown += [Shown(bench.piece(f"other {n}", solid), "worked") for n, solid in enumerate(others)]
    picture = step_picture(bench.timeline(), bench.event("glue up", "front", shown, [cue]), 98, 64)
    return sum(isinstance(mark, Fill) and len(mark.rings[0]) == 4 for mark in picture.of_layer("clamp"))


def dashed(bench, *others, cue=BEHIND, board=BOARD):
    """The blocks that are drawn in dashes, and all that is seen, as polygons."""
    shown = [Shown(bench.piece("board", board), "worked")]
    shown += [Shown(bench.piece(f"other {n}", solid), "worked") for n, solid in enumerate(others)]
    picture = step_picture(bench.timeline(), bench.event("glue up", "front", shown, [cue]), 98, 64)
    lines = [m for m in picture.of_layer(UNSEEN) if isinstance(m, Stroke) and m.pen.dashes and len(m.points) == 4]
    return [Polygon(m.points) for m in lines], even_odd(m.rings for m in picture.of_layer("face"))


def even_odd(faces):
    """What faces cover, each of rings that are filled by the even-odd rule."""
    found = Polygon()
    for rings in faces:
        one = Polygon()
        for ring in rings:
            one = one.symmetric_difference(Polygon(ring).buffer(0))
        found = found.union(one)
    return found


def in_dashes(bench, *others, cue=BEHIND, board=BOARD) -> int:
    """How many blocks are drawn in dashes."""
    return len(dashed(bench, *others, cue=cue, board=board)[0])


def test_a_clamp_on_a_hidden_face_is_drawn_in_dashes_behind_its_own_board(bench):
    """Its block has its middle where that of one in the middle of the back would be seen through the wood."""
    assert blocks(bench) == 0
    (ring,), seen = dashed(bench)
    assert seen.buffer(0.01).contains(ring)
    assert ring.area == pytest.approx(BLOCK[0] * BLOCK[1], abs=0.01)


@pytest.mark.parametrize("far", [40.0, 50.0, 100.0, 110.0])
def test_one_that_would_cross_the_edge_of_an_opening_lies_over_the_work_as_well(bench, far):
    """A frame 60 mm deep, pressed up from below in its middle: seen from the front, its opening ends before that place.

    The post beside the opening begins 70 mm from the left. Beside the frame it would press on nothing.
    """
    frame = block((0, 0, 0), (140, 60, 100)).minus(block((10, -1, 10), (70, 61, 90)))
    cue = Cue("clamp", ((far, 30.0, -40.0), (far, 30.0, 0.0)), "board")
    (ring,), seen = dashed(bench, cue=cue, board=frame)
    assert seen.union(Polygon(seen.exterior)).buffer(0.01).contains(ring)
    assert blocks(bench, cue=cue, board=frame) == 0


def test_one_that_other_wood_hides_is_moved_along_the_joint_to_where_its_own_piece_is_seen(bench):
    """A plate stands before the right end of a board, and beyond all its outline, so that no way back leads to air."""
    near = Cue("clamp", ((48.0, 60.0, 20.0), (48.0, 20.0, 20.0)), "board")
    plate = block((70, -10, -150), (300, -5, 250))
    shown = [Shown(bench.piece(name, solid), "worked") for name, solid in (("board", BOARD), ("plate", plate))]
    picture = step_picture(bench.timeline(), bench.event("glue up", "front", shown, [near]), 98, 64)
    (ring,), _ = dashed(bench, plate, cue=near)
    largest = max((even_odd([mark.rings]) for mark in picture.of_layer("face")), key=lambda face: face.area)
    # The upright edge of the plate; 48 mm along the board it would be 0.8 mm to the right of that.
    edge = min(x for x, y in largest.exterior.coords if y > ring.bounds[3] + 10)
    assert edge - 5 < ring.centroid.x < edge


def test_a_clamp_that_other_wood_stands_before_is_drawn_in_dashes(bench):
    """A taller board a little to the right covers all that is seen of the way in which the clamp comes."""
    assert blocks(bench, block((104, -60, -40), (120, 400, 400))) == 0
    assert in_dashes(bench, block((104, -60, -40), (120, 400, 400))) == 1


@pytest.mark.parametrize("far", [0.0, 120.0])
def test_a_clamp_under_an_arch_is_drawn_in_dashes_whether_a_rail_stands_before_it_or_not(bench, far):
    """A panel with an arch 50 mm high, pressed from below; a rail stands so far before it, or there is none."""
    panel = block((0, 0, 0), (18, 250, 200)).minus(block((-1, 30, -1), (19, 220, 50)))
    cue = Cue("clamp", ((9.0, 125.0, 0.0), (9.0, 125.0, 50.0)), "board")
    rail = [block((18, 125 - far, 100), (400, 143 - far, 200))] if far else []
    assert blocks(bench, *rail, cue=cue, board=panel) == 0
    assert in_dashes(bench, *rail, cue=cue, board=panel) == 1


def test_one_clamp_for_two_cuts_is_shown_once(bench):
    """Two operations of a step that are pressed in the same place, and one that is pressed elsewhere."""
    piece = bench.piece("board", BOARD)
    other = Cue("clamp", ((50.0, 10.0, 90.0), (50.0, 10.0, 60.0)), "board")
    events = [bench.event("shim", "front", [Shown(piece, "worked")], [cue]) for cue in (BEHIND, BEHIND, other)]
    drawn = drawn_event(events)
    assert drawn is not None
    assert [cue.points for cue in drawn.show.cues] == [BEHIND.points, other.points]


def blocks_of(picture):
    return [m.rings[0] for m in picture.of_layer("clamp") if isinstance(m, Fill) and len(m.rings[0]) == 4]


@pytest.mark.parametrize(("wide", "aslant", "long"), [(100.0, 30, 4.0), (8.0, 0, 4.0), (3.0, 30, 2.0)])
def test_a_block_lies_across_its_way_or_along_a_narrow_strip(bench, wide, aslant, long):
    """On the front of a board, and of strips 8 and 3 mm high, which are 2.26 and 0.85 mm wide on paper.

    Straight across its way a block is 30 degrees aslant to the strip. One that has no room at all stays so, and short.
    """
    board = block((0, 0, 0), (200, 20, wide))
    cue = Cue("clamp", ((100.0, -40.0, wide / 2), (100.0, 0.0, wide / 2)), "board")
    event = bench.event("glue up", "front", [Shown(bench.piece("board", board), "worked")], [cue])
    (ring,) = blocks_of(step_picture(bench.timeline(), event, 98, 64, scale=0.4))
    assert math.dist(ring[0], ring[1]) == pytest.approx(long, abs=0.2)
    way = math.degrees(math.atan2(ring[1][1] - ring[0][1], ring[1][0] - ring[0][0]))
    assert way % 180 - 30 == pytest.approx(aslant, abs=0.01)  # the front's level edges rise or fall by 30 degrees


def test_a_block_near_an_edge_is_moved_in_until_it_lies_on_its_face(bench):
    """A clamp 1 mm under the upper edge of a board, at a scale of 0.4."""
    cue = Cue("clamp", ((100.0, -40.0, 99.0), (100.0, 0.0, 99.0)), "board")
    event = bench.event(
        "glue up", "front", [Shown(bench.piece("board", block((0, 0, 0), (200, 20, 100))), "worked")], [cue]
    )
    picture = step_picture(bench.timeline(), event, 98, 64, scale=0.4)
    (ring,) = blocks_of(picture)
    faces = [Polygon(mark.rings[0]) for mark in picture.of_layer("face")]
    assert any(face.contains(Polygon(ring)) for face in faces)


def test_dashes_lie_where_the_block_would_be_seen_if_nothing_hid_it():
    """The block and the wedge of a clamp in dashes have the outlines of one that is seen."""
    solid = [m.rings[0] for m in pressing((10.0, 20.0), (0.6, 0.8), ink="colour") if isinstance(m, Fill)]
    dashed = [
        m.points for m in hidden((10.0, 20.0), (0.6, 0.8), ink="colour") if isinstance(m, Stroke) and m.pen.dashes
    ]
    assert dashed == solid
    assert Polygon(dashed[1]).centroid.distance(Point(10, 20)) < 1e-9
    assert Polygon(dashed[1]).area == pytest.approx(BLOCK[0] * BLOCK[1])


def test_a_block_beside_a_narrow_slot_does_not_lie_over_it(bench):
    """A slot 6 mm wide and 40 mm high, 2.4 mm by 16 mm at a scale of 0.4; the clamp presses 3 mm above it."""
    board = block((0, 0, 0), (200, 20, 100)).minus(block((97, -1, 30), (103, 21, 70)))
    cue = Cue("clamp", ((100.0, -40.0, 73.0), (100.0, 0.0, 73.0)), "board")
    event = bench.event("glue up", "front", [Shown(bench.piece("board", board), "worked")], [cue])
    picture = step_picture(bench.timeline(), event, 98, 64, scale=0.4)
    (ring,) = blocks_of(picture)
    fronts = [even_odd([mark.rings]) for mark in picture.of_layer("face")]
    assert any(face.contains(Polygon(ring).buffer(0.3)) for face in fronts)


def pair(tip, other):
    """Both ends of a clamp that presses the board between two places, from the front and from behind."""
    return [
        Cue("clamp", ((*tip[:1], tip[1] - 40.0, tip[2]), tip), "board"),
        Cue("clamp", ((*other[:1], other[1] + 40.0, other[2]), other), "board"),
    ]


def turns(picture):
    """How far the blocks are turned, whether they are seen or not, degrees."""
    dashed = [
        m.points for m in picture.of_layer(UNSEEN) if isinstance(m, Stroke) and m.pen.dashes and len(m.points) == 4
    ]
    rings = [*blocks_of(picture), *dashed]
    return [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) % 180 for a, b, *_ in rings]


def test_both_ends_of_a_clamp_and_all_clamps_beside_it_are_turned_alike(bench):
    """Two clamps on a low strip and one on a high board: on the strip a block has room only along it."""
    board = joined((block((0, 0, 0), (200, 20, 9)), block((140, 0, 0), (200, 20, 120))))
    clamps = [pair((x, 0.0, z), (x, 20.0, z)) for x, z in ((40.0, 4.5), (90.0, 4.5), (170.0, 60.0))]
    event = bench.event(
        "glue up", "front", [Shown(bench.piece("board", board), "worked")], [c for each in clamps for c in each]
    )
    found = turns(step_picture(bench.timeline(), event, 98, 64, scale=0.4))
    assert len(found) == 6
    assert max(found) - min(found) < 0.01


def test_a_clamp_is_moved_up_to_have_room_but_not_to_where_its_wood_is_hollow(bench):
    """1 mm above the bottom of a block, and of a box with a floor 2.5 mm thick, which pressed higher up would bend."""
    whole = block((0, 0, 0), (120, 80, 100))
    ends = [Cue("clamp", ((x + far, 40.0, 1.0), (x, 40.0, 1.0)), "board") for x, far in ((120.0, 40.0), (0.0, -40.0))]
    heights = []
    for board in (whole, whole.minus(block((8, 8, 2.5), (112, 72, 101)))):
        event = bench.event("shim", "front", [Shown(bench.piece("board", board), "worked")], ends)
        picture = step_picture(bench.timeline(), event, 98, 64, scale=0.4)
        (ring,) = blocks_of(picture)
        heights.append(max(mark.rings[0][0][1] for mark in picture.of_layer("face")) - Polygon(ring).centroid.y)
    assert heights[0] - heights[1] > 0.3


@pytest.mark.parametrize(("apart", "long"), [(60.0, 4.0), (18.0, 2.8)])
def test_clamps_that_stand_close_are_drawn_smaller(bench, apart, long):
    """At a scale of 0.4, 24 and 7.2 mm from one another."""
    clamps = [pair((x, 0.0, 50.0), (x, 20.0, 50.0))[0] for x in (60.0, 60.0 + apart)]
    board = bench.piece("board", block((0, 0, 0), (200, 20, 100)))
    event = bench.event("glue up", "front", [Shown(board, "worked")], clamps)
    rings = blocks_of(step_picture(bench.timeline(), event, 98, 64, scale=0.4))
    assert [math.dist(ring[0], ring[1]) for ring in rings] == pytest.approx([long, long])


@pytest.mark.parametrize(
    ("tip", "tail", "told"),
    [
        ((50.0, 20.0, 30.0), (50.0, 60.0, 30.0), ["Ends of clamps in dashes, out of sight: back."]),
        ((50.0, 10.0, 0.0), (50.0, 10.0, -40.0), ["Ends of clamps in dashes, out of sight: bottom."]),
        ((50.0, 0.0, 30.0), (50.0, -40.0, 30.0), []),
    ],
)
def test_the_side_of_an_end_in_dashes_is_told_below_the_picture(bench, tip, tail, told):
    shown = [Shown(bench.piece("board", BOARD), "worked")]
    event = bench.event("glue up", "front", shown, [Cue("clamp", (tail, tip), "board")])
    picture = step_picture(bench.timeline(), event, 98, 64)
    assert [mark.text for mark in picture.of_layer("also")] == told


def test_a_clamp_whose_line_would_fall_on_that_of_another_stands_aside(bench):
    """From the front, right and above, places as much higher as they are farther right lie on a way back, 30 degrees
    aslant. The ends behind are hidden, so that both lines would be one. They are less than 9.5 mm apart, and drawn smaller.
    """
    board = block((0, 0, 0), (120, 60, 100))
    clamps = [cue for at in (30.0, 60.0) for cue in pair((at, 0.0, at), (at, 60.0, at))]
    event = bench.event("glue up", "front", [Shown(bench.piece("board", board), "worked")], clamps)
    one, two = (Polygon(ring).centroid for ring in blocks_of(step_picture(bench.timeline(), event, 98, 64, scale=0.4)))
    aside = (two.x - one.x) * math.sin(math.radians(30)) + (two.y - one.y) * math.cos(math.radians(30))
    assert 1.7 < abs(aside) < 3.0
