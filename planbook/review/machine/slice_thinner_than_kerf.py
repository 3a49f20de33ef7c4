"""A layer is sawn off that is thinner than the saw cut itself."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of, setting
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC08",
    "slice-thinner-than-kerf",
    Severity.WARNING,
    "A layer is sawn off that is thinner than the kerf of the saw.",
    "It flutters, tears and falls into the opening of the table (common practice: no thinner than the kerf).",
    '```slice\nthickness = "0.6 mm"\n```   (with a kerf of 1.1 mm)',
    '```slice\nthickness = "1.1 mm"\n```   (with a kerf of 1.1 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Layers that are too thin to be sawn."""
    say = Say(timeline)
    for event in events_of(timeline, "slice"):
        thick, kerf = setting(event, "fence", 0.0), setting(event, "kerf", 0.0)
        if thick < kerf - 1e-6:
            have, cut = say.pair(thick, kerf)
            yield KIND.at(
                place_of(event, "thickness"),
                f"step {event.at.step} slices {have} off {short(event.taken[0].name)}, less than the kerf of {cut}",
                label=f"the kerf is {cut}",
                hint="slice it thicker and sand it down, or saw it by hand",
            )
