"""Lengths that a reader adds up are printed as fine as the sum asks for; it rounds none of them another way."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from planbook.units.chains import Chain
from planbook.units.printing import FINE_MM, THOUSANDTH, LengthStyle, is_in_thousandths, is_told, printed
from planbook.units.quantity import MM_PER_INCH

OFF = MM_PER_INCH / 128
"""A sum may be off by so much as it is printed, mm: half of 1/64 in, which a rule no longer shows."""
FINELY = Fraction(3, 2) * THOUSANDTH * MM_PER_INCH
"""And by so much where some of it is told in thousandths of an inch, which nobody adds to fractions in vain."""
PART = 2
"""And by no more than one such part of its smallest length, such as what is sanded off, which would be lost in it."""


@dataclass(frozen=True, slots=True)
class Sum:
    """A chain that is added up as it is printed, and how far that may be off, mm: told in fractions, None where they
    are settled otherwise, and where one of its lengths is told in thousandths of an inch (`finely`).
    """

    chain: Chain
    off: Fraction | None = OFF
    finely: Fraction = FINELY


def added_up(style: LengthStyle, sums: Sequence[Sum]) -> LengthStyle:
    """The style, with a finer step for all lengths of a sum that would be farther off as it is printed than it may be.

    That is half a step of inches where it is enough, else thousandths of an inch. What one sum asks for may put others
    off, so that all are looked at again until none is; the first come first, and only make lengths finer. What a bit is
    named by has its fraction or thousandths. A style in two units does both.
    """
    also = added_up(style.also, sums) if style.also else None
    if style.unit == "mm" or style.decimal:
        return replace(style, also=also)
    own, left = replace(style, also=None), list(sums)
    while found := [each for each in left if _is_off(each, own)]:
        for each in found:
            own = _finer(each, own)
        left = [each for each in left if any(_may_be_finer(mm, own) for mm in each.chain.lengths)]
    return replace(own, also=also)


def _finer(each: Sum, style: LengthStyle) -> LengthStyle:
    half = _with(each.chain, style, style.step / 2)
    return _with(each.chain, style, THOUSANDTH) if _is_off(each, half) else half


def _with(chain: Chain, style: LengthStyle, step: Fraction) -> LengthStyle:
    steps = dict(style.finer)
    told = (mm for mm in chain.lengths if _may_be_finer(mm, style) and (step == THOUSANDTH or mm not in style.bits))
    steps.update((mm, min(step, steps.get(mm, step))) for mm in told)
    return replace(style, finer=tuple(sorted(steps.items())))


def _may_be_finer(mm: Fraction, style: LengthStyle) -> bool:
    free = mm >= FINE_MM and not is_told(mm, replace(style, finer=()))
    return free and dict(style.finer).get(mm) != THOUSANDTH


def _is_off(each: Sum, style: LengthStyle) -> bool:
    """Whether a sum is farther off as it is printed than it may be."""
    finely = any(is_in_thousandths(mm, style) for mm in each.chain.lengths if mm >= FINE_MM)
    may = each.finely if finely else each.off
    if may is None:
        return False
    *parts, total = (printed(mm, style) for mm in each.chain.lengths)
    smallest = min((mm for mm in each.chain.parts if mm > 0), default=each.chain.total)
    return abs(sum(parts) - total) > min(may, smallest / PART)
