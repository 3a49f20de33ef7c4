"""Board feet, lumber and sheet sizes against published examples."""

from fractions import Fraction

import pytest

from planbook.handbook import (
    BOARD_FOOT_MM3,
    INCH_MM,
    board_feet,
    board_feet_nominal,
    lumber_size,
    lumber_sizes,
    sheet_size,
)


def inches(value: str) -> Fraction:
    return Fraction(value) * Fraction(127, 5)


def test_a_board_foot_is_exact() -> None:
    # 144 x 25.4^3 mm3, from the international inch of 1959.
    assert Fraction("2359737.216") == BOARD_FOOT_MM3
    assert board_feet(INCH_MM, 12 * INCH_MM, 12 * INCH_MM) == 1


@pytest.mark.parametrize(
    ("thickness", "width", "length", "feet"),
    # Worked examples as printed by lumber merchants; 5/4 counts 1.25 times the 4/4 figure.
    [
        ("1", "6", "96", 4),
        ("3", "8", "120", 20),
        ("2", "6", "144", 12),
        ("1", "3", "96", 2),
        ("5/4", "6", "96", 5),
    ],
)
def test_board_feet_examples(thickness: str, width: str, length: str, feet: int) -> None:
    sizes = inches(thickness), inches(width), inches(length)
    assert board_feet(*sizes) == feet
    assert board_feet_nominal(*sizes) == feet


def test_thin_lumber_is_sold_as_one_inch() -> None:
    sizes = inches("3/4"), inches("6"), inches("96")
    assert board_feet(*sizes) == 3
    assert board_feet_nominal(*sizes) == 4


@pytest.mark.parametrize(
    ("name", "dressed"),
    [
        ("4/4", "13/16"),  # NHLA standard surfaced thickness
        ("5/4", "17/16"),
        ("6/4", "21/16"),
        ("8/4", "7/4"),
        ("12/4", "11/4"),
        ("16/4", "15/4"),
        ("1 thick", "3/4"),  # PS 20, dry dressed
        ("2 thick", "3/2"),
        ("4 wide", "7/2"),
        ("6 wide", "11/2"),
        ("8 wide", "29/4"),
        ("12 wide", "45/4"),
    ],
)
def test_dressed_sizes(name: str, dressed: str) -> None:
    row = lumber_size(name)
    assert row is not None
    assert row.dressed_mm == inches(dressed)


def test_dressing_always_takes_something_and_keeps_the_order() -> None:
    for kind in ("hardwood thickness", "softwood thickness", "softwood width"):
        rows = [row for row in lumber_sizes().values() if row.kind == kind]
        assert [row.nominal_mm for row in rows] == sorted(row.nominal_mm for row in rows)
        assert [row.dressed_mm for row in rows] == sorted({row.dressed_mm for row in rows})
        assert all(row.dressed_mm < row.nominal_mm for row in rows)
        assert all(row.dressed_mm < row.one_side_mm < row.nominal_mm for row in rows if row.one_side_mm)


def test_a_full_sheet_is_four_by_eight_feet() -> None:
    row = sheet_size("4x8")
    assert row is not None
    assert (row.width_mm, row.length_mm) == (inches("48"), inches("96"))
