"""Lengths that a reader adds up are printed as fine as the sum asks for; it rounds none of them another way."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from planbook.units.chains import Chain
from planbook.units.printing import FINE_MM, THOUSANDTH, LengthStyle, is_told, printed
from planbook.units.quantity import MM_PER_INCH

OFF = MM_PER_INCH / 128
"""A sum may be off by so much as it is printed, mm: half of 1/64 in, which a rule no longer shows."""
PART = 2
"""And by no more than one such part of its smallest length, such as what is sanded off, which would be lost in it."""


def added_up(style: LengthStyle, chains: Sequence[Chain], off: Fraction = OFF) -> LengthStyle:
    """The style, with a finer step for all lengths of a chain whose sum would be farther `off` (mm) as it is printed.

    That is half a step of inches where it is enough, else thousandths of an inch. What a bit is named by keeps its
    fraction. A style in two units does both.
    """
    also = added_up(style.also, chains, off) if style.also else None
    if style.unit == "mm" or style.decimal:
        return replace(style, also=also)
    own, left = replace(style, also=None), list(chains)
    while found := [chain for chain in left if _off(chain, own) > _may(chain, off)]:
        for chain in found:
            own = _finer(chain, own, off)
        left = [chain for chain in left if any(_may_be_finer(mm, own) for mm in chain.lengths)]
    return replace(own, also=also)


def _finer(chain: Chain, style: LengthStyle, off: Fraction) -> LengthStyle:
    half = _with(chain, style, style.step / 2)
    return half if _off(chain, half) <= _may(chain, off) else _with(chain, style, THOUSANDTH)


def _with(chain: Chain, style: LengthStyle, step: Fraction) -> LengthStyle:
    steps = dict(style.finer)
    steps.update((mm, min(step, steps.get(mm, step))) for mm in chain.lengths if _may_be_finer(mm, style))
    return replace(style, finer=tuple(sorted(steps.items())))


def _may_be_finer(mm: Fraction, style: LengthStyle) -> bool:
    free = mm >= FINE_MM and mm not in style.bits and not is_told(mm, replace(style, finer=()))
    return free and dict(style.finer).get(mm) != THOUSANDTH


def _off(chain: Chain, style: LengthStyle) -> Fraction:
    *parts, total = (printed(mm, style) for mm in chain.lengths)
    return abs(sum(parts) - total)


def _may(chain: Chain, off: Fraction) -> Fraction:
    return min(off, min(chain.parts) / PART)
