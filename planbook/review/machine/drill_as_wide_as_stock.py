"""A hole is so wide that hardly any wood is left beside it."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of, setting
from planbook.review.heights import powered
from planbook.review.say import Say, short
from planbook.solids import FACE_FRAMES
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "MAC20",
    "drill-as-wide-as-stock",
    Severity.WARNING,
    "A drill is wider than two thirds of the side it goes into.",
    "The walls that are left split (common practice: a hole takes no more than two thirds of the width).",
    '```bore\npiece = "lath"\ndrill = "drill of 16 mm"\n```   (in a side of 20 mm)',
    '```bore\npiece = "lath"\ndrill = "drill of 10 mm"\n```   (in a side of 20 mm)',
)
SHARE = 2 / 3


def check(timeline: Timeline) -> Iterator[Finding]:
    """Holes that leave too little beside them."""
    say = Say(timeline)
    for event in events_of(timeline, "bore", "dowel holes", "fit hardware"):
        tool, wide = powered(event, timeline, "drill"), setting(event, "diameter", 0.0)
        face = event.show.face if event.show else ""
        if tool is None or face not in FACE_FRAMES:
            continue
        for piece in event.taken:
            normal = FACE_FRAMES[face].n
            side = min(e for e, n in zip(piece.solid.extent, normal, strict=True) if abs(n) < 0.5)
            if SHARE * side + 1e-6 < wide < side:
                have, room = say.pair(wide, side)
                yield KIND.at(
                    place_of(event, "drill"),
                    f"step {event.at.step} bores {have} wide into a side of {short(piece.name)} that is {room} wide",
                    label=f"{have} of {room}",
                )
