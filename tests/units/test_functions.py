"""The functions of formulas, by exact values and by their refusals."""

from fractions import Fraction

import pytest

from planbook.units import Quantity, UnitProblem, parse_formula
from planbook.units.functions import FUNCTIONS


def computed(text: str) -> Quantity:
    return parse_formula(text).evaluate(lambda _name: None)


def mm(value: str) -> Quantity:
    return Quantity(Fraction(value), length=1)


def number(value: str) -> Quantity:
    return Quantity(Fraction(value))


def degrees(value: str) -> Quantity:
    return Quantity(Fraction(value), angle=1)


VALUES = {
    "min(3 mm, 1 cm, 2 mm)": mm("2"),
    "max(1 in, 25 mm)": mm("25.4"),
    "MAX (1, 2)": number("2"),
    "min(5)": number("5"),
    "abs(2 mm - 5 mm)": mm("3"),
    "abs(-30 deg)": degrees("30"),
    "sqrt(9)": number("3"),
    "sqrt(4/9)": number("2/3"),
    "sqrt(3 mm * 12 mm)": mm("6"),
    "sqrt(2)": number("1.414213562373"),
    "sqrt(0)": number("0"),
    "hypot(3 in, 4 in)": mm("127"),
    "hypot(2, 3, 6)": number("7"),
    "hypot(1 mm, 1 mm)": mm("1.414213562373"),
    "floor(7/2)": number("3"),
    "floor(-7/2)": number("-4"),
    "ceil(7/2)": number("4"),
    "round(7/2)": number("4"),
    "round(5/2)": number("2"),
    "floor(10 mm, 3 mm)": mm("9"),
    "ceil(10 mm, 3 mm)": mm("12"),
    "round(10 mm, 1/16 in)": mm("9.525"),
    "round(32 deg, 5 deg)": degrees("30"),
    "sin(30)": number("1/2"),
    "sin(30 deg)": number("1/2"),
    "sin(180 deg)": number("0"),
    "sin(3600000030)": number("1/2"),
    "cos(60 deg)": number("1/2"),
    "cos(90)": number("0"),
    "tan(45 deg)": number("1"),
    "tan(135)": number("-1"),
    "asin(1/2)": degrees("30"),
    "acos(1/2)": degrees("60"),
    "atan(1)": degrees("45"),
    "atan(100)": degrees("89.427061302317"),
    "atan2(1 mm, -1 mm)": degrees("135"),
    "atan2(-1, 0)": degrees("-90"),
}


@pytest.mark.parametrize(("text", "value"), VALUES.items())
def test_a_function_gives_its_value(text: str, value: Quantity) -> None:
    assert computed(text) == value


def test_every_function_is_tried_here() -> None:
    tried = {text.split("(")[0].strip().lower() for text in VALUES}
    assert tried == set(FUNCTIONS)


REFUSALS = {
    "min(1 mm, 1)": ("unit-mismatch", "`min` cannot take a length together with a number"),
    "hypot(1 mm, 1 deg)": ("unit-mismatch", "`hypot` cannot take a length together with an angle"),
    "sqrt(4 mm)": ("unit-mismatch", "`sqrt` needs a number or an area, not a length"),
    "sqrt(4 deg)": ("unit-mismatch", "`sqrt` needs a number or an area, not an angle"),
    "sqrt(0-4)": ("not-finite", "a value below zero has no square root"),
    "floor(4 mm)": ("unit-mismatch", "`floor` of a length needs a step, as in `floor(x, 1/16 in)`"),
    "round(4 mm, 1)": ("unit-mismatch", "`round` cannot take a length together with a number"),
    "round(4 mm, 0 mm)": ("division-by-zero", "the step of `round` is zero"),
    "ceil(4, -1)": ("out-of-range", "the step of `ceil` is below zero"),
    "sin(4 mm)": ("unit-mismatch", "`sin` needs an angle, not a length"),
    "tan(270 deg)": ("not-finite", "`tan` of 270 degrees has no end"),
    "tan(-90)": ("not-finite", "`tan` of 270 degrees has no end"),
    "asin(2)": ("not-finite", "`asin` needs a number from -1 to 1"),
    "acos(-1.001)": ("not-finite", "`acos` needs a number from -1 to 1"),
    "atan(1 mm)": ("unit-mismatch", "`atan` needs a number, not a length"),
    "atan2(0 mm, 0 mm)": ("not-finite", "`atan2` of zero and zero has no direction"),
    "atan2(1, 1 mm)": ("unit-mismatch", "`atan2` cannot take a number together with a length"),
}


@pytest.mark.parametrize(("text", "expected"), REFUSALS.items())
def test_a_function_refuses_what_has_no_meaning(text: str, expected: tuple[str, str]) -> None:
    with pytest.raises(UnitProblem) as caught:
        computed(text)
    assert (caught.value.kind, caught.value.message) == expected
    assert (caught.value.offset, caught.value.length) == (0, text.index("("))


def test_a_refusal_tells_the_kinds_it_found() -> None:
    with pytest.raises(UnitProblem) as one:
        computed("sin(4 mm)")
    with pytest.raises(UnitProblem) as two:
        computed("min(4 mm, 1 deg)")
    assert one.value.facts == {"found": "a length"}
    assert two.value.facts == {"left": "a length", "right": "an angle"}
