"""Where clamps press on what is glued: over its joints, with wood around the foot; sizes by hand."""

import pytest
from shapely.geometry import Point, Polygon, box

from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece, Shown
from planbook.workshop.clamping import AMPLE, clamped
from planbook.workshop.mating import contacts

BACK, TOP, RIGHT = (FACE_FRAMES[face] for face in ("back", "top", "right"))
BOARD = block((0, 40, 0), (200, 60, 100))
Tip = tuple[float, float, float]


def tips(*solids: Solid, frame=BACK) -> list[tuple[Tip, Tip]]:
    """Where the two arrows of each clamp end, on pieces that touch or not, mm."""
    place = At(1, 1, Place("steps.md"))
    shown = [Shown(Piece(f"piece {n}", solid, (), place), "worked") for n, solid in enumerate(solids)]
    ends = [cue.points[-1] for cue in clamped(shown, frame, contacts(solids, frame))]
    return list(zip(ends[::2], ends[1::2], strict=True))


def spots(*solids: Solid) -> list[tuple[float, float]]:
    """The same in the plane across the axis, x and z; both ends press at the same one."""
    found = tips(*solids)
    assert all((x, z) == pytest.approx((u, w)) for (x, _, z), (u, _, w) in found)
    return [(x, z) for (x, _, z), _ in found]


def opened(*holes: tuple[float, float, float, float]) -> tuple[Solid, Polygon]:
    """A plate with holes from left, low to right, high; and the same by itself in the plane."""
    solid, flat = block((0, 0, 0), (200, 20, 100)), box(0, 0, 200, 100)
    for x, z, u, v in holes:
        solid, flat = solid.minus(block((x, -1, z), (u, 21, v))), flat.difference(box(x, z, u, v))
    return solid, flat


@pytest.mark.parametrize("far", [0.0, 20.0])
def test_a_foot_stands_clear_of_an_opening_whether_the_pieces_touch_or_not(far):
    """With the opening at 50 to 92 mm, the largest circle has its middle in the 108 mm to its right: radius 50."""
    solid, flat = opened((50, 20, 92, 80))
    found = spots(solid, BOARD.moved((0, far - 20, 0)))
    assert any(flat.contains(Point(spot).buffer(AMPLE * 50 - 0.1)) for spot in found)
    assert all(flat.contains(Point(spot).buffer(20)) for spot in found)


def test_a_foot_stays_in_the_middle_of_a_joint_where_there_is_room():
    (spot,) = spots(block((0, 0, 0), (120, 20, 100)), BOARD)
    assert spot == pytest.approx((60, 50))


def test_a_broad_joint_is_pressed_in_the_middle_of_each_of_its_halves():
    """200 mm by 100 mm: clamps stand 100 mm apart, 50 mm from the edges."""
    assert sorted(spots(block((0, 0, 0), (200, 20, 100)), BOARD)) == [(50, 50), (150, 50)]


def test_a_frame_too_narrow_for_a_foot_is_pressed_at_both_ends_and_its_long_sides_half_way_across_its_wood():
    """The middles of the sides are 100 mm from the ends; walls carry 75 mm."""
    solid, flat = opened((12, 12, 188, 88))
    left, *sides, right = sorted(spots(solid, BOARD))
    assert left[0] < 70 < 130 < right[0]
    assert sides == [pytest.approx((100, z), abs=1) for z in (6, 94)]
    for spot in (left, *sides, right):
        assert flat.boundary.distance(Point(spot)) == pytest.approx(6, abs=1)


def test_pieces_of_which_none_lies_over_the_other_are_pressed_each_by_itself():
    ((front, back),) = tips(block((0, 0, 0), (50, 20, 100)), block((60, 20, 0), (110, 40, 100)))
    assert front == pytest.approx((25, 0, 50))
    assert back == pytest.approx((85, 40, 50))


def test_a_clamp_stands_over_each_of_two_joints_though_the_feet_below_are_elsewhere():
    """A seat on two panels which stand on feet at their corners: over the panels, not over the corners that touch."""
    legs = [block((x, 0, 0), (x + 18, 250, 200)).minus(block((x - 1, 30, -1), (x + 19, 220, 120))) for x in (30, 350)]
    rails = [block((48, y, 130), (350, y + 18, 200)) for y in (60, 170)]
    frame = legs[0].plus(legs[1], *rails)
    every = sorted(tips(frame, block((0, 0, 200), (400, 250, 218)), frame=TOP))
    # And where that leaves the rails 155 mm away, over the middle of each.
    assert [low for low, _ in every[1:3]] == [pytest.approx((199, y, 130), abs=1) for y in (69, 179)]
    found = [every[0], every[-1]]
    assert [low[0] for low, _ in found] == pytest.approx([39, 359], abs=3)
    for low, high in found:
        # Under the arch of a panel, which begins 120 mm up, and on the seat.
        assert (low[2], high[2]) == pytest.approx((120, 218), abs=0.1)
        assert 30 < low[1] < 220


def test_a_rail_ends_clamps_over_its_joints_on_the_outer_faces():
    left, right = block((0, 0, 0), (20, 150, 500)), block((420, 0, 0), (440, 150, 500))
    shelves = [block((20, 0, z), (420, 150, z + 18)) for z in (90, 400)]
    found = sorted(tips(left, *shelves, right, frame=RIGHT), key=lambda pair: pair[0][2])
    assert [pair[0] for pair in found] == [pytest.approx((0, 75, 99)), pytest.approx((0, 75, 409))]
    assert [pair[1] for pair in found] == [pytest.approx((440, 75, 99)), pytest.approx((440, 75, 409))]


def test_a_plate_on_a_hollow_box_is_pressed_over_its_walls():
    """A box of 200 by 100 mm with a floor of 8 mm right behind the plate; its walls are 10 mm thick."""
    box_of = block((0, 20, 0), (200, 80, 100)).minus(block((10, 28, 10), (190, 81, 90)))
    found = sorted(spots(block((0, 0, 0), (200, 20, 100)), box_of, block((0, 80, 0), (200, 90, 100))))
    walls = box(0, 0, 200, 100).difference(box(10, 10, 190, 90))
    assert len(found) == 4
    assert found[0][0] < 70 < 130 < found[-1][0]
    assert all(walls.contains(Point(spot).buffer(4)) for spot in found)


def test_an_end_that_a_mouth_divides_is_pressed_on_both_sides_of_it():
    """A plate of 220 by 120 mm on a ring with a mouth 90 mm deep in its left end, 40 mm high, and a hollow at its right.

    The arms beside the mouth are 40 mm wide: their middles are at 20 and 100 mm. One clamp stands at the right end, and
    one on each of the walls beside the hollow, which are 20 mm wide: along the wood they are farther than 75 mm from
    both ends.
    """
    plate = block((0, 0, 0), (220, 20, 120))
    ring = block((0, 20, 0), (220, 60, 120)).minus(
        block((-1, 19, 40), (90, 61, 80)), block((110, 19, 20), (204, 61, 100))
    )
    low, high, *walls, right = sorted(spots(plate, ring), key=lambda spot: (spot[0] // 100, spot[1]))
    assert [z for _, z in walls] == pytest.approx([10, 110], abs=1)
    assert all(129 - 10 < x < 160 + 10 for x, _ in walls)
    assert [low[1], high[1]] == pytest.approx([20, 100], abs=6)
    assert all(x < 90 for x, _ in (low, high))
    assert right[0] > 200


def test_the_crown_and_the_sides_of_an_arch_are_pressed_as_well_as_the_two_ends_of_its_foot():
    """An arch 12 mm wide and 150 mm high on a foot of 200 by 20 mm, all between two plates; 75 mm is the farthest.

    From the crown that is as far as the corners, from the foot half way up the sides.
    """
    plates = [block((0, y, 0), (200, y + 10, 150)) for y in (0, 50)]
    arch = block((0, 10, 0), (200, 50, 150)).minus(block((12, 9, 20), (188, 51, 138)))
    left, right, one, other, crown = sorted(
        spots(plates[0], arch, plates[1]), key=lambda spot: (spot[1] // 20, spot[0])
    )
    assert [one[0], other[0]] == pytest.approx([6, 194], abs=1)
    assert all(90 < z < 138 for _, z in (one, other))
    assert crown == pytest.approx((100, 144), abs=1)
    assert [z < 20 for _, z in (left, right)] == [True, True]


def test_a_wall_below_an_opening_is_pressed_though_a_clamp_above_it_is_near():
    """Straight down it is 70 mm from the clamp on the 60 mm above the opening to the wall of 10 mm; along wood, 150.

    To the lower corners it is more than 75 mm from all of these.
    """
    solid, _ = opened((15, 10, 185, 60))
    found = spots(solid.plus(block((0, 0, 100), (200, 20, 120))), block((0, 20, 0), (200, 40, 120)))
    assert any(z < 10 for _, z in found)
    above, corners = [x for x, z in found if z > 60], [x for x, z in found if 10 < z < 60]
    assert len(above) == 2
    assert sorted(corners) == pytest.approx([7.5, 192.5], abs=1)


def test_a_wide_and_broad_joint_is_pressed_in_two_rows():
    """210 mm by 160 mm: the middles of its quarters."""
    plates = [block((0, y, 0), (210, y + 20, 160)) for y in (0, 20)]
    assert sorted(spots(*plates)) == [(52.5, 40), (52.5, 120), (157.5, 40), (157.5, 120)]
