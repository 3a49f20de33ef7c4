"""Lines along the edges of a face: what is left of them is what geometry says by hand."""

import pytest

from planbook.solids import Path
from planbook.solids.idle import LEAST, over_wood, worked
from planbook.solids.plane import box, circle

FACE = box(0, 0, 100, 60)


def line(*points) -> list[Path]:
    return [Path(points)]


def test_what_runs_along_an_edge_is_left_out():
    """An arch on the whole width of a board: its feet and its floor are the edges of the board."""
    (kept,) = worked(line((0, 0), (100, 0), (100, 20), (50, 55), (0, 20), (0, 0)), FACE)
    left, right = sorted((kept.points[0], kept.points[-1]))
    assert (*left, *right) == pytest.approx((0, 20, 100, 20), abs=0.1)
    assert kept.length == pytest.approx(2 * (50**2 + 35**2) ** 0.5, abs=0.1)


def test_a_line_over_the_mouth_of_a_housing_is_left_out_too():
    housed = FACE.minus(box(40, 50, 20, 20))
    runs = worked(line((10, 30), (10, 60), (90, 60), (90, 30)), housed)
    assert sum(run.length for run in runs) == pytest.approx(60, abs=0.2)


def test_where_a_blade_takes_wood_beside_the_edge_the_line_stays():
    runs = line((0, 30), (100, 30), (100, 60))
    assert sum(run.length for run in worked(runs, FACE)) == pytest.approx(100, abs=0.1)
    inside = box(98, 30, 2, 30)
    assert sum(run.length for run in worked(runs, FACE, inside)) == pytest.approx(130, abs=0.1)
    beyond = box(100, 30, 2, 30)
    assert sum(run.length for run in worked(runs, FACE, beyond)) == pytest.approx(100, abs=0.1)


def test_lines_that_are_all_edge_or_nowhere_near_one_stay_as_they_are():
    around = line((0, 0), (100, 0), (100, 60), (0, 60), (0, 0))
    assert worked(around, FACE) == tuple(around)
    within = [Path(circle((50, 30), 10).rings[0])]
    assert worked(within, FACE) == tuple(within)
    crossing = line((50, -5), (50, LEAST / 2))
    assert worked(crossing, FACE) == tuple(crossing)


def test_a_line_that_is_closed_in_the_air_ends_beside_the_edge_of_its_wood():
    """A loop 40 mm wide that goes 20 mm above the face: 2 sides of 30 mm and a floor, and a little of run-out."""
    loop = line((50, 30), (70, 30), (70, 80), (30, 80), (30, 30), (50, 30))
    (kept,) = over_wood(loop, FACE, 3.0)
    assert kept.length == pytest.approx(40 + 2 * (30 + 3), abs=1e-6)
    assert {round(y) for _, y in (kept.points[0], kept.points[-1])} == {63}


def test_a_line_goes_on_over_a_housing_and_stays_whole_where_it_lies_on_the_wood():
    housed = FACE.minus(box(40, -1, 20, 62))
    across = line((10, 30), (90, 30))
    assert over_wood(across, housed, 0.5) == tuple(across)
    ring = [Path((*circle((50, 30), 20).rings[0], circle((50, 30), 20).rings[0][0]))]
    assert over_wood(ring, FACE, 0.5) == tuple(ring)
    above = line((0, 90), (10, 90))
    assert over_wood(above, FACE, 3.0) == tuple(above), "nowhere on the wood"
