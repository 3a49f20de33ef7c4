"""Where solids come nearest, against points that are known."""

import pytest

from planbook.solids.nearest import meeting_point
from planbook.solids.solid import block


def test_a_corner_over_a_face() -> None:
    """A cube on its point over a plate: the point is half way under it."""
    plate = block((0, 0, 0), (100, 100, 10))
    cube = block((0, 0, 0), (10, 10, 10)).turned((0, 0, 1), 45).turned((1, 0, 0), 35.26438968).moved((50, 50, 40))
    low = cube.bounds[0][2]
    x, y, z = meeting_point(plate, cube, low - 10)
    assert z == pytest.approx((low + 10) / 2, abs=1e-6)
    tip = min(cube.mesh[0].tolist(), key=lambda corner: corner[2])
    assert (x, y) == pytest.approx(tip[:2], abs=1e-6)


def test_two_edges_that_cross() -> None:
    """Two bars turned onto their edges, one along x and one along y, 3 mm apart."""
    along = block((-50, -5, -5), (50, 5, 5)).turned((1, 0, 0), 45)
    across = block((-5, -50, -5), (5, 50, 5)).turned((0, 1, 0), 45)
    across = across.moved((7, 0, along.bounds[1][2] - across.bounds[0][2] + 3))
    x, y, z = meeting_point(along, across, 3.0)
    assert (x, y, z) == pytest.approx((7, 0, along.bounds[1][2] + 1.5), abs=1e-6)


def test_the_middle_of_an_overlap() -> None:
    assert meeting_point(block((0, 0, 0), (10, 10, 10)), block((8, 0, 0), (20, 10, 10)), 0.0) == pytest.approx(
        (9, 5, 5)
    )


def test_a_flat_face_and_not_the_knob_on_it() -> None:
    front = block((0, 0, 0), (80, 10, 40)).plus(block((35, -15, 15), (45, 0, 25)))
    assert front.flat((0, -1, 0)) == pytest.approx(0)
    assert front.reach((0, -1, 0)) == pytest.approx(15)
    assert block((0, 0, 0), (10, 10, 10)).turned((0, 0, 1), 30).flat((0, -1, 0)) is None
