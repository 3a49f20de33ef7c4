"""Blades: the least radius a band follows, against the published tables."""

from fractions import Fraction

import pytest

from planbook.handbook import blade, blades, least_radius_mm

# Blade width and least radius in inches: published radius tables of band-saw makers and the trade press.
PUBLISHED = {
    "1/8": "3/16",
    "3/16": "5/16",
    "1/4": "5/8",
    "3/8": "11/8",
    "1/2": "5/2",
    "5/8": "4",
    "3/4": "11/2",
}


@pytest.mark.parametrize("width", PUBLISHED)
def test_the_formula_is_within_a_fifth_of_the_published_radius(width: str) -> None:
    radius_mm = float(Fraction(PUBLISHED[width])) * 25.4
    row = blade(f"band saw {width} in")
    assert row is not None
    assert row.width_mm is not None
    assert row.least_radius_mm is not None
    computed = least_radius_mm(float(row.width_mm), float(row.kerf_mm), float(row.body_mm))
    assert computed == pytest.approx(radius_mm, rel=0.2)
    assert float(row.least_radius_mm) == pytest.approx(radius_mm, rel=0.1)


def test_a_quarter_inch_blade_with_25_thousandths_of_set() -> None:
    # 10 w^2 in inches: 0.25 in -> 0.625 in.
    assert least_radius_mm(6.35, 1.27, 0.635) == pytest.approx(0.625 * 25.4)


def test_a_straight_chord_fits_the_kerf_at_the_least_radius() -> None:
    radius = least_radius_mm(12, 1.2, 0.6)
    sagitta = 12**2 / (8 * radius)
    assert sagitta == pytest.approx((1.2 - 0.6) / 2)


@pytest.mark.parametrize(
    ("width", "kerf", "body"), [(6, 0.6, 0.6), (6, 0.5, 0.6), (0, 1, 0.6), (6, 1, 0), (-1, 1, 0.5)]
)
def test_a_blade_that_cannot_be_is_refused(width: float, kerf: float, body: float) -> None:
    with pytest.raises(ValueError, match="kerf wider than its body"):
        least_radius_mm(width, kerf, body)


def test_every_blade_is_thinner_than_the_cut_it_makes() -> None:
    for row in blades().values():
        assert 0 < row.body_mm < row.kerf_min_mm <= row.kerf_mm <= row.kerf_max_mm, row.name


def test_wider_bands_turn_wider_curves() -> None:
    bands = [row for row in blades().values() if row.kind == "band saw"]
    assert len(bands) == 9
    radii = [row.least_radius_mm for row in bands if row.least_radius_mm is not None]
    assert radii == sorted(set(radii))
    assert len(radii) == 9


def test_there_are_blades_of_every_kind() -> None:
    assert {row.kind for row in blades().values()} == {"band saw", "scroll saw", "table saw", "hand saw"}
    full, thin = blade("full kerf"), blade("thin kerf")
    assert full is not None
    assert thin is not None
    # Common practice: 1/8 in full, 3/32 in thin.
    assert (full.kerf_mm, thin.kerf_mm) == (Fraction("3.175"), Fraction("2.38125"))
