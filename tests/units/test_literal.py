"""Reading one written quantity: every accepted spelling, and the place of every mistake."""

import subprocess
import sys
from fractions import Fraction

import pytest

from planbook.units import MM_PER_INCH, Quantity, UnitProblem, read_length, read_quantity
from planbook.units.literal import read_literal

LENGTHS = {
    "3 1/2 in": Fraction("88.9"),
    '3-1/2"': Fraction("88.9"),
    '3 1/2"': Fraction("88.9"),
    "3.5 in": Fraction("88.9"),
    "3.5 inches": Fraction("88.9"),
    "3.5 in.": Fraction("88.9"),
    "3½ in": Fraction("88.9"),
    "3 ½″": Fraction("88.9"),
    "3-½”": Fraction("88.9"),
    "3 1⁄2 in": Fraction("88.9"),
    "½ in": Fraction("12.7"),
    "1/2 in": Fraction("12.7"),
    ".5 in": Fraction("12.7"),
    "1 inch": MM_PER_INCH,
    "1 IN": MM_PER_INCH,
    "1''": MM_PER_INCH,
    "90 mm": Fraction(90),
    "90mm": Fraction(90),
    "90\u00a0mm": Fraction(90),
    "90\u202fmm": Fraction(90),
    "  90 mm\n": Fraction(90),
    "9 cm": Fraction(90),
    "0.9 m": Fraction(900),
    "2 metres": Fraction(2000),
    "2 ft": Fraction("609.6"),
    "2 feet 3 inches": Fraction("685.8"),
    "2 ft 3 in": Fraction("685.8"),
    "2ft3in": Fraction("685.8"),
    "2' 3\"": Fraction("685.8"),
    "2′3″": Fraction("685.8"),
    "2’ 3”": Fraction("685.8"),
    "2' 3 1/2\"": Fraction("698.5"),
    "2' ½\"": Fraction("622.3"),
    "-3 mm": Fraction(-3),
    "−3 mm": Fraction(-3),
    "- 3 mm": Fraction(-3),
    "+3 mm": Fraction(3),
    "-2 ft 3 in": Fraction("-685.8"),
    '-3-1/2"': Fraction("-88.9"),
    "0 in": Fraction(0),
}


@pytest.mark.parametrize(("text", "mm"), LENGTHS.items())
def test_a_length_is_read_exactly(text: str, mm: Fraction) -> None:
    assert read_quantity(text) == Quantity(mm, length=1)
    assert read_length(text) == mm


@pytest.mark.parametrize("text", ["45 deg", "45°", "45 °", "45 degrees", "+45°"])
def test_an_angle_is_read_in_degrees(text: str) -> None:
    assert read_quantity(text) == Quantity(Fraction(45), angle=1)


@pytest.mark.parametrize(
    ("text", "value"),
    [("7", "7"), ("-7", "-7"), ("1/2", "1/2"), ("2 1/2", "5/2"), ("¾", "3/4"), ("0.25", "1/4")],
)
def test_a_number_has_no_unit(text: str, value: str) -> None:
    assert read_quantity(text) == Quantity(Fraction(value))


# International yard and pound agreement of 1 July 1959: 1 yd = 0.9144 m exactly, so 1 in = 25.4 mm exactly.
def test_the_inch_follows_from_the_international_yard_of_1959() -> None:
    assert read_length("3 ft") == Fraction("914.4")
    assert read_length("36 in") == read_length("0.9144 m")
    assert read_length("1 in") == Fraction(127, 5)


# Decimals that follow from 1 in = 127/5 mm; each is finite.
@pytest.mark.parametrize(
    ("inches", "mm"),
    [
        ("1/64", "0.396875"),
        ("1/32", "0.79375"),
        ("1/16", "1.5875"),
        ("1/8", "3.175"),
        ("1/4", "6.35"),
        ("3/4", "19.05"),
        ("13/16", "20.6375"),
    ],
)
def test_binary_fractions_of_an_inch_are_finite_decimals_of_millimetres(inches: str, mm: str) -> None:
    assert read_length(f"{inches} in") == Fraction(mm) == read_length(f"{mm} mm")


def test_a_millimetre_is_never_a_finite_fraction_of_an_inch() -> None:
    assert read_length("1 mm") / MM_PER_INCH == Fraction(5, 127)
    assert round(float(read_length("1 mm") / MM_PER_INCH * 64), 4) == 2.5197


MISTAKES = {
    "": ("syntax", 0, 1),
    "   ": ("syntax", 0, 1),
    "wide": ("syntax", 0, 4),
    "  wide": ("syntax", 2, 4),
    "3 in 4": ("syntax", 5, 1),
    "90 mm wide": ("syntax", 6, 4),
    "1 + 2": ("syntax", 2, 3),
    "3,5 in": ("syntax", 0, 3),
    " 1,000 mm": ("syntax", 1, 5),
    "1 000 mm": ("syntax", 2, 6),
    "3-1/2": ("syntax", 0, 5),
    "2'-3\"": ("syntax", 2, 1),
    "--3 mm": ("syntax", 0, 6),
    "3 furlong": ("unknown-unit", 2, 7),
    "3 furlong wide": ("unknown-unit", 2, 7),
    "3 İn": ("unknown-unit", 2, 2),
    "30 min": ("unknown-unit", 3, 3),
    "1/0 in": ("division-by-zero", 2, 1),
    "4 3/00 in": ("division-by-zero", 4, 2),
    "2' 1/0\"": ("division-by-zero", 5, 1),
    "9" * 19 + " mm": ("out-of-range", 0, 19),
    "10000001 mm": ("out-of-range", 0, 11),
    "-20 m 3": ("syntax", 6, 1),
    "33000 ft": ("out-of-range", 0, 8),
    " " * 500 + "1": ("too-long", 500, 1),
}


@pytest.mark.parametrize(("text", "expected"), MISTAKES.items())
def test_a_mistake_names_its_kind_and_place(text: str, expected: tuple[str, int, int]) -> None:
    with pytest.raises(UnitProblem) as caught:
        read_quantity(text)
    assert (caught.value.kind, caught.value.offset, caught.value.length) == expected


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("3,5 in", "a number is written without a comma: `3.5` instead of `3,5`"),
        ("1,000 mm", "a number is written without a comma: `1.000` or `1000` instead of `1,000`"),
        ("1,000,000 mm", "a number is written without a comma: `1000000` instead of `1,000,000`"),
        ("3-1/2", "`3-1/2` needs a unit, or a space in place of the hyphen"),
        ("3 inc", "`inc` is not a unit of length or angle"),
    ],
)
def test_the_message_says_what_to_write(text: str, message: str) -> None:
    with pytest.raises(UnitProblem) as caught:
        read_quantity(text)
    assert str(caught.value) == message


def test_a_literal_inside_a_formula_is_placed_in_the_whole_text() -> None:
    with pytest.raises(UnitProblem, match="`wide` cannot be read as a quantity") as caught:
        read_literal("wide", 4)
    assert (caught.value.kind, caught.value.offset, caught.value.length) == ("syntax", 4, 4)


def test_an_unknown_unit_is_answered_with_near_ones() -> None:
    with pytest.raises(UnitProblem) as caught:
        read_quantity("3 inchs")
    assert caught.value.facts["name"] == "inchs"
    assert "inches" in caught.value.facts["near"].split(", ")


@pytest.mark.parametrize(
    ("text", "message", "offset", "length"),
    [
        (" 7", "`7` needs a unit of length, such as `7 in` or `7 mm`", 1, 1),
        ("45°", "`45°` is an angle, where a length is wanted", 0, 3),
    ],
)
def test_a_length_is_asked_for_by_name(text: str, message: str, offset: int, length: int) -> None:
    with pytest.raises(UnitProblem) as caught:
        read_length(text)
    problem = caught.value
    assert (problem.kind, problem.message, problem.offset, problem.length) == (
        "unit-mismatch",
        message,
        offset,
        length,
    )


def test_reading_literals_never_loads_the_grammar_library() -> None:
    code = (
        "import sys, planbook.units as units\n"
        "units.read_length('3 in'); units.parse_formula('12 mm').evaluate(lambda name: None)\n"
        "sys.exit('lark' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
