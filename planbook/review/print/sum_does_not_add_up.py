"""Printed sizes do not add up to their printed total."""

from collections.abc import Iterator
from fractions import Fraction

from planbook.model import Size
from planbook.review.lengths import length_of
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.units import INCH_32, MM_TENTH, LengthStyle, Use, read_quantity, show_length
from planbook.units.program import Call
from planbook.workshop import Timeline

KIND = Kind(
    "PRT01",
    "sum-does-not-add-up",
    Severity.WARNING,
    "A size is the sum of others, but as they are printed, rounded, they come to another total.",
    "The reader adds them up on the bench and trusts none of them any more.",
    'units = "in"\n\n[sizes]\nleft = "1 3/64 in"\nright = "1 3/64 in"\nwhole = "left + right"',
    'units = "in"\n\n[sizes]\nleft = "1 1/32 in"\nright = "1 1/32 in"\nwhole = "left + right"',
)
STYLES = {"in": INCH_32, "mm": MM_TENTH}
"""How booklets print the sizes of a design in its own units."""
SMALL = 25.4 / 8
"""Lengths below this (mm) are printed finer, and add up."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Totals that differ from the sum of their parts."""
    style = STYLES[timeline.design.card.units]
    for size in timeline.design.sizes.values():
        parts = _parts(size, timeline)
        total = length_of(size.expr, timeline)
        if total is None or len(parts) < 2 or min(parts) < SMALL:
            continue
        printed = [show_length(_exact(part), style) for part in parts]
        whole = show_length(_exact(total), style)
        if sum(_read(text) for text in printed) != _read(whole):
            yield KIND.at(
                size.place,
                f"size {short(size.name)} is printed as {whole}, but its parts as {' + '.join(printed)}",
                label=f"printed as {whole}",
                notes=(f"booklets print lengths to {_step(style)}",),
                hint="give the parts sizes that can be printed exactly",
            )


def _parts(size: Size, timeline: Timeline) -> list[float]:
    """The lengths (mm) of the sizes of which a size is the plain sum; none where it is anything else."""
    uses = [step for step in size.expr.formula.program if isinstance(step, Use)]
    others = [step for step in size.expr.formula.program if not isinstance(step, Use)]
    if not all(isinstance(step, Call) and step.name == "add" for step in others):
        return []
    values = [timeline.sizes.get(use.name) for use in uses]
    return [float(value.value) for value in values if value is not None and value.is_length]


def _exact(mm: float) -> Fraction:
    return Fraction(mm).limit_denominator(10**9)


def _read(text: str) -> Fraction:
    return read_quantity(text).value


def _step(style: LengthStyle) -> str:
    return f"{style.step} {style.unit}" if style.unit == "in" else f"{float(style.step):g} mm"
