"""Lengths that would be printed alike although they are not are printed finer; it prints nothing itself."""

from collections.abc import Collection, Iterable
from dataclasses import replace
from fractions import Fraction

from planbook.units.chains import Chain
from planbook.units.printing import FINE_MM, INCH_DECIMAL, LengthStyle, per_step, show_fine, show_length
from planbook.units.quantity import Quantity


def told_apart(style: LengthStyle, groups: Iterable[Collection[Fraction]], chains: Iterable[Chain] = ()) -> LengthStyle:
    """The style, with half a step for lengths (mm) of a group that it prints alike though that tells them apart.

    A group are lengths that a reader compares, such as the widths of grooves; those below FINE_MM are printed finer
    already. Only fractions of an inch are too coarse. What adds up with others keeps its step, so that printed sums
    stay true. A style in two units does both.
    """
    summed = {length for chain in chains for length in chain.lengths}
    free = [[length for length in group if length >= FINE_MM and length not in summed] for group in groups]
    also = told_apart(style.also, free) if style.also else None
    coarse = style.unit == "in" and not style.decimal
    found = {length for group in free for length in _alike(group, replace(style, also=None))} if coarse else ()
    return replace(style, halved=tuple(sorted(found)), also=also)


def fine_enough(style: LengthStyle, lengths: Collection[Fraction]) -> LengthStyle:
    """The style if it prints no two different lengths (mm) alike; else with half the step, or with decimals.

    It is for lengths that stand side by side and add up with nothing, such as a width and its least and most.
    """
    if style.also:
        return replace(fine_enough(replace(style, also=None), lengths), also=fine_enough(style.also, lengths))
    free = replace(style, settled=(), halved=())
    decimals = INCH_DECIMAL if style.unit == "in" else replace(free, step=Fraction(1, 100))
    halves = [] if style.decimal or style.unit == "mm" else [replace(free, step=style.step / 2)]
    return next((one for one in (style, *halves) if _all_differ(one, lengths)), decimals)


def _all_differ(style: LengthStyle, lengths: Collection[Fraction]) -> bool:
    different = set(lengths)
    return len({show_fine(Quantity(length, length=1), style) for length in different}) == len(different)


def _alike(group: Collection[Fraction], style: LengthStyle) -> set[Fraction]:
    """The lengths of a group that another one is printed like, though half a step would tell the two apart."""
    printed = {length: show_length(length, style) for length in group}
    return {
        one
        for one in group
        for other in group
        if printed[one] == printed[other] and abs(one - other) >= per_step(style) / 2
    }
