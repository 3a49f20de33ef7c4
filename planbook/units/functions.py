"""The functions a formula may call, over exact quantities (not the reading of formulas).

Irrational results are taken from floating point and rounded to 12 decimals; perfect squares stay exact.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from planbook.units.problem import ProblemKind
from planbook.units.quantity import Quantity

Arguments = Sequence[Quantity]


class Refusal(Exception):  # noqa: N818 - carries a problem to the place that knows its offset
    """A problem without a place: the caller adds where in the formula it happened."""

    def __init__(self, kind: ProblemKind, message: str, facts: dict[str, str] | None = None) -> None:
        super().__init__(kind, message)
        self.kind, self.message, self.facts = kind, message, facts or {}


@dataclass(frozen=True, slots=True)
class Function:
    """A function of formulas: how many arguments it takes (`most` None: any number), what it does; in words."""

    least: int
    most: int | None
    apply: Callable[[str, Arguments], Quantity]
    about: str

    @property
    def wanted(self) -> str:
        """How many arguments it takes, in words."""
        if self.most is None:
            return f"{self.least} or more"
        return str(self.least) if self.least == self.most else f"{self.least} or {self.most}"


def rounded(value: float) -> Fraction:
    """Turn a float into an exact fraction of 12 decimals."""
    return Fraction(f"{value:.12f}")


PI = Quantity(rounded(math.pi))


def _mismatch(message: str, *found: Quantity) -> Refusal:
    names = ("found",) if len(found) == 1 else ("left", "right")
    return Refusal("unit-mismatch", message, dict(zip(names, (each.kind_name for each in found), strict=True)))


def _alike(name: str, arguments: Arguments) -> Quantity:
    first = arguments[0]
    for other in arguments[1:]:
        if not first.same_kind(other):
            message = f"`{name}` cannot take {first.kind_name} together with {other.kind_name}"
            raise _mismatch(message, first, other)
    return first


def _number(name: str, argument: Quantity) -> Fraction:
    if not argument.is_number:
        raise _mismatch(f"`{name}` needs a number, not {argument.kind_name}", argument)
    return argument.value


def _degrees(name: str, argument: Quantity) -> Fraction:
    if not (argument.is_angle or argument.is_number):
        raise _mismatch(f"`{name}` needs an angle, not {argument.kind_name}", argument)
    return argument.value % 360


def _least(name: str, arguments: Arguments) -> Quantity:
    return _alike(name, arguments).with_value(min(each.value for each in arguments))


def _greatest(name: str, arguments: Arguments) -> Quantity:
    return _alike(name, arguments).with_value(max(each.value for each in arguments))


def _absolute(_name: str, arguments: Arguments) -> Quantity:
    return arguments[0].with_value(abs(arguments[0].value))


def _root(value: Fraction) -> Fraction:
    above, below = math.isqrt(value.numerator), math.isqrt(value.denominator)
    if above * above == value.numerator and below * below == value.denominator:
        return Fraction(above, below)
    return rounded(math.sqrt(value))


def _square_root(name: str, arguments: Arguments) -> Quantity:
    (argument,) = arguments
    if argument.angle or argument.length % 2:
        raise _mismatch(f"`{name}` needs a number or an area, not {argument.kind_name}", argument)
    if argument.value < 0:
        raise Refusal("not-finite", "a value below zero has no square root")
    return Quantity(_root(argument.value), argument.length // 2)


def _diagonal(name: str, arguments: Arguments) -> Quantity:
    return _alike(name, arguments).with_value(_root(sum((each.value**2 for each in arguments), Fraction(0))))


def _stepped(choose: Callable[[Fraction], int]) -> Callable[[str, Arguments], Quantity]:
    def apply(name: str, arguments: Arguments) -> Quantity:
        if len(arguments) == 1 and not arguments[0].is_number:
            kind = arguments[0].kind_name
            raise _mismatch(f"`{name}` of {kind} needs a step, as in `{name}(x, 1/16 in)`", arguments[0])
        kind_of = _alike(name, arguments)
        step = arguments[1].value if len(arguments) > 1 else Fraction(1)
        if step == 0:
            raise Refusal("division-by-zero", f"the step of `{name}` is zero")
        if step < 0:
            raise Refusal("out-of-range", f"the step of `{name}` is below zero")
        return kind_of.with_value(choose(kind_of.value / step) * step)

    return apply


def _sine(name: str, arguments: Arguments) -> Quantity:
    return Quantity(rounded(math.sin(math.radians(_degrees(name, arguments[0])))))


def _cosine(name: str, arguments: Arguments) -> Quantity:
    return Quantity(rounded(math.cos(math.radians(_degrees(name, arguments[0])))))


def _tangent(name: str, arguments: Arguments) -> Quantity:
    degrees = _degrees(name, arguments[0])
    if degrees % 180 == 90:
        raise Refusal("not-finite", f"`{name}` of {degrees} degrees has no end")
    return Quantity(rounded(math.tan(math.radians(degrees))))


def _from_ratio(invert: Callable[[float], float]) -> Callable[[str, Arguments], Quantity]:
    def apply(name: str, arguments: Arguments) -> Quantity:
        ratio = _number(name, arguments[0])
        if name != "atan" and abs(ratio) > 1:
            raise Refusal("not-finite", f"`{name}` needs a number from -1 to 1")
        return Quantity(rounded(math.degrees(invert(float(ratio)))), angle=1)

    return apply


def _direction(name: str, arguments: Arguments) -> Quantity:
    _alike(name, arguments)
    up, along = (float(each.value) for each in arguments)
    if up == 0 and along == 0:
        raise Refusal("not-finite", f"`{name}` of zero and zero has no direction")
    return Quantity(rounded(math.degrees(math.atan2(up, along))), angle=1)


FUNCTIONS: dict[str, Function] = {
    "min": Function(1, None, _least, "The least of several values of one kind."),
    "max": Function(1, None, _greatest, "The greatest of several values of one kind."),
    "abs": Function(1, 1, _absolute, "The value without its sign."),
    "sqrt": Function(1, 1, _square_root, "The square root of a number or an area."),
    "hypot": Function(2, None, _diagonal, "The diagonal of two or more lengths at right angles."),
    "floor": Function(1, 2, _stepped(math.floor), "Rounded down, to whole numbers or to a step."),
    "ceil": Function(1, 2, _stepped(math.ceil), "Rounded up, to whole numbers or to a step."),
    "round": Function(1, 2, _stepped(round), "Rounded to the nearest, to whole numbers or to a step."),
    "sin": Function(1, 1, _sine, "The sine of an angle."),
    "cos": Function(1, 1, _cosine, "The cosine of an angle."),
    "tan": Function(1, 1, _tangent, "The tangent of an angle."),
    "asin": Function(1, 1, _from_ratio(math.asin), "The angle with this sine."),
    "acos": Function(1, 1, _from_ratio(math.acos), "The angle with this cosine."),
    "atan": Function(1, 1, _from_ratio(math.atan), "The angle with this tangent."),
    "atan2": Function(2, 2, _direction, "The direction of a point, from how far up and how far to the right it lies."),
}
