"""A formula as a flat list of steps on a stack, and the running of it (not the reading of its text).

A flat list cannot overflow Python's own stack, however the formula is written.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planbook.units.functions import FUNCTIONS, Refusal
from planbook.units.nearest import near
from planbook.units.problem import UnitProblem
from planbook.units.quantity import LARGEST, Quantity, in_range, tidied

SizeOf = Callable[[str], Quantity | None]
MeasureOf = Callable[[str, str], Quantity | None]


@dataclass(frozen=True, slots=True)
class Use:
    """A named size used in a formula: the name in lower case with single spaces, and where it stands."""

    name: str
    offset: int
    length: int


@dataclass(frozen=True, slots=True)
class Measure:
    """A measurement used in a formula: the "width", "depth" or "height" (x, y, z) of a piece, or the "kerf" of a saw.

    `piece` is the name of what is measured.
    """

    what: Literal["width", "depth", "height", "kerf"]
    piece: str
    offset: int
    length: int


@dataclass(frozen=True, slots=True)
class Constant:
    """Puts a fixed quantity on the stack."""

    quantity: Quantity
    offset: int
    length: int


@dataclass(frozen=True, slots=True)
class Call:
    """Takes `count` quantities from the stack and puts back the result of an operator or function."""

    name: str
    count: int
    offset: int
    length: int


Step = Use | Measure | Constant | Call
Program = tuple[Step, ...]


def no_pieces(_what: str, _piece: str) -> Quantity | None:
    """Measure nothing: for formulas that stand where no piece exists yet."""
    return None


def run(program: Program, size: SizeOf, measure: MeasureOf, known: Iterable[str]) -> Quantity:
    """Compute a program; raises UnitProblem with the offset of the step that failed."""
    stack: list[Quantity] = []
    for step in program:
        match step:
            case Constant():
                result = step.quantity
            case Use():
                result = _size(step, size, known)
            case Measure():
                result = _measure(step, measure)
            case Call():
                arguments = stack[-step.count :]
                del stack[-step.count :]
                result = _call(step, arguments)
        stack.append(_checked(result, step))
    return stack[-1]


def _size(use: Use, size: SizeOf, known: Iterable[str]) -> Quantity:
    found = size(use.name)
    if found is None:
        facts = {"name": use.name, "near": ", ".join(near(use.name, known)), "of": "size"}
        message = f"no size is called `{use.name}`"
        raise UnitProblem("unknown-name", message, use.offset, use.length, facts)
    return found


def _measure(step: Measure, measure: MeasureOf) -> Quantity:
    found = measure(step.what, step.piece)
    if found is None:
        facts = {"name": step.piece, "near": "", "of": "saw" if step.what == "kerf" else "piece"}
        can = "saw whose kerf" if step.what == "kerf" else "piece that"
        message = f"`{step.piece}` is not a {can} can be measured here"
        raise UnitProblem("unknown-name", message, step.offset, step.length, facts)
    return found


def _call(step: Call, arguments: list[Quantity]) -> Quantity:
    try:
        if step.name in FUNCTIONS:
            return FUNCTIONS[step.name].apply(step.name, arguments)
        if step.name == "negate":
            return arguments[0].with_value(-arguments[0].value)
        return _OPERATORS[step.name](*arguments)
    except Refusal as refusal:
        raise UnitProblem(refusal.kind, refusal.message, step.offset, step.length, refusal.facts) from None


def _checked(quantity: Quantity, step: Step) -> Quantity:
    if in_range(quantity):
        return tidied(quantity)
    if quantity.is_length:
        message = f"the result is a length of more than {LARGEST} mm"
    else:
        message = f"the result is {quantity.kind_name} too large to be of use"
    raise UnitProblem("out-of-range", message, step.offset, step.length)


def _refused(verb: str, left: Quantity, joint: str, right: Quantity) -> Refusal:
    facts = {"left": left.kind_name, "right": right.kind_name}
    return Refusal("unit-mismatch", f"cannot {verb} {left.kind_name} {joint} {right.kind_name}", facts)


def _add(left: Quantity, right: Quantity) -> Quantity:
    if not left.same_kind(right):
        raise _refused("add", left, "and", right)
    return left.with_value(left.value + right.value)


def _subtract(left: Quantity, right: Quantity) -> Quantity:
    if not left.same_kind(right):
        raise _refused("subtract", right, "from", left)
    return left.with_value(left.value - right.value)


def _multiply(left: Quantity, right: Quantity) -> Quantity:
    if (left.angle and not right.is_number) or (right.angle and not left.is_number):
        raise _refused("multiply", left, "by", right)
    return Quantity(left.value * right.value, left.length + right.length, left.angle + right.angle)


def _divide(left: Quantity, right: Quantity) -> Quantity:
    if right.value == 0:
        raise Refusal("division-by-zero", "the formula divides by zero")
    fits = right.is_number or (right.angle and left.angle) or not (left.angle or right.angle)
    if not fits:
        raise _refused("divide", left, "by", right)
    return Quantity(Fraction(left.value / right.value), left.length - right.length, left.angle - right.angle)


_OPERATORS: dict[str, Callable[[Quantity, Quantity], Quantity]] = {
    "add": _add,
    "subtract": _subtract,
    "multiply": _multiply,
    "divide": _divide,
}
