"""Prose names something by a name that a size and a piece share."""

from collections.abc import Iterator

from planbook.model import Mention, prose_in_all
from planbook.model.sizes import folded
from planbook.review.bench import Benches
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "WOR10",
    "mention-of-two",
    Severity.WARNING,
    "A `{name}` in prose is both a size and a piece on the bench; the size is printed.",
    'The reader would be told to "put the 18 mm aside".',
    '[sizes]\nshelf = "18 mm"\n\n[stock.shelf]\nwood = "black cherry"',
    '[sizes]\n"shelf thickness" = "18 mm"\n\n[stock.shelf]\nwood = "black cherry"',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """The first mention of each name that means two things."""
    first: dict[str, Mention] = {}
    for mention in _of_two(timeline):
        first.setdefault(folded(mention.name), mention)
    for mention in first.values():
        headline = f"{short(mention.name)} is both a size and a piece, and the size is printed here"
        yield KIND.at(mention.place, headline, label="a size of that name", hint="give the size another name")


def _of_two(timeline: Timeline) -> Iterator[Mention]:
    """Mentions of a size where there is a piece of its name as well; a remedy may speak of any piece."""
    sizes, benches = {folded(name) for name in timeline.sizes}, Benches(timeline)
    for step in timeline.design.steps:
        mentions = [each for prose in prose_in_all(timeline.design, step) for each in prose.mentions]
        both = sizes & benches.of(step) if mentions else set()
        yield from (mention for mention in mentions if folded(mention.name) in both)
    pieces = {folded(name) for name in (*timeline.pieces, *timeline.fates)}
    for remedy in timeline.design.remedies.values():
        mentions = [each for prose in remedy.prose for each in prose.mentions]
        yield from (mention for mention in mentions if folded(mention.name) in sizes & pieces)
