"""Reads and prints durations in minutes, such as `1 h 30 min` (not the planning of time)."""

import re
from fractions import Fraction

from planbook.speech import say_many
from planbook.units.literal import COUNT, check_length, comma_problem, read_count
from planbook.units.nearest import near
from planbook.units.problem import UnitProblem

LONGEST_MINUTES = 10**7

_MINUTES: dict[str, Fraction] = {
    **dict.fromkeys(("s", "sec", "second", "seconds"), Fraction(1, 60)),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), Fraction(1)),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), Fraction(60)),
    **dict.fromkeys(("d", "day", "days"), Fraction(24 * 60)),
    **dict.fromkeys(("week", "weeks"), Fraction(7 * 24 * 60)),
}
_PART = re.compile(rf"\s*(?P<count>{COUNT})\s*(?P<unit>[^\W\d_]+)?\s*")


def read_minutes(text: str) -> Fraction:
    """Read a duration ("30 min", "2 h", "1 h 30 min", "3 days") and return minutes; a day has 24 hours.

    Raises UnitProblem: syntax, unknown-unit, unit-mismatch (no unit), division-by-zero, too-long,
    out-of-range.
    """
    check_length(text)
    if problem := comma_problem(text, text.find(",")):
        raise problem
    at, total, smallest = 0, Fraction(0), None
    while at < len(text):
        part = _PART.match(text, at)
        if not part:
            break
        unit = _unit_of(part)
        if smallest is not None and unit >= smallest:
            message = f"`{part[0].strip()}` must be a smaller unit than the one before it"
            raise UnitProblem("syntax", message, part.start("count"), len(part[0].strip()))
        total, smallest, at = total + read_count(part["count"], part.start("count")) * unit, unit, part.end()
    if at < len(text) or smallest is None:
        raise _not_a_duration(text, at)
    if total > LONGEST_MINUTES:
        message = f"`{text.strip()}` is longer than the longest duration taken ({LONGEST_MINUTES} min)"
        raise UnitProblem("out-of-range", message, text.index(text.strip()), len(text.strip()))
    return total


def _unit_of(part: re.Match[str]) -> Fraction:
    if not part["unit"]:
        message = f"`{part['count']}` needs a unit of time, such as `{part['count']} min`"
        raise UnitProblem("unit-mismatch", message, part.start("count"), len(part["count"]))
    unit = _MINUTES.get(part["unit"].lower())
    if unit is None:
        facts = {"name": part["unit"], "near": ", ".join(near(part["unit"], _MINUTES))}
        message = f"`{part['unit']}` is not a unit of time"
        raise UnitProblem("unknown-unit", message, part.start("unit"), len(part["unit"]), facts)
    return unit


def _not_a_duration(text: str, at: int) -> UnitProblem:
    rest = text[at:].strip()
    if not rest:
        return UnitProblem("syntax", "nothing is written here, where a duration such as `30 min` is wanted")
    message = f"`{rest}` cannot be read; a duration is written like `30 min` or `1 h 30 min`"
    return UnitProblem("syntax", message, text.index(rest, at), len(rest))


def show_minutes(minutes: Fraction | int) -> str:
    """Print minutes as "45 min", "1 h 30 min" or "2 days" (of 24 h), to the nearest minute, half to even.

    Under a minute it is printed in whole seconds.
    """
    size = abs(Fraction(minutes))
    if size < 1:
        seconds = round(size * 60)
        if seconds < 60:
            return _signed(minutes, f"{seconds} s") if seconds else "0 min"
    whole = max(1, round(size))
    days, rest = divmod(whole, 24 * 60)
    hours, left = divmod(rest, 60)
    parts = [say_many("{count} day", "{count} days", days)] if days else []
    parts += [f"{hours} h"] if hours else []
    parts += [f"{left} min"] if left else []
    return _signed(minutes, " ".join(parts))


def _signed(value: Fraction | int, text: str) -> str:
    return f"-{text}" if value < 0 else text
