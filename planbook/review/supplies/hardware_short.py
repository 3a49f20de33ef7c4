"""More hardware is used than the design says to buy."""

from collections.abc import Iterator

from planbook.review.say import Say, short
from planbook.text import Aside, Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP03",
    "hardware-short",
    Severity.ERROR,
    "The steps fit more pieces of hardware than the `count` of the supply.",
    "The list prints the count: the reader would stand there with too few.",
    "[supplies.hinge]\ncount = 1\n(two are fitted)",
    "[supplies.hinge]\ncount = 2\n(two are fitted)",
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Hardware that runs out."""
    say = Say(timeline)
    for supply in timeline.design.supplies.values():
        uses = [(event, use) for event in timeline.events for use in event.uses if use.name == supply.name]
        counted = [(event, use.amount) for event, use in uses if use.unit == "pieces"]
        total = round(sum(amount for _, amount in counted))
        if supply.count is not None and total > supply.count:
            last = counted[-1][0]
            yield KIND.at(
                supply.place,
                f"supply {short(supply.name)}: {total} are fitted, but `count` is {supply.count}",
                label=f"`count` is {supply.count}",
                also=(Aside(last.at.place, f"the last are fitted in step {last.at.step} {say.title(last.at.step)}"),),
                hint=f"write `count = {total}`",
            )
