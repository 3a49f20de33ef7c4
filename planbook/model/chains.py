"""Which sizes of a design are sums of others, as chains of lengths; not how they are rounded."""

from collections.abc import Mapping
from fractions import Fraction

from planbook.model.design import Size
from planbook.model.sizes import folded
from planbook.units import Chain, Quantity, Use
from planbook.units.program import Call, Constant

Terms = list[tuple[int, str]]
"""Sizes with their signs; an empty list is what is no plain sum."""
MOST = 12
"""A size is taken so many times at most."""


def chains_of(sizes: Mapping[str, Size], values: Mapping[str, Quantity]) -> tuple[Chain, ...]:
    """The sizes that are sums or differences of others, also taken several times, in the order of the design."""
    known = {folded(name): value for name, value in values.items()}
    return tuple(chain for size in sizes.values() if (chain := _chain(size, known)) is not None)


def _chain(size: Size, values: Mapping[str, Quantity]) -> Chain | None:
    total, found = values.get(folded(size.name)), _terms(size)
    lengths = [values.get(folded(name)) for _, name in found]
    if total is None or not total.is_length or len(found) < 2 or any(v is None or not v.is_length for v in lengths):
        return None
    signed = [(sign, Fraction(v.value)) for (sign, _), v in zip(found, lengths, strict=True) if v is not None]
    taken, off = [v for sign, v in signed if sign > 0], [v for sign, v in signed if sign < 0]
    if not off:
        return Chain(size.name, tuple(taken), Fraction(total.value))
    return Chain(size.name, (Fraction(total.value), *off), taken[0]) if len(taken) == 1 else None


def _terms(size: Size) -> Terms:
    """The sizes of a formula of sums, differences and whole multiples, each with its sign; none for any other."""
    stack: list[Terms | int] = []
    for step in size.expr.formula.program:
        if isinstance(step, Use):
            stack.append([(1, step.name)])
        elif isinstance(step, Constant):
            stack.append(_whole(step.quantity))
        elif isinstance(step, Call) and len(stack) > 1:
            right, left = stack.pop(), stack.pop()
            stack.append(_result(step.name, left, right))
        else:
            return []
    return stack[0] if len(stack) == 1 and isinstance(stack[0], list) else []


def _result(name: str, left: Terms | int, right: Terms | int) -> Terms | int:
    if isinstance(left, list) and isinstance(right, list) and left and right and name in ("add", "subtract"):
        return [*left, *(right if name == "add" else [(-sign, size) for sign, size in right])]
    if name == "multiply":
        many, terms = (left, right) if isinstance(left, int) else (right, left)
        if isinstance(many, int) and isinstance(terms, list):
            return terms * many
    return []


def _whole(quantity: Quantity) -> Terms | int:
    """A small whole number, by which a size is taken several times; nothing for any other constant."""
    value = quantity.value
    return int(value) if quantity.is_number and value.denominator == 1 and 0 < value <= MOST else []
