from dataclasses import replace
from fractions import Fraction

import pytest

from planbook.booklet import Edition
from planbook.booklet.editions import STYLES, Units, times
from planbook.drawing.piece_figures import figure
from planbook.units import INCH_32, INCH_64, Quantity, in_metric


@pytest.mark.parametrize(
    ("paper", "size"),
    [("a4", (210.0, 297.0)), ("letter", (215.9, 279.4))],
)
def test_the_sheet_is_that_of_the_standard(paper: str, size: tuple[float, float]) -> None:
    """ISO 216:2007: A4 is 210 x 297 mm. ASME Y14.1 size A: 8.5 x 11 in."""
    sheet = Edition(paper).sheet  # type: ignore[arg-type]
    assert (sheet.width, sheet.height) == size


def test_lengths_are_printed_in_the_units_of_the_edition() -> None:
    assert Edition(units="in").length(Fraction("88.9")) == "3 1/2 in"
    assert Edition(units="mm").length(Fraction("88.9")) == "88.9 mm"
    assert Edition(units="in", lengths=INCH_64).length(Fraction("25.4") / 64) == "1/64 in"


def test_a_kerf_is_not_rounded_to_a_fraction() -> None:
    assert Edition(units="in").length(Fraction("1.1")) == "0.043 in"
    assert Edition(units="mm").length(Fraction("0.55")) == "0.55 mm"


def test_a_size_has_its_unit_once() -> None:
    assert Edition(units="in").box(Fraction("88.9"), Fraction("50.8"), Fraction("19.05")) == "3 1/2 × 2 × 3/4 in"
    assert Edition("a4", "mm").box(90, 40, 19.5) == "90 × 40 × 19.5 mm"


def test_a_side_in_another_unit_stands_behind_the_unit_of_the_others() -> None:
    assert times(["48 in", "24 in", "3/4 in"], INCH_32) == "48 × 24 × 3/4 in"
    said = times(["48 in", "24 in", "18 mm (0.709\u00a0in)"], INCH_32)
    assert said.split(" ") == ["48\u00a0×\u00a024\u00a0in\u00a0×", "18", "mm\u00a0(0.709\u00a0in)"]


def test_a_gap_is_finer_than_a_ruler_shows() -> None:
    assert Edition(units="in").gap(0.4) == "0.016"
    assert Edition(units="mm").gap(0.4) == "0.40"


def test_the_title_and_other_quantities() -> None:
    assert Edition("a4", "mm").title == "A4, millimetres"
    assert Edition().quantity(Quantity(Fraction(45, 2), angle=1)) == "22.5°"


def test_a_sheet_sold_by_the_millimetre_is_told_alike_in_all_lists_and_briefly_on_drawings() -> None:
    rail, sheet = (Fraction("357.1875"), Fraction("76.2"), Fraction(18)), Fraction(18)
    inches, both = (Edition(units=units, lengths=in_metric(STYLES[units], (sheet,))) for units in ("in", "both"))
    assert inches.box(*rail).replace("\u00a0", " ") == "14 1/16 × 3 in × 18 mm (0.709 in)"
    assert inches.length(sheet) == "18 mm (0.709\u00a0in)"
    assert both.length(sheet) == "18 mm (0.709 in)"
    assert figure(18.0, inches.drawn_style) == "18 mm"
    assert figure(18.0, both.drawn_style) == "18"


@pytest.mark.parametrize("mm", [3.2, 19.05, 29.75, 49.05, 49.07, 449.05, 20.5, 357.1875])
@pytest.mark.parametrize("units", ["mm", "in", "in-decimal"])
def test_a_figure_of_a_drawing_is_that_of_the_lists(mm: float, units: Units) -> None:
    edition = Edition(units=units)
    assert figure(mm, edition.drawn_style) == edition.length(Fraction(mm)).removesuffix(f" {edition.system}")


def test_a_clearance_that_is_rounded_for_a_sum_is_told_alike_where_it_is_proved() -> None:
    """By hand: 0.65 mm is 0.0256 in; with the 0.020 in of 0.5 mm it is the 0.045 in of 1.15 mm as 0.025 in."""
    plain = Edition("letter", "in")
    summed = replace(plain, lengths=replace(INCH_32, fixed=((Fraction("0.65"), Fraction(25, 1000)),)))
    assert (plain.gap(0.65), summed.gap(0.65), summed.gap(0.61)) == ("0.026", "0.025", "0.024")
