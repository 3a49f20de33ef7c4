"""What only the setting of the pages can find: pages on which hardly anything stands."""

from collections.abc import Iterator, Sequence

from planbook.text import Finding, Kind, Place, Severity

NEARLY_EMPTY = Kind(
    code="PRI03",
    name="page-nearly-empty",
    severity=Severity.NOTE,
    what="A page of the booklet is filled less than 15 % from its top.",
    why="It looks like a mistake, and it is paper that the reader pays for.",
    bad="a list whose last two rows stand alone on a page",
    good="a list with one row less, or a shorter text before it",
)


def nearly_empty(pages: Sequence[int], place: Place) -> Iterator[Finding]:
    """A note on pages that are nearly empty, if there are any."""
    if pages:
        numbers = ", ".join(map(str, pages))
        headline = (
            f"page {numbers} of the booklet is nearly empty"
            if len(pages) == 1
            else (f"pages {numbers} of the booklet are nearly empty")
        )
        hint = "a shorter sentence, or one more, in what stands before may mend it"
        yield NEARLY_EMPTY.at(place, headline, hint=hint)
