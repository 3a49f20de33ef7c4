"""The bounds of a search as they are written on the command line."""

from fractions import Fraction

from planbook.cli.refusal import Refusal
from planbook.units import UnitProblem, read_quantity


def bounds(above: str | None, below: str | None) -> tuple[Fraction | None, Fraction | None]:
    """Both bounds in millimetres (or degrees, or as plain numbers). Raises Refusal."""
    low, high = _bound("above", above), _bound("below", below)
    if low is not None and high is not None and low >= high:
        raise Refusal(f"there is nothing above {above} and below {below}")
    return low, high


def _bound(option: str, text: str | None) -> Fraction | None:
    if text is None:
        return None
    try:
        return read_quantity(text).value
    except UnitProblem as problem:
        raise Refusal(f"--{option} is `{text}`: {problem.message}") from None
