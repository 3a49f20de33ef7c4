"""Printed sizes do not add up to their printed total."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from planbook.model.chains import chains_of
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.units import INCH_32, INCH_DECIMAL, MM_TENTH, Chain, LengthStyle, show_length, unsettled
from planbook.workshop import Timeline

KIND = Kind(
    "PRT01",
    "sum-does-not-add-up",
    Severity.WARNING,
    "A size is the sum of others, but printed in some unit they come to another total, however they are rounded.",
    "The reader adds them up on the bench and trusts none of them any more.",
    'units = "in"\n\n[sizes]\nleft = "1 3/64 in"\nright = "1 3/64 in"\nwhole = "left + right"',
    'units = "in"\n\n[sizes]\nleft = "1 1/32 in"\nright = "1 1/32 in"\nwhole = "left + right"',
)
STYLES: Mapping[str, LengthStyle] = {
    "inches": INCH_32,
    "decimal inches": INCH_DECIMAL,
    "millimetres": MM_TENTH,
}
"""How booklets print lengths; one with both units prints them as two of these."""
OWN = {"in": ("inches",), "mm": ("millimetres",)}
"""The units of the usual booklet of a design: in another edition it is only a note."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Totals that differ from the sum of their parts, where no rounding of the parts can mend it."""
    chains = chains_of(timeline.design.sizes, timeline.sizes)
    for unit, style in STYLES.items():
        for chain in unsettled(style, chains):
            parts, whole = [show_length(part, style) for part in chain.parts], show_length(chain.total, style)
            found = KIND.at(
                timeline.design.sizes[chain.name].place,
                f"in {unit}, {_said(chain)} is printed as {whole}, but its parts as {' + '.join(parts)}",
                label=f"printed as {whole}",
                notes=(f"booklets in {unit} print lengths to {_step(style)}",),
                hint="give the parts sizes that can be printed exactly, or that are not all the same",
            )
            yield found if unit in OWN[timeline.design.card.units] else replace(found, severity=Severity.NOTE)


def _said(chain: Chain) -> str:
    return f"the sum of size {short(chain.name)}"


def _step(style: LengthStyle) -> str:
    return f"{style.step if style == INCH_32 else float(style.step)} {style.unit}"
