"""What the rules measure, against published figures and against shapes that can be worked out by hand."""

import math
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from planbook.handbook import blade, limit, limits
from planbook.model import Expr, Tool
from planbook.review.bends import Run, corners, curves
from planbook.review.grits import left_out
from planbook.review.heights import teeth
from planbook.review.strands import _strands
from planbook.review.swallowed import goes_into_cylinder
from planbook.solids import Area, Frame, Solid
from planbook.solids.plane import box, circle
from planbook.solids.solid import block, cylinder
from planbook.text import Place
from planbook.workshop import Timeline

PLACE = Place("design.toml", 1, 1, 1)
UPRIGHT = Frame((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def _ring(area: Area) -> Run:
    return Run("rim", area.rings[0], True)


def _saw(teeth_per_inch: float | None) -> Tool:
    none: Expr | None = None
    return Tool("saw", "band saw", none, None, none, none, none, "", PLACE, none, teeth_per_inch)


@pytest.mark.parametrize("radius", [2.0, 5.0, 9.0, 25.0, 120.0])
def test_the_radius_of_a_circle_is_found_from_its_chords(radius: float) -> None:
    (bend,) = curves(_ring(circle((30.0, 20.0), radius)), 1000.0)
    assert bend.radius == pytest.approx(radius, rel=0.002)
    assert bend.turn == pytest.approx(2 * math.pi, rel=1e-6)


def test_the_corners_of_a_rounded_box_are_four_quarter_circles() -> None:
    found = list(curves(_ring(box(0.0, 0.0, 80.0, 50.0, 6.0)), 7.0))
    # The two ends of each arc, where it meets a straight side, count as straighter than the arc.
    assert len(found) == 4
    assert all(bend.radius == pytest.approx(6.0, rel=0.002) for bend in found)
    assert list(corners(_ring(box(0.0, 0.0, 80.0, 50.0, 6.0)))) == []


def test_a_square_has_four_corners_and_no_curve() -> None:
    square = _ring(box(0.0, 0.0, 80.0, 50.0))
    assert sorted(bend.at for bend in corners(square)) == [(0.0, 0.0), (0.0, 50.0), (80.0, 0.0), (80.0, 50.0)]
    assert all(bend.turn == pytest.approx(math.pi / 2) for bend in corners(square))
    assert list(curves(square, 1000.0)) == []


# Teeth per inch for a thickness, in inches: a published guide for wood, with 3 to 24 teeth in the cut (three-tooth rule).
GUIDE = [("1/2", 10), ("1", 6), ("2", 3), ("4", 2), ("8", 1.5)]


@pytest.mark.parametrize(("inches", "per_inch"), GUIDE)
def test_the_published_guide_keeps_the_three_tooth_rule(inches: str, per_inch: float) -> None:
    count = teeth(_saw(per_inch), float(Fraction(inches)) * 25.4)
    assert count is not None
    assert limit("teeth in the wood, least") <= count <= limit("teeth in the wood, most")


def test_teeth_worked_out_by_hand() -> None:
    # A band of 6 teeth per inch in 1/4 in of wood has 1.5 teeth in it; one of 14 in 4 in has 56.
    assert teeth(_saw(6), 6.35) == pytest.approx(1.5)
    assert teeth(_saw(14), 101.6) == pytest.approx(56)
    assert teeth(_saw(None), 100) is None


@pytest.mark.parametrize(
    ("solid", "swallowed"),
    [
        (block((0, 0, 0), (20, 20, 30)), True),  # 28.3 mm from corner to corner
        (block((0, 0, 0), (24, 24, 24)), False),  # a cube of 24 mm: 33.9 mm from corner to corner
        (block((0, 0, 0), (22, 22, 22)), True),  # 31.1 mm
        (cylinder(UPRIGHT, (0, 0), 15.5, 0, 25), True),  # a disc of 31 mm, less than the shallow side is deep
        (cylinder(UPRIGHT, (0, 0), 16.2, 0, 10), False),  # a disc of 32.4 mm goes in neither flat nor on edge
        (cylinder(UPRIGHT, (0, 0), 15.5, 0, 40), False),  # as wide as the cylinder, and deeper than its shallow side
        (cylinder(UPRIGHT, (0, 0), 3.0, 0, 48), True),  # a pin stands in the deep side
        (cylinder(UPRIGHT, (0, 0), 3.0, 0, 62), False),  # longer than the deep side
        (block((0, 0, 0), (8, 30, 50)), False),  # a domino: it stands askew in the slope
        (block((0, 0, 0), (4, 12, 45)), True),
    ],
)
def test_the_small_parts_cylinder(solid: Solid, swallowed: bool) -> None:
    # 16 CFR 1501.4: 1.25 in across, 1 to 2.25 in deep.
    assert goes_into_cylinder(solid) is swallowed


def test_a_part_goes_into_the_cylinder_whichever_way_it_lies() -> None:
    pin = cylinder(UPRIGHT, (0, 0), 3.0, 0, 48)
    assert goes_into_cylinder(pin.turned((1.0, 0.0, 0.0), 33.0).turned((0.0, 0.0, 1.0), 57.0))


def test_the_cylinder_is_that_of_the_rule_in_inches() -> None:
    inches = {"diameter": 1.25, "least depth": 1.0, "most depth": 2.25}
    for what, size in inches.items():
        assert limit(f"small parts cylinder, {what}") == pytest.approx(size * 25.4, abs=0.06)


def test_a_strand_across_the_grain_is_measured() -> None:
    frame = box(0, 0, 100, 60).minus(box(4, 10, 80, 40))
    (found,) = _strands(frame, 6.0)
    wide, long, (u, v) = found
    assert wide == pytest.approx(4)
    assert long == pytest.approx(40, abs=2)
    assert (u, v) == pytest.approx((2, 30), abs=2)
    assert list(_strands(frame.turned(90), 6.0)) == []


def test_a_round_part_and_a_feather_edge_have_no_strands() -> None:
    assert list(_strands(circle((0.0, 0.0), 40.0), 6.0)) == []
    assert list(_strands(Area.of([(0.0, 0.0), (12.0, 0.0), (0.0, 60.0)]), 6.0)) == []


def test_a_neck_between_two_wide_parts_is_a_strand() -> None:
    neck = box(0, 0, 40, 20).plus(box(0, 20, 5, 30), box(0, 50, 40, 20))
    (found,) = _strands(neck, 6.0)
    assert found[0] == pytest.approx(5)
    assert found[1] == pytest.approx(30, abs=2)


def test_a_short_neck_is_a_strand_where_wood_hangs_on_it() -> None:
    waist = box(0, 0, 20, 40).minus(circle((0.0, 20.0), 9.0).plus(circle((20.0, 20.0), 9.0)))
    (found,) = _strands(waist, 6.0)
    assert found[0] == pytest.approx(2, abs=0.1)
    # It is narrower than 6 mm as far as both circles are 7 mm deep: sqrt(9² - 7²) up and down.
    assert found[1] == pytest.approx(2 * math.sqrt(9**2 - 7**2), abs=2)
    assert found[2] == pytest.approx((10, 20), abs=1)
    wider = box(0, 0, 20, 40).minus(circle((0.0, 20.0), 8.0).plus(circle((20.0, 20.0), 8.0)))
    assert list(_strands(wider, 6.0)) == []
    # Beside a hole nothing hangs on the thin wall alone.
    assert list(_strands(box(0, 0, 60, 40).minus(circle((10.0, 20.0), 8.0)), 6.0)) == []


def test_grits_between_two_of_the_fepa_series() -> None:
    # FEPA P series (ISO 6344): P80, P100, P120, P150, P180.
    assert left_out(80, 180) == [100, 120, 150]
    assert left_out(120, 180) == [150]
    assert left_out(150, 180) == []


def test_every_limit_is_positive_and_says_what_it_counts() -> None:
    for row in limits().values():
        assert row.value > 0
        assert row.unit
    with pytest.raises(KeyError):
        limit("no such limit")


def test_the_box_is_sawn_with_a_blade_that_a_published_table_allows(as_built: Callable[[], Timeline]) -> None:
    from planbook.review.cuts import least_radius

    timeline = as_built()
    row = blade("band saw 3/16 in")
    least = least_radius(timeline.design.tools["narrow blade"], timeline)
    assert least is not None
    assert row is not None
    # The drawers' corners are 9 mm, the middle of the kerf inside them 8.45 mm; a published table allows 5/16 in.
    assert 0.8 * least < 8.45
    assert float(row.least_radius_mm or 0) < 8.45


@pytest.fixture
def as_built() -> Callable[[], Timeline]:
    from planbook.reader import read_design
    from planbook.workshop.run import build

    def build_it() -> Timeline:
        design = read_design(Path(__file__).parents[2] / "designs" / "curlew-box").design
        assert design is not None
        return build(design)

    return build_it
