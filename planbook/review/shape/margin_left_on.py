"""A piece is sawn a little outside its line, and never brought down to it."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of, setting
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Timeline

KIND = Kind(
    "SHA50",
    "margin-left-on",
    Severity.WARNING,
    "A saw cut leaves wood outside the line, and no later step takes it down to the line.",
    "The part stays too large and as the saw left it; whoever saws beside the line expects to be told when it goes.",
    '```saw\npiece = "blank"\nstencil = "outline"\nleave = "0.5 mm"\n```',
    '```saw\npiece = "blank"\nstencil = "outline"\nleave = "0.5 mm"\n```\n\n'
    '```sand to line\npiece = "arch"\nstencil = "outline"\n```',
)
TO_THE_LINE = ("sand to line", "template copy")
"""Operations that end at the line of a stencil."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Margins of saw cuts that stay on; a piece that is thrown away or unknown needs no line."""
    if len(timeline.events) < len(timeline.design.operations):
        return
    say = Say(timeline)
    for event in events_of(timeline, "saw"):
        if float(setting(event, "leave", 0.0)) > 0 and not _taken_down(event, timeline):
            margin = say.length(float(setting(event, "leave")))
            headline = f"step {event.at.step} saws {margin} outside the line, and nothing takes the wood down to it"
            stencil = short(str(setting(event, "stencil", "")))
            hint = f"add `sand to line` with stencil {stencil}, or saw on the line"
            yield KIND.at(place_of(event, "leave"), headline, label="stays on", hint=hint)


def _taken_down(event: Event, timeline: Timeline) -> bool:
    """Whether one of the pieces sawn here is worked to a line of the same stencil later."""
    names = {piece.name for piece in event.made}
    return any(
        str(setting(each, "stencil", "")) == str(setting(event, "stencil", ""))
        and any(piece.name in names for piece in each.taken)
        for each in events_of(timeline, *TO_THE_LINE)
    )
