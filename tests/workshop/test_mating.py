"""Where faces lie on one another, where clamps press on them and where glue goes; sizes by hand."""

import pytest

from planbook.solids import FACE_FRAMES, Area
from planbook.solids.solid import block
from planbook.workshop.clamping import spots
from planbook.workshop.mating import Contact, contacts
from planbook.workshop.wood_between import wood_between

RIGHT = FACE_FRAMES["right"]
WALL = block((0, 0, 0), (20, 200, 500))
"""As seen from the right: 200 wide and 500 high."""


def test_a_shelf_between_two_sides_touches_both_with_its_ends():
    left, shelf, right = (
        block((0, 0, 0), (20, 200, 500)),
        block((20, 0, 100), (620, 150, 118)),
        block((620, 0, 0), (640, 200, 500)),
    )
    found = contacts([left, right, shelf], RIGHT)
    assert [(c.below, c.above, c.level) for c in found] == [(0, 2, 20.0), (2, 1, 620.0)]
    assert [c.area.size for c in found] == [pytest.approx(150 * 18)] * 2


def test_shoulders_touch_and_the_tongue_in_its_slot_does_not_count():
    side = block((0, 0, 0), (20, 200, 300)).minus(block((-1, 80, 100), (21, 120, 140)))
    rail = block((20, 80, 80), (300, 120, 160))
    tongue = block((0, 80, 100), (20, 120, 140))
    (one,) = contacts([side, rail.plus(tongue)], RIGHT)
    assert one.level == 20.0
    assert one.area.size == pytest.approx(40 * 80 - 40 * 40)


def test_pieces_apart_or_side_by_side_do_not_touch():
    cube, beside, far = block((0, 0, 0), (10, 10, 10)), block((0, 10, 0), (10, 20, 10)), block((11, 0, 0), (20, 10, 10))
    assert contacts([cube, beside, far], RIGHT) == []


def rectangle(left, low, right, high):
    return Area.of([(left, low), (right, low), (right, high), (left, high)])


def at(*areas):
    return [Contact(0, 1, 20.0, area) for area in areas]


def over(*met, walls=(WALL, WALL)):
    """Where clamps press on two walls, each of one flat face, (u, v)."""
    faces = [wall.shadow(RIGHT) for wall in walls]
    found = spots(faces, walls, RIGHT, met, walls, wood_between(walls, RIGHT))
    assert all(one == two for one, two in found)
    return [one for one, _ in found]


def test_a_clamp_stands_over_each_of_two_shelves():
    found = over(*at(rectangle(0, 90, 150, 110), rectangle(0, 400, 150, 420)))
    assert sorted(found) == [pytest.approx((75, 100)), pytest.approx((75, 410))]


def test_what_lies_close_together_gets_one_clamp_and_a_small_joint_none():
    found = over(*at(rectangle(0, 90, 150, 110), rectangle(0, 130, 150, 150), rectangle(0, 480, 9, 490)))
    assert len(found) == 1
    assert 90 <= found[0][1] <= 150


def test_a_hollow_joint_is_pressed_at_both_ends_and_amid_the_wall_between_them():
    tray = rectangle(0, 0, 200, 100).minus(rectangle(10, 10, 190, 101))
    (u, _), (middle, low), (x, _) = found = sorted(over(*at(tray)))
    assert u < 50 < 150 < x
    assert (middle, low) == pytest.approx((100, 5), abs=1)
    assert all(tray.holds(spot) for spot in found)


@pytest.mark.parametrize(("long", "clamps"), [(240, [120]), (400, [100, 300])])
def test_a_long_edge_is_pressed_in_two_places(long, clamps):
    found = over(*at(rectangle(50, 0, 70, long)))
    assert [v for _, v in sorted(found)] == pytest.approx(clamps)
    assert {round(u) for u, _ in found} == {60}


def test_a_joint_of_parts_around_nothing_is_pressed_on_each_of_them_as_far_out_as_they_lie():
    parts = [(0, 0, 20, 200), (180, 0, 200, 200), (30, 30, 170, 50), (30, 150, 170, 170)]
    found = over(*at(*(rectangle(*part) for part in parts)))
    middles, ends = [each for each in found if 30 < each[1] < 170], [v for _, v in found if not 30 < v < 170]
    assert sorted(u for u, _ in middles) == pytest.approx([10, 100, 100, 190], abs=2)
    assert sorted(v for _, v in middles) == pytest.approx([40, 100, 100, 160], abs=2)
    # Corner to corner it measures 283 mm: its wood carries 85 mm, and the ends of the uprights are 100 mm away.
    assert sorted(ends) == pytest.approx([20, 20, 180, 180], abs=2)


def test_a_clamp_presses_through_all_joints_of_a_stack():
    """A runner, an arch that is open below, and a back: over the opening the runner would be bent."""
    whole, arch = rectangle(0, 0, 200, 150), rectangle(0, 0, 200, 150).minus(rectangle(15, -1, 185, 135))
    found = over(Contact(0, 1, 8.0, arch), Contact(1, 2, 90.0, arch), Contact(2, 3, 98.0, whole))
    *left, (crown, high), one, other = sorted(found)
    # From the feet to the crown it is 200 mm along wood that carries 75 mm: each side is pressed half way up as well.
    assert [u < 15 for u, _ in left] == [u > 185 for u, _ in (one, other)] == [True, True]
    assert all(sorted(v > 75 for _, v in side) == [False, True] for side in (left, (one, other)))
    assert (crown, high) == pytest.approx((100, 142.5), abs=1)
    assert all(arch.holds(spot) for spot in found)


def test_a_clamp_stands_on_wood_with_room_around_it():
    hollow = block((0, 0, 0), (20, 200, 300)).minus(block((-1, 20, 20), (21, 140, 280)))
    ring = hollow.shadow(RIGHT)
    found = over(*at(rectangle(0, 0, 200, 300)), walls=(WALL, hollow))
    assert found
    for spot in found:
        assert ring.distance_to_edge(spot) > 9
        assert ring.holds(spot)


def test_no_joint_and_no_wood_in_common_still_have_an_answer():
    aside = block((0, 300, 0), (20, 400, 10))
    # A wall of 200 by 500 mm is pressed in two rows, by hand at a quarter and at three quarters each way.
    assert sorted(over()) == [pytest.approx((u, v)) for u in (50, 150) for v in (125, 375)]
    for met in ([], at(rectangle(0, 0, 50, 50))):
        faces = [WALL.shadow(RIGHT), aside.shadow(RIGHT)]
        ((one, two),) = spots(faces, (WALL, aside), RIGHT, met, (WALL, aside), wood_between((WALL, aside), RIGHT))
        assert one == pytest.approx((100, 250))
        assert two == pytest.approx((350, 5))
