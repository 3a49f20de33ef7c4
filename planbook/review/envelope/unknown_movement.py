"""Nothing is known about how a wood of the finished work moves through the year."""

from collections.abc import Iterator

from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "ENV04",
    "unknown-movement",
    Severity.NOTE,
    "The handbook has no figure for how much a wood swells, so that it is taken not to move.",
    "A fit of this wood is proved for kerfs and sanding, but not for the seasons.",
    '[stock.lid]\nwood = "padauk"   (with fits, and no shrinkage in its row)',
    '[stock.lid]\nwood = "black cherry"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Woods that stand still for want of a figure, where a fit hangs on them."""
    envelope, design = timeline.envelope, timeline.design
    if envelope is None or not design.fits:
        return
    for wood in envelope.unmoving:
        stock = next((each for each in design.stock.values() if each.wood == wood), None)
        if stock is not None:
            headline = f"board {short(stock.name)}: how much {short(wood)} moves through the year is not known"
            yield KIND.at(stock.wood_place, headline, label="taken not to move")
