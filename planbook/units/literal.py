"""Reads one written quantity, such as `3 1/2 in`, `90 mm` or `45°` (not formulas, not durations)."""

import re
from fractions import Fraction

from planbook.units.nearest import near
from planbook.units.problem import UnitProblem
from planbook.units.quantity import LARGEST, MM_PER_INCH, Quantity, in_range

LONGEST_TEXT = 500
MOST_DIGITS = 18


def any_case(*words: str) -> str:
    """Return a pattern for ASCII words in any case; the flag of `re` would also take letters such as `İ`."""
    return "|".join("".join(f"[{letter}{letter.upper()}]" for letter in word) for word in words)


_SLASH = "[/⁄∕]"
_HYPHEN = "[-\u2010\u2011]"
_MINUS = "[-\u2010\u2011\u2012\u2013\u2212]"
_VULGAR = {
    "¼": (1, 4), "½": (1, 2), "¾": (3, 4), "⅐": (1, 7), "⅑": (1, 9), "⅒": (1, 10), "⅓": (1, 3), "⅔": (2, 3),
    "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8),
    "⅝": (5, 8), "⅞": (7, 8),
}  # fmt: skip
_ONE = f"[{''.join(_VULGAR)}]"
_FRACTION = rf"[0-9]+{_SLASH}[0-9]+(?![0-9.])"
_MIXED = rf"[0-9]+(?:\s+{_FRACTION}|\s*{_ONE})"
_HYPHENED = rf"[0-9]+{_HYPHEN}(?:{_FRACTION}|{_ONE})"
_PLAIN = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
COUNT = rf"(?:{_MIXED}|{_ONE}|{_FRACTION}|{_PLAIN})"
_FOOT_MARK, _INCH_MARK = "['′’ʹ]", "(?:[\"″”“ʺ]|''|′′|’’)"
_FOOT = rf"(?:(?:{any_case('feet', 'foot', 'ft')})(?![^\W\d])\.?|{_FOOT_MARK}(?!{_FOOT_MARK}))"
_INCH = rf"(?:(?:{any_case('inches', 'inch', 'in')})(?!\w)\.?|{_INCH_MARK})"
_UNIT = rf"(?:{_INCH_MARK}|{_FOOT_MARK}|°|(?:{any_case('in', 'ft')})\.(?!\w)|[^\W\d_]\w*)"
_FEET_AND_INCHES = rf"{COUNT}\s*{_FOOT}(?:\s*|{_HYPHEN}){COUNT}\s*{_INCH}"
_WITH_UNIT = rf"(?:{_HYPHENED}|{COUNT})\s*{_UNIT}"

LITERAL = rf"(?:{_FEET_AND_INCHES}|{_WITH_UNIT}|{_MIXED}|{_ONE}|{_PLAIN})"
"""A literal inside a formula. A bare `1/2` is left out: there it is a division, so that `x/1/2` is `x/2`."""

_ALONE = re.compile(rf"\s*({_MINUS}|\+)?\s*({LITERAL}|{_FRACTION})\s*")
_PARTS = re.compile(
    rf"(?P<feet>{COUNT})\s*{_FOOT}(?:\s*|(?P<joint>{_HYPHEN}))(?P<inches>{COUNT})\s*{_INCH}"
    rf"|(?P<count>{_HYPHENED}|{COUNT})\s*(?P<unit>{_UNIT})?"
)
_COMMA = re.compile(r"[0-9]+((?:,[0-9]{3})+(?![0-9])|,[0-9]+)")

_DEGREE = Quantity(Fraction(1), angle=1)


def _mm(size: Fraction | int) -> Quantity:
    return Quantity(Fraction(size), length=1)


_INCH_SIZE = _mm(MM_PER_INCH)
_UNITS: dict[str, Quantity] = {
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "″", "”", "“", "ʺ", "''", "′′", "’’"), _INCH_SIZE),
    **dict.fromkeys(("ft", "ft.", "foot", "feet", "'", "′", "’", "ʹ"), _mm(12 * MM_PER_INCH)),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), _mm(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), _mm(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), _mm(1000)),
    **dict.fromkeys(("deg", "degree", "degrees", "°"), _DEGREE),
}
UNIT_WORDS = tuple(unit for unit in _UNITS if unit.isalpha())


def read_quantity(text: str) -> Quantity:
    """Read a single written quantity; a length is in millimetres, an angle in degrees.

    Raises UnitProblem: syntax, unknown-unit, division-by-zero, too-long, out-of-range.
    """
    check_length(text)
    if found := match_alone(text):
        return found
    raise _not_a_quantity(text)


def read_length(text: str) -> Fraction:
    """Read a single written length and return millimetres; raises UnitProblem if it is anything else."""
    quantity = read_quantity(text)
    if quantity.is_length:
        return quantity.value
    shown = text.strip()
    start, facts = text.index(shown), {"found": quantity.kind_name, "wanted": "a length"}
    message = f"`{shown}` is {quantity.kind_name}, where a length is wanted"
    if quantity.is_number:
        message = f"`{shown}` needs a unit of length, such as `{shown} in` or `{shown} mm`"
    raise UnitProblem("unit-mismatch", message, start, len(shown), facts)


def check_length(text: str) -> None:
    """Raise UnitProblem (too-long) for a text of more than 500 characters."""
    if len(text) > LONGEST_TEXT:
        message = f"this text has {len(text)} characters, and at most {LONGEST_TEXT} are read"
        raise UnitProblem("too-long", message, LONGEST_TEXT, len(text) - LONGEST_TEXT)


def match_alone(text: str) -> Quantity | None:
    """Return the quantity if the whole text is one signed literal, else None."""
    found = _ALONE.fullmatch(text)
    if not found:
        return None
    quantity = read_literal(found[2], found.start(2))
    negative = found[1] and found[1] != "+"
    return quantity.with_value(-quantity.value) if negative else quantity


def read_literal(text: str, offset: int) -> Quantity:
    """Read an unsigned literal that stands at `offset` in a longer text."""
    parts = _PARTS.fullmatch(text)
    if not parts:
        raise UnitProblem("syntax", f"`{text}` cannot be read as a quantity", offset, len(text))
    if parts["feet"]:
        quantity = _feet_and_inches(parts, offset)
    else:
        count = read_count(parts["count"], offset)
        quantity = Quantity(count)
        if parts["unit"]:
            unit = _unit(parts["unit"], offset + parts.start("unit"))
            quantity = unit.with_value(count * unit.value)
    if not in_range(quantity):
        message = f"`{text}` is more than the largest {_KINDS[quantity.length]} taken"
        raise UnitProblem("out-of-range", message, offset, len(text))
    return quantity


_KINDS = {0: f"angle ({LARGEST} degrees)", 1: f"length ({LARGEST} mm)"}


def read_count(text: str, offset: int) -> Fraction:
    """Read an unsigned whole, decimal or mixed number that stands at `offset` in a longer text."""
    for digits in re.finditer("[0-9]+", text):
        if len(digits[0]) > MOST_DIGITS:
            message = f"this number has {len(digits[0])} digits, and at most {MOST_DIGITS} are read"
            raise UnitProblem("out-of-range", message, offset + digits.start(), len(digits[0]))
    if text[-1] in _VULGAR:
        whole = re.match("[0-9]+", text)
        return Fraction(int(whole[0]) if whole else 0) + Fraction(*_VULGAR[text[-1]])
    numbers = re.findall("[0-9]+", text)
    if not re.search(_SLASH, text):
        return Fraction(text if text[-1] != "." else text[:-1])
    *whole_part, above, below = (int(number) for number in numbers)
    if below == 0:
        at = offset + len(text) - len(numbers[-1])
        raise UnitProblem("division-by-zero", f"`{text}` divides by zero", at, len(numbers[-1]))
    return sum(whole_part) + Fraction(above, below)


def _feet_and_inches(parts: re.Match[str], offset: int) -> Quantity:
    if parts["joint"]:
        message = f"`{parts[0]}` could mean two things; write a space, or spaces around a minus sign"
        raise UnitProblem("syntax", message, offset + parts.start("joint"), 1)
    feet = read_count(parts["feet"], offset)
    inches = read_count(parts["inches"], offset + parts.start("inches"))
    return _mm((12 * feet + inches) * MM_PER_INCH)


def _unit(name: str, offset: int) -> Quantity:
    unit = _UNITS.get(name.lower())
    if unit is None:
        facts = {"name": name, "near": ", ".join(near(name, UNIT_WORDS))}
        message = f"`{name}` is not a unit of length or angle"
        raise UnitProblem("unknown-unit", message, offset, len(name), facts)
    return unit


def comma_problem(text: str, offset: int) -> UnitProblem | None:
    """Return a helpful problem if the comma at `offset` stands between two digits."""
    for found in _COMMA.finditer(text):
        if found.start(1) <= offset < found.end(1):
            joined, pointed = found[0].replace(",", ""), found[0].replace(",", ".")
            meant = [f"`{pointed}`"] if found[1].count(",") == 1 else []
            meant += [f"`{joined}`"] if len(found[1]) % 4 == 0 else []
            message = f"a number is written without a comma: {' or '.join(meant)} instead of `{found[0]}`"
            return UnitProblem("syntax", message, found.start(), len(found[0]), {"number": found[0]})
    return None


def _not_a_quantity(text: str) -> UnitProblem:
    shown = text.strip()
    if not shown:
        return UnitProblem("syntax", "nothing is written here, where a size such as `3 1/2 in` is wanted")
    if problem := comma_problem(text, text.find(",")):
        return problem
    read, start = _ALONE.match(text), text.index(shown)
    if re.fullmatch(rf"(?:{_MINUS}|\+)?\s*{_HYPHENED}", shown):
        message = f"`{shown}` needs a unit, or a space in place of the hyphen"
        return UnitProblem("syntax", message, start, len(shown))
    if read:
        read_literal(read[2], read.start(2))  # a wrong unit explains more than what follows it
        start = read.end()
    rest = text[start:].rstrip()
    message = f"`{rest}` cannot be read; a size is written like `3 1/2 in` or `90 mm`"
    return UnitProblem("syntax", message, start, len(rest))
