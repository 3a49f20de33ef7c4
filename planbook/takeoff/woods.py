"""The woods of a design and what the reader should know of each."""

from planbook.handbook import Handbook
from planbook.takeoff.boards import density_of
from planbook.takeoff.records import WoodRow
from planbook.workshop import Timeline

UNKNOWN = "The handbook does not know this wood: neither its weight nor what its dust does is stated here."
NO_REACTION = "No reaction to its dust is listed here; all wood dust harms the lungs in the long run."
"""Wood dust in general: IARC Monographs volume 100C (2012), group 1."""


def wood_rows(timeline: Timeline) -> tuple[WoodRow, ...]:
    """The woods by name, in the order of the stock."""
    names = dict.fromkeys(stock.wood for stock in timeline.design.stock.values())
    return tuple(_row(name, timeline.design.handbook) for name in names)


def _row(name: str, book: Handbook) -> WoodRow:
    found = book.wood(name)
    if found is None:
        return WoodRow(name, False, "", "", None, "", "", (UNKNOWN,))
    dust = f"The dust of {name} {found.dust}." if found.dust else ""
    return WoodRow(
        name=name,
        known=True,
        latin=found.latin,
        group=found.group,
        density=density_of(name, book),
        dust=dust,
        source=found.dust_source if dust else found.source,
        notes=(dust or NO_REACTION,),
    )
