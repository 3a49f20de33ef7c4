"""Formulas: what they compute, exactly, and the place and kind of everything that can be wrong in one."""

from fractions import Fraction

import pytest

from planbook.units import Formula, Measure, Quantity, UnitProblem, Use, parse_formula


def mm(value: str | int) -> Quantity:
    return Quantity(Fraction(value), length=1)


def number(value: str | int) -> Quantity:
    return Quantity(Fraction(value))


def degrees(value: str | int) -> Quantity:
    return Quantity(Fraction(value), angle=1)


SIZES = {
    "wall": mm(10),
    "drawer height": mm(100),
    "rail_2": mm(30),
    "shelf 2": mm(7),
    "count": number(3),
    "tilt": degrees(30),
    "höhe": mm(5),
    "zero": number(0),
}
PIECES = {
    ("kerf", "narrow blade"): mm("11/10"),
    ("width", "front runner"): mm(40),
    ("depth", "Lid (left)"): mm(20),
    ("height", "box"): mm(60),
}


def computed(text: str) -> Quantity:
    return parse_formula(text).evaluate(SIZES.get, lambda what, piece: PIECES.get((what, piece)), SIZES)


def problem_of(text: str) -> UnitProblem:
    with pytest.raises(UnitProblem) as caught:
        computed(text)
    return caught.value


VALUES = {
    "12 mm": mm(12),
    "-12 mm": mm(-12),
    "1/2": number("1/2"),
    "wall": mm(10),
    "WALL": mm(10),
    "drawer height + 2 in": mm("150.8"),
    "drawer   height - 2 in": mm("49.2"),
    "drawer height-wall": mm(90),
    "rail_2 / 3": mm(10),
    "shelf 2 * 2": mm(14),
    "höhe + 1 mm": mm(6),
    "wall + 3 1/2 in": mm("98.9"),
    "wall + 3½ in": mm("98.9"),
    'wall + 3-1/2"': mm("98.9"),
    "(3-1/2 in) * 2": mm("177.8"),
    "wall + 2 ft 3 in": mm("695.8"),
    "wall + 2' 3\"": mm("695.8"),
    "wall - 1/2 in": mm("-2.7"),
    "wall / 2 / 5": mm(1),
    "wall/2/5": mm(1),
    "12/2/3": number(2),
    "12 / 2 3/4": number("48/11"),
    "2 * 1/2 in": mm("25.4"),
    "wall / (1/2 in)": number("100/127"),
    "1 + 2 * 3": number(7),
    "(1 + 2) * 3": number(9),
    "10 - 2 - 3": number(5),
    "10 − 2 – 3": number(5),
    "2 × 3 ÷ 4": number("3/2"),
    "-wall + 1 mm": mm(-9),
    "--wall": mm(10),
    "2 * -wall": mm(-20),
    "+wall": mm(10),
    "1/3 + 1/3 + 1/3": number(1),
    "wall * wall": Quantity(Fraction(100), length=2),
    "wall * wall * wall": Quantity(Fraction(1000), length=3),
    "1 / wall": Quantity(Fraction(1, 10), length=-1),
    "drawer height / wall": number(10),
    "90 deg / tilt": number(3),
    "tilt * 2 + 5°": degrees(65),
    "pi": number("3.141592653590"),
    'width of "front runner" + 1 mm': mm(41),
    "WIDTH  OF 'front  runner'": mm(40),
    "depth of “Lid (left)” / 2": mm(10),
    'min(height of "box", wall)': mm(10),
    "2 * (\n wall\n)": mm(20),
}


@pytest.mark.parametrize(("text", "value"), VALUES.items())
def test_a_formula_is_computed_exactly(text: str, value: Quantity) -> None:
    assert computed(text) == value


SYNTAX = {
    "": (0, 1, "nothing is written here, where a size or formula is wanted"),
    "3 +": (2, 1, "the formula stops before it is complete"),
    "wall * ": (5, 1, "the formula stops before it is complete"),
    "* wall": (0, 1, "something is missing before `*`"),
    "2 + ()": (5, 1, "something is missing before `)`"),
    "wall + (2 mm": (7, 1, "this bracket is never closed"),
    "wall) + 1": (4, 1, "this bracket closes nothing"),
    "2 mm (3)": (5, 1, "an operator such as `+` is missing before `(`"),
    "2 mm wall": (5, 4, "an operator such as `+` is missing before `wall`"),
    "wall = 3": (5, 1, "`=` has no meaning in a formula"),
    "wall; 3": (4, 1, "`;` has no meaning in a formula"),
    "wall ^ 2": (5, 1, "a formula has no powers; multiply, as in `a * a`"),
    "wall**2": (5, 1, "a formula has no powers; multiply, as in `a * a`"),
    "wall + 1,5 mm": (7, 3, "a number is written without a comma: `1.5` instead of `1,5`"),
    "wall, 3": (4, 1, "a comma may only stand between the values given to a function"),
    "min(, 3)": (4, 1, "a comma may only stand between the values given to a function"),
    "1 + width of box": (4, 12, 'a measured piece is named in quotes, as in `width of "box"`'),
    'width of "box': (0, 8, 'a measured piece is named in quotes, as in `width of "lid"`'),
    'width of ""': (0, 11, "the name of the piece is empty"),
    "1 mm + kerf of": (7, 7, 'a measured saw is named in quotes, as in `kerf of "band saw"`'),
    'kerf of ""': (0, 10, "the name of the saw is empty"),
    "wall*3-1/2 in": (5, 8, "`3-1/2 in` could be read in two ways here; put it in brackets"),
    "3-1/2 in / count": (0, 8, "`3-1/2 in` could be read in two ways here; put it in brackets"),
    "wall / 3/4 in": (7, 6, "`3/4 in` could be read in two ways here; put it in brackets"),
    "wall + 2'-3\"": (9, 1, "`2'-3\"` could mean two things; write a space, or spaces around a minus sign"),
    "__import__ + 'os'": (13, 1, "`'` has no meaning in a formula"),
    "wall.real": (4, 1, "`.` has no meaning in a formula"),
}


@pytest.mark.parametrize("text", SYNTAX)
def test_a_mistake_in_the_writing_is_placed_and_worded(text: str) -> None:
    problem = problem_of(text)
    offset, length, message = SYNTAX[text]
    assert (problem.kind, problem.offset, problem.length, problem.message) == (
        "syntax",
        offset,
        length,
        message,
    )


NOT_A_UNIT = "`wall` is not a unit of length or angle; to multiply, write `*` before it"
TENTH_POWER = "a length to the power 10"

PROBLEMS = {
    "wal + 1 mm": ("unknown-name", 0, 3, "no size is called `wal`"),
    "1 mm + Drawer  Heigth": ("unknown-name", 7, 14, "no size is called `drawer heigth`"),
    'wall + kerf of "lid"': ("unknown-name", 7, 13, "`lid` is not a saw whose kerf can be measured here"),
    'wall + width of "lid"': ("unknown-name", 7, 14, "`lid` is not a piece that can be measured here"),
    "1 + sqr(4)": ("unknown-function", 4, 3, "no function is called `sqr`"),
    "__import__('os')": ("unknown-function", 0, 10, "no function is called `__import__`"),
    "eval(1)": ("unknown-function", 0, 4, "no function is called `eval`"),
    "2 wall": ("unknown-unit", 2, 4, NOT_A_UNIT),
    "1 + 2 wall": ("unknown-unit", 6, 4, NOT_A_UNIT),
    "wall + tilt": ("unit-mismatch", 5, 1, "cannot add a length and an angle"),
    "wall - count": ("unit-mismatch", 5, 1, "cannot subtract a number from a length"),
    "wall * tilt": ("unit-mismatch", 5, 1, "cannot multiply a length by an angle"),
    "tilt * tilt": ("unit-mismatch", 5, 1, "cannot multiply an angle by an angle"),
    "1 / tilt": ("unit-mismatch", 2, 1, "cannot divide a number by an angle"),
    "1 + wall * wall": ("unit-mismatch", 2, 1, "cannot add a number and an area"),
    "max(wall, 0)": ("unit-mismatch", 0, 3, "`max` cannot take a length together with a number"),
    "wall / zero": ("division-by-zero", 5, 1, "the formula divides by zero"),
    "wall / (1 - 1)": ("division-by-zero", 5, 1, "the formula divides by zero"),
    "wall + 3 1/0 in": ("division-by-zero", 11, 1, "`3 1/0` divides by zero"),
    "(" * 41 + "1" + ")" * 41: ("too-deep", 40, 1, "brackets are nested more than 40 deep"),
    "(" * 500: ("too-deep", 40, 1, "brackets are nested more than 40 deep"),
    "1" * 1_000_000: ("too-long", 500, 999_500, "this text has 1000000 characters, and at most 500 are read"),
    "wall + " + "1" * 19: ("out-of-range", 7, 19, "this number has 19 digits, and at most 18 are read"),
    "wall + 20000 m": ("out-of-range", 7, 7, "`20000 m` is more than the largest length (10000000 mm) taken"),
    "wall * 1000001": ("out-of-range", 5, 1, "the result is a length of more than 10000000 mm"),
    "*".join(["wall"] * 10): ("out-of-range", 44, 1, f"the result is {TENTH_POWER} too large to be of use"),
    "sqrt(1, 2)": ("wrong-argument-count", 0, 4, "`sqrt` takes 1 argument, not 2"),
    "1 + hypot(3)": ("wrong-argument-count", 4, 5, "`hypot` takes 2 or more arguments, not 1"),
    "round()": ("wrong-argument-count", 0, 5, "`round` takes 1 or 2 arguments, not 0"),
    "1 + sqrt(0 - 1)": ("not-finite", 4, 4, "a value below zero has no square root"),
    "tan(90)": ("not-finite", 0, 3, "`tan` of 90 degrees has no end"),
}  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), PROBLEMS.items(), ids=[text[:30] for text in PROBLEMS])
def test_a_problem_has_a_kind_a_place_and_a_sentence(text: str, expected: tuple[str, int, int, str]) -> None:
    problem = problem_of(text)
    assert (problem.kind, problem.offset, problem.length, problem.message) == expected


def test_an_unknown_name_carries_near_ones() -> None:
    assert problem_of("wal * 2").facts == {"name": "wal", "near": "wall", "of": "size"}
    assert problem_of("drawer + wall").facts["near"] == "drawer height"
    assert problem_of('width of "lid"').facts == {"name": "lid", "near": "", "of": "piece"}
    assert problem_of("sqr(4)").facts["near"].split(", ")[0] == "sqrt"


def test_a_formula_tells_what_it_uses_in_order() -> None:
    formula = parse_formula('Drawer  Height - 2*wall + depth of "Lid (left)" + wall')
    assert formula.names == (Use("drawer height", 0, 14), Use("wall", 19, 4), Use("wall", 50, 4))
    assert formula.measures == (Measure("depth", "Lid (left)", 26, 21),)


def test_a_formula_is_parsed_once() -> None:
    assert parse_formula("wall + 7 mm") is parse_formula("wall + 7 mm")


def test_the_kerf_of_a_saw_is_measured_by_its_name() -> None:
    assert computed("2 * Kerf of 'narrow blade' + wall") == mm("61/5")
    (found,) = parse_formula('kerf of "narrow blade"').measures
    assert (found.what, found.piece) == ("kerf", "narrow blade")


def test_where_no_pieces_exist_a_measurement_is_a_problem() -> None:
    with pytest.raises(UnitProblem, match="not a piece that can be measured here"):
        parse_formula('width of "box"').evaluate(SIZES.get)


def test_the_deepest_nesting_and_the_longest_sum_still_work() -> None:
    assert computed("(" * 40 + "1" + ")" * 40) == number(1)
    assert computed("+".join(["1"] * 250)) == number(250)
    assert computed("-" * 499 + "1") == number(-1)
    assert computed("min(" * 40 + "wall" + ")" * 40) == mm(10)


def test_brackets_in_the_name_of_a_piece_are_not_nesting() -> None:
    formula: Formula = parse_formula('1 mm + width of "' + "(" * 60 + '"')
    assert formula.measures[0].piece == "(" * 60


def test_a_chain_of_squares_does_not_grow_without_end() -> None:
    """Each size squares the one before: exact digits would double at every link (2**60 of them here)."""
    formula = parse_formula("x * x / (1 mm)")
    value = Quantity(Fraction(2, 3), length=1)
    for _ in range(60):
        value = formula.evaluate({"x": value}.get)
    assert value.value.denominator.bit_length() <= 512
    assert abs(value.value) < Fraction(1, 10**12)
