"""A stencil is too small to stick."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "PRT03",
    "stencil-tiny",
    Severity.NOTE,
    "Everything on a stencil lies within 12 mm: so small a paper lifts off while it is worked to.",
    "A square and a pencil are surer (common practice).",
    '[stencils.peg]\nlines = { peg = "circle of 8 mm" }',
    '```bore\nface = "front"\nat = [["20 mm", "20 mm"]]\n```   (measured, without a stencil)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Stencils that are too small."""
    say, least = Say(timeline), limit("least stencil")
    seen = set()
    for stuck in timeline.stuck:
        if stuck.stencil.name in seen:
            continue
        seen.add(stuck.stencil.name)
        boxes = [line.bounds for line in stuck.lines.values()]
        boxes += [(u - d / 2, v - d / 2, u + d / 2, v + d / 2) for u, v, d in stuck.holes.values()]
        if not boxes:
            continue
        left, bottom = min(box[0] for box in boxes), min(box[1] for box in boxes)
        right, top = max(box[2] for box in boxes), max(box[3] for box in boxes)
        large = max(right - left, top - bottom)
        if large < least:
            yield KIND.at(
                stuck.stencil.place,
                f"stencil {short(stuck.stencil.name)} is only {say.length(large)} large",
                label=f"{say.length(large)} large",
                hint="measure its points on the face instead, or put it on a larger stencil",
            )
