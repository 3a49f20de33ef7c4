"""An entry cut across the grain is never closed."""

from collections.abc import Iterator

from planbook.review.bends import Run, Sawn, sawn
from planbook.review.beside import part_at, shifted, unit, waste_at
from planbook.review.cuts import events_of, place_of_name, setting
from planbook.review.grains import ALONG, one_way
from planbook.review.say import Say, short
from planbook.solids.frames import dot
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Timeline
from planbook.workshop.grain import grain_of

KIND = Kind(
    "TIM08",
    "entry-across-grain",
    Severity.WARNING,
    "An entry cut goes through a part that is kept, across its grain, and is not closed afterwards.",
    "The long fibres that held the part together are cut, and nothing bridges the gap.",
    '```saw\nentry = ["way in"]\n```   (across the grain, and no `shim` afterwards)',
    '```saw\nentry = ["way in"]\n```\n\n```shim\nline = "way in"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Entries that leave a part weak."""
    say = Say(timeline)
    for event in events_of(timeline, "saw"):
        closed = {(setting(e, "line"), _stencil(e)) for e in events_of(timeline, "shim") if e.at.step >= event.at.step}
        for each in sawn(event):
            for entry in each.entries:
                if (entry.line, setting(event, "stencil")) in closed:
                    continue
                if _across(each, entry) and not _harmless(event, each, entry, timeline):
                    yield KIND.at(
                        place_of_name(event, entry.line, timeline, "entry"),
                        f"step {event.at.step}: entry {short(entry.line)} cuts {short(each.piece.name)} across its"
                        " grain and is never closed",
                        label="cuts across the grain",
                        notes=(f"it is {say.length(_length(entry))} long in the wood",),
                        hint="glue a shim into it afterwards, or lead it in along the grain or through the waste",
                    )


def _stencil(event: Event) -> str:
    node = event.operation.fields.table().get("stencil")
    return str(node.value) if node else ""


def _across(each: Sawn, entry: Run) -> bool:
    frame, grain = each.stuck.frame, grain_of(each.piece)
    u, v = unit(entry.points[0], entry.points[-1])
    way = tuple(u * a + v * b for a, b in zip(frame.u, frame.v, strict=True))
    if not one_way(each.piece):
        return False
    return abs(dot(grain, (way[0], way[1], way[2]))) < ALONG and abs(dot(grain, frame.n)) < ALONG


def _harmless(event: Event, each: Sawn, entry: Run, timeline: Timeline) -> bool:
    """Whether the wood on either side of the entry is thrown away, or falls apart there."""
    (u, v), start, end = unit(entry.points[0], entry.points[-1]), entry.points[0], entry.points[-1]
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    reach = setting(event, "kerf", 0.0) + 0.5
    left, right = (shifted(middle, (-v, u), side * reach) for side in (1.0, -1.0))
    parted = part_at(event, each, left) is not part_at(event, each, right)
    return parted or waste_at(event, each, left, timeline) or waste_at(event, each, right, timeline)


def _length(entry: Run) -> float:
    (u0, v0), (u1, v1) = entry.points[0], entry.points[-1]
    return float(((u1 - u0) ** 2 + (v1 - v0) ** 2) ** 0.5)
