"""Lengths that would be printed alike although they are not are printed finer; it prints nothing itself."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from planbook.units.chains import Chain
from planbook.units.printing import (
    FINE_MM,
    INCH_64,
    INCH_DECIMAL,
    THOUSANDTH,
    LengthStyle,
    is_told,
    per_step,
    rounded_by,
    show_fine,
    show_length,
)
from planbook.units.quantity import MM_PER_INCH, Quantity

HUNDREDTH = Fraction(1, 100)
THIN = Fraction(1, 10)
"""A board whose thickness would be told this much too thin, mm, is told finer: where boards are stacked it adds up."""


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
    halves = tuple((length, style.step / 2) for length in sorted(found))
    return replace(style, finer=halves, also=also)


def fine_enough(style: LengthStyle, lengths: Collection[Fraction]) -> LengthStyle:
    """The style if it prints no two different lengths (mm) alike; else with half the step, or with decimals.

    It is for lengths that stand side by side and add up with nothing, such as a width and its least and most.
    """
    if style.also:
        return replace(fine_enough(replace(style, also=None), lengths), also=fine_enough(style.also, lengths))
    free = replace(style, settled=(), finer=())
    decimals = INCH_DECIMAL if style.unit == "in" else replace(free, step=HUNDREDTH)
    halves = [] if style.decimal or style.unit == "mm" else [replace(free, step=style.step / 2)]
    return next((one for one in (style, *halves) if _all_differ(one, lengths)), decimals)


def in_hundredths(style: LengthStyle) -> LengthStyle:
    """The style with hundredths of a millimetre for tenths; fractions of an inch stay as they are."""
    if style.also:
        return replace(in_hundredths(replace(style, also=None)), also=in_hundredths(style.also))
    return replace(style, settled=(), finer=(), step=HUNDREDTH) if style.unit == "mm" else style


def in_metric(style: LengthStyle, lengths: Collection[Fraction]) -> LengthStyle:
    """The style, with lengths (mm) that are sold by the millimetre told so among inches; beside millimetres exactly."""
    if style.also:
        exact = tuple((length, THOUSANDTH) for length in lengths if style.also.unit == "in")
        return replace(style, also=replace(style.also, finer=(*style.also.finer, *exact)))
    return replace(style, metric=tuple(sorted(lengths)))


def in_fractions(style: LengthStyle, kept: Collection[Fraction] = ()) -> LengthStyle:
    """The style, with a fraction in place of thousandths of an inch where it is within one of them of the length.

    It is read off a rule, and no rule shows the difference. What is rounded for a sum stays as it is, and so do lengths
    (mm) that are `kept`. A style in two units does so of inches.
    """
    if style.also:
        return replace(in_fractions(replace(style, also=None), kept), also=in_fractions(style.also, kept))
    if style.unit == "mm" or style.decimal:
        return style
    plain = replace(style, finer=(), settled=(), fixed=(), step=style.step / 2)
    summed = {*kept, *(mm for mm, _ in (*style.settled, *style.fixed))}
    fine = [mm for mm, step in style.finer if step == THOUSANDTH and mm not in summed]
    near = {mm for mm in fine if rounded_by(mm, plain) <= THOUSANDTH * MM_PER_INCH}
    return replace(style, finer=tuple((mm, style.step / 2 if mm in near else step) for mm, step in style.finer))


def measured_as_given(style: LengthStyle, lengths: Iterable[Fraction]) -> LengthStyle:
    """The style, which tells what is measured on solids as the lengths (mm) that a design gives where it means them."""
    known = tuple(sorted({length for length in lengths if length > 0}))
    return replace(style, known=known, also=replace(style.also, known=known) if style.also else None)


Leeway = tuple[Collection[Fraction], Fraction]
"""Lengths that one thing is set by, and how far each of them may be off, mm."""


def within_leeways(style: LengthStyle, groups: Iterable[Leeway]) -> LengthStyle:
    """The style, with a finer step for all lengths (mm) of a group of which it would print one too far off.

    It is the coarsest that is good enough: half a step, else thousandths of an inch or hundredths of a millimetre. A
    style in two units does both.
    """
    groups = list(groups)
    own = replace(style, also=None)
    steps = dict(own.finer)
    for lengths, leeway in groups:
        told = [length for length in lengths if length >= FINE_MM and not is_told(length, own)]
        if any(rounded_by(length, own) > leeway for length in told):
            step = _good_enough(own, told, leeway)
            steps.update((length, min(step, steps.get(length, step))) for length in told)
    also = within_leeways(style.also, groups) if style.also else None
    return replace(style, finer=tuple(sorted(steps.items())), also=also)


def bored_alike(style: LengthStyle, diameters: Iterable[Fraction]) -> LengthStyle:
    """The style, with diameters (mm) of drills and cutters, and their radii, told as finely as those are sold.

    Those are 1/64 in, or the hundredths of a millimetre of a drill of inches: the plug is told as its hole is.
    """
    diameters = list(diameters)
    step = INCH_64.step if style.unit == "in" else HUNDREDTH
    steps = {} if style.decimal else {each: step for d in diameters for each in (d, d / 2)}
    wanted = {mm: step for mm, step in steps.items() if not is_told(mm, replace(style, also=None, finer=()))}
    also = bored_alike(style.also, diameters) if style.also else None
    return replace(style, finer=_finest(style, wanted), bits=tuple(sorted(diameters)), also=also)


def thick_enough(style: LengthStyle, thicknesses: Iterable[Fraction]) -> LengthStyle:
    """The style, with half a step for thicknesses (mm) of boards that it would tell THIN too thin or more."""
    thicknesses = list(thicknesses)
    coarse = style.unit == "in" and not style.decimal
    thin = [mm for mm in thicknesses if round(mm / per_step(style)) * per_step(style) <= mm - THIN] if coarse else []
    also = thick_enough(style.also, thicknesses) if style.also else None
    return replace(style, finer=_finest(style, dict.fromkeys(thin, style.step / 2)), also=also)


def _finest(style: LengthStyle, steps: Mapping[Fraction, Fraction]) -> tuple[tuple[Fraction, Fraction], ...]:
    """The lengths that a style tells finer, with others that are to be told so too."""
    found = dict(style.finer)
    found.update((mm, min(step, found.get(mm, step))) for mm, step in steps.items())
    return tuple(sorted(found.items()))


def _good_enough(style: LengthStyle, lengths: Collection[Fraction], leeway: Fraction) -> Fraction:
    """The coarsest step that prints none of the lengths farther off; where none does, the finest."""
    halves = [] if style.unit == "mm" or style.decimal else [style.step / 2]
    finest = THOUSANDTH if style.unit == "in" else HUNDREDTH
    free = replace(style, settled=(), finer=())
    good = (s for s in halves if all(rounded_by(length, replace(free, step=s)) <= leeway for length in lengths))
    return next(good, finest)


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
