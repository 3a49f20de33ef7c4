"""Prints exact lengths, angles and numbers in a chosen style (it chooses no style and lays out no page)."""

from bisect import bisect_left
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Literal

from planbook.speech import comma
from planbook.units.quantity import MM_PER_INCH, Quantity


def _is_decimal(value: Fraction) -> bool:
    below = value.denominator
    for prime in (2, 5):
        while below % prime == 0:
            below //= prime
    return below == 1


@dataclass(frozen=True, slots=True)
class LengthStyle:
    """How lengths are printed: the unit, the step rounded to (in that unit), and `3-1/2"` or `3 1/2 in`.

    `decimal` inches are printed as `3.5 in`; `also` is a second style that follows in brackets. `settled` are lengths
    (mm) that are not rounded to the nearest step but to so many steps, so that printed sums come true. `finer` are
    lengths (mm) that are rounded to a smaller step of their own, since others are nearly as long or a fit asks for it;
    thousandths of an inch are set as decimals of three places. `fixed` are lengths (mm) with what they are printed as,
    in the unit: thousandths that add up. `metric` are lengths (mm) that are sold by the millimetre: among inches they
    are printed as `18 mm (0.709 in)`, or as `18 mm` in a `brief` style, which is for drawings. `known` are the lengths
    (mm, in order) that a design gives: what is measured so near to one that only chords can lie between is that one.
    `bits` are the diameters (mm) of its drills and cutters.

    A length is told in thousandths of an inch as well where its fraction would stand for one that is told so: a reader
    would take the two for one.

    Tenths of a millimetre tell what lies half-way between two of them with one more place: two such lengths, each
    rounded to even, would lie farther apart or nearer than the width that they bound.
    """

    unit: Literal["in", "mm"]
    step: Fraction
    marks: bool = False
    decimal: bool = False
    also: "LengthStyle | None" = None
    settled: tuple[tuple[Fraction, int], ...] = ()
    finer: tuple[tuple[Fraction, Fraction], ...] = ()
    fixed: tuple[tuple[Fraction, Fraction], ...] = ()
    metric: tuple[Fraction, ...] = ()
    known: tuple[Fraction, ...] = ()
    bits: tuple[Fraction, ...] = ()
    brief: bool = False

    def __post_init__(self) -> None:
        if self.step <= 0:
            raise ValueError("the step of a length style must be more than zero")
        if self.unit == "mm" and not _is_decimal(self.step):
            raise ValueError("a step in millimetres must be a finite decimal")


INCH_64 = LengthStyle("in", Fraction(1, 64))
INCH_32 = LengthStyle("in", Fraction(1, 32))
INCH_DECIMAL = LengthStyle("in", Fraction(1, 1000), decimal=True)
INCH_16 = LengthStyle("in", Fraction(1, 16))
MM_TENTH = LengthStyle("mm", Fraction(1, 10))
MM_HALF = LengthStyle("mm", Fraction(1, 2))
MM_WHOLE = LengthStyle("mm", Fraction(1))
MM_AND_INCH = LengthStyle("mm", Fraction(1, 10), also=INCH_32)

FINE_MM = MM_PER_INCH / 8
"""Lengths below this (mm) are kerfs, gaps and allowances, which a fraction of an inch must not falsify."""

_SAME = Fraction(1, 10_000)
"""Lengths closer than this (mm) are one: what was measured on a solid comes as near to the size it was made by."""
_CHORDS = Fraction(1, 40)
"""Solids are made of chords, which lie up to 0.02 mm within the curve that they stand for."""
_QUARTER = MM_PER_INCH / 4
_TENTH, _HALF_WAY = Fraction(1, 10), Fraction(1, 2000)
"""Steps of a millimetre or less, of which halves are told, and how far (mm) a length may be off half-way for that."""
THOUSANDTH = Fraction(1, 1000)
"""The step of a caliper in inches, which is set as a decimal."""
_ANGLE_PLACES, _NUMBER_PLACES, _POWER_PLACES = 2, 4, 2


def show_length(mm: Fraction, style: LengthStyle) -> str:
    """Print a length of `mm` millimetres, rounded half to even on the style's step: "3 1/2 in"."""
    if style.also:
        return f"{show_length(mm, replace(style, also=None))} ({show_length(mm, style.also)})"
    mm = _meant(mm, style)
    if style.unit == "in" and _finds(mm, style.metric):
        told = to_mm_text(mm, 2)
        return told if style.brief else f"{told} ({_decimal(mm / MM_PER_INCH, 3)}\u00a0in)"
    size = _on_step(mm, style)
    if _own_step(mm, style) == THOUSANDTH and not style.decimal:
        return _thousandths(size)
    if style.unit == "mm" or style.decimal:
        return f"{_decimal(size, 20)} {style.unit}"
    return f'{_mixed(size, "-")}"' if style.marks else f"{_mixed(size, ' ')} in"


def is_exact(mm: Fraction, style: LengthStyle) -> bool:
    """Whether the printed value equals the true value of `mm` millimetres."""
    return _on_step(mm, style) * _mm_per(style) == mm


def is_told(mm: Fraction, style: LengthStyle) -> bool:
    """Whether nothing is lost in print: it is exact, or said in the millimetres that it is sold by."""
    return is_exact(mm, style) or (style.unit == "in" and _finds(mm, style.metric))


def rounded_by(mm: Fraction, style: LengthStyle) -> Fraction:
    """How far the printed value is off a length, mm."""
    return abs(_on_step(mm, style) * _mm_per(style) - mm)


def printed(mm: Fraction, style: LengthStyle) -> Fraction:
    """The length (mm) that is printed for one, as it is read again: a small one finely."""
    fine = abs(mm) < FINE_MM and not is_told(mm, style)
    return mm if fine else _on_step(mm, style) * _mm_per(style)


def unbound(style: LengthStyle) -> LengthStyle:
    """The style for what takes part in no sum and no fit: every length is rounded by itself."""
    also = unbound(style.also) if style.also else None
    return replace(style, settled=(), finer=(), fixed=(), also=also)


def show_at_least(mm: Fraction, style: LengthStyle) -> str:
    """Like `show_fine`, but never less than the length: up to the next step where it would be.

    It is for what is bought or planed: too thin cannot be mended. What is a tenth of a millimetre more than so many
    quarters of an inch was written for them.
    """
    if style.also:
        return f"{show_at_least(mm, replace(style, also=None))} ({show_at_least(mm, style.also)})"
    if is_told(mm, style) or (mm >= FINE_MM and _on_step(mm, style) * _mm_per(style) >= mm - _SAME):
        return show_length(mm, style)
    nominal = round(mm / _QUARTER) * _QUARTER
    if style.unit == "in" and nominal and abs(nominal - mm) <= _TENTH:
        return show_length(nominal, style)
    fine = replace(style, settled=(), finer=())
    if mm < FINE_MM:
        fine = replace(fine, step=Fraction(1, 1000 if style.unit == "in" else 100), decimal=style.unit == "in")
    return show_length(ceil((mm - _SAME) / per_step(fine)) * per_step(fine), fine)


def show_quantity(quantity: Quantity, style: LengthStyle) -> str:
    """Print any quantity: lengths in the style, angles as "22.5°", numbers as decimals, areas as "6 in²"."""
    if quantity.is_length:
        return show_length(quantity.value, style)
    if quantity.is_angle:
        return f"{_decimal(quantity.value, _ANGLE_PLACES)}°"
    if quantity.is_number:
        return _decimal(quantity.value, _NUMBER_PLACES)
    size = quantity.value / _mm_per(style) ** quantity.length
    power = {2: "²", 3: "³"}.get(quantity.length, f"^{quantity.length}")
    return f"{_decimal(size, _POWER_PLACES)} {style.unit}{power}"


def show_fine(quantity: Quantity, style: LengthStyle) -> str:
    """Like `show_quantity`, but a length below 1/8 in that the step would falsify is set as a decimal.

    A kerf is set with a caliper: thousandths of an inch ("0.043 in") or hundredths of a millimetre.
    """
    if style.also and quantity.is_length:
        return f"{show_fine(quantity, replace(style, also=None))} ({show_fine(quantity, style.also)})"
    mm = _meant(quantity.value, style) if quantity.is_length else quantity.value
    if not quantity.is_length or abs(mm) >= FINE_MM or is_told(mm, style):
        return show_quantity(quantity, style)
    if style.unit == "mm":
        return to_mm_text(mm, 2)
    size = _fixed(mm, style) or mm / MM_PER_INCH
    return f"{_decimal(size, 3)} in" if style.decimal else _thousandths(size)


def fine_size(mm: Fraction, style: LengthStyle) -> Fraction:
    """A length in the unit of a style, as fine as can be: as that is told elsewhere, where it is rounded for a sum."""
    return _fixed(mm, style) or mm / _mm_per(style)


def is_in_thousandths(mm: Fraction, style: LengthStyle) -> bool:
    """Whether a length of `mm` millimetres is printed in thousandths of an inch."""
    if style.unit == "mm" or is_told(mm, style):
        return False
    return abs(mm) < FINE_MM or style.decimal or _own_step(mm, style) == THOUSANDTH


def to_mm_text(mm: Fraction, places: int = 6) -> str:
    """Print millimetres as a decimal with its unit ("0.396875 mm"); six places hold every 1/64 in exactly."""
    return f"{_decimal(mm, places)} mm"


def _mm_per(style: LengthStyle) -> Fraction:
    return MM_PER_INCH if style.unit == "in" else Fraction(1)


def per_step(style: LengthStyle) -> Fraction:
    """One step of a style, mm."""
    return style.step * _mm_per(style)


def _on_step(mm: Fraction, style: LengthStyle) -> Fraction:
    fixed = _fixed(mm, style)
    if fixed is not None:
        return fixed
    own = _own_step(mm, style)
    if own:
        return round(mm / (own * _mm_per(style))) * own
    steps = next((steps for length, steps in style.settled if abs(length - abs(mm)) < _SAME), None)
    if steps is not None:
        return (steps if mm >= 0 else -steps) * style.step
    return in_steps(mm, style) * style.step


def in_steps(mm: Fraction, style: LengthStyle) -> Fraction:
    """A length by itself in steps of a style, whole ones or, of tenths of a millimetre, half-way between two."""
    steps = mm / per_step(style)
    half = Fraction(round(2 * steps), 2)
    fine = style.unit == "mm" and style.step <= _TENTH
    return (
        half
        if fine and half.denominator == 2 and abs(half - steps) * style.step < _HALF_WAY
        else Fraction(round(steps))
    )


def _own_step(mm: Fraction, style: LengthStyle) -> Fraction | None:
    """The smaller step that a length has of its own, or shares with one that it is compared with."""
    own = min((step for length, step in style.finer if abs(length - abs(mm)) < _SAME), default=None)
    if own == THOUSANDTH or style.unit == "mm" or style.decimal:
        return own
    step = (own or style.step) * _mm_per(style)
    told = round(abs(mm) / step) * step
    return own if abs(told - abs(mm)) < _SAME or not _is_like_a_fine_one(told, style) else THOUSANDTH


def _is_like_a_fine_one(told: Fraction, style: LengthStyle) -> bool:
    """Whether a fraction of an inch (mm) is what another length would be told as, which is told in thousandths."""
    half = per_step(style) / 2
    return any(own == THOUSANDTH and abs(length - told) < half for length, own in style.finer)


def _meant(mm: Fraction, style: LengthStyle) -> Fraction:
    """What was measured: a length of the design, or half a step of inches; or the length itself if it is neither."""
    at = bisect_left(style.known, abs(mm))
    half = per_step(style) / 2
    near = [length for length in style.known[max(0, at - 1) : at + 1] if abs(length - abs(mm)) < _CHORDS]
    on_half = [] if style.unit == "mm" else [round(abs(mm) / half) * half]
    near += (length for length in on_half if abs(length - abs(mm)) < _SAME)
    meant = min(near, key=lambda length: abs(length - abs(mm)), default=abs(mm))
    return -meant if mm < 0 else meant


def _fixed(mm: Fraction, style: LengthStyle) -> Fraction | None:
    """What a length is printed as so that a sum of thousandths comes true."""
    found = next((size for length, size in style.fixed if abs(length - abs(mm)) < _SAME), None)
    return -found if found is not None and mm < 0 else found


def _thousandths(size: Fraction) -> str:
    """Inches as a caliper shows them, with three places among fractions: "0.020 in"."""
    whole, rest = divmod(round(abs(size) * 1000), 1000)
    return f"{'-' if size < 0 else ''}{comma(f'{whole}.{rest:03}')} in"


def _finds(mm: Fraction, lengths: tuple[Fraction, ...]) -> bool:
    return any(abs(length - abs(mm)) < _SAME for length in lengths)


def _mixed(size: Fraction, joint: str) -> str:
    sign = "-" if size < 0 else ""
    whole, rest = divmod(abs(size), 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole}{joint}{rest}" if whole else f"{sign}{rest}"


def _decimal(value: Fraction, places: int) -> str:
    """Print without an exponent, without trailing zeros and never as "-0", rounded half to even."""
    scaled = round(abs(value) * 10**places)
    whole, rest = divmod(scaled, 10**places)
    decimals = str(rest).zfill(places).rstrip("0") if rest else ""
    text = comma(f"{whole}.{decimals}") if decimals else str(whole)
    return f"-{text}" if value < 0 and scaled else text
