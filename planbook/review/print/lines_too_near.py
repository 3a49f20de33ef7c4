"""Two lines of a stencil run so close together that they cannot be told apart."""

from collections.abc import Iterator
from itertools import combinations

from planbook.handbook import limit
from planbook.model import Stencil
from planbook.review.cuts import events_of, setting
from planbook.review.say import Say, short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "PRT02",
    "lines-too-near",
    Severity.WARNING,
    "Two lines of a stencil run less than 1 mm apart without meeting.",
    "They print as one thick line, and no saw keeps to one of them (common practice).",
    '[stencils.front]\nlines = { outline = "arch", inner = "nearly the same arch" }',
    '[stencils.front]\nlines = { outline = "arch" }\n\n[stencils.inner]\nlines = { inner = "nearly the same arch" }',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Lines that run into one another on paper."""
    say, least = Say(timeline), limit("lines apart")
    entries = {name for event in events_of(timeline, "saw") for name in setting(event, "entry", ())}
    for stencil in timeline.design.stencils.values():
        for gap, one, two in _gaps(stencil, entries, timeline):
            if TOUCHING < gap < least:
                yield KIND.at(
                    next(line.place for line in stencil.lines if line.name == two),
                    f"stencil {short(stencil.name)}: lines {short(one)} and {short(two)} are {say.length(gap)} apart",
                    label=f"{say.length(gap)} from {short(one)}",
                    hint="put them on two stencils, or move them apart",
                )


Box = tuple[float, float, float, float]
TOUCHING = 0.02
"""Lines nearer than a chord is to its arc (mm) meet."""


def _gaps(stencil: Stencil, entries: set[str], timeline: Timeline) -> Iterator[tuple[float, str, str]]:
    """How far any two lines of a stencil are apart, mm; ways in run to their line and are left out."""
    drawn = [
        (line.name, timeline.shapes[line.shape])
        for line in stencil.lines
        if line.shape in timeline.shapes and line.name not in entries
    ]
    for (one, first), (two, second) in combinations(drawn, 2):
        if _near(first.bounds, second.bounds):
            yield first.gap(second), one, two


def _near(a: Box, b: Box) -> bool:
    """Whether two boxes are near enough for their lines to be so: most are not, and measuring takes time."""
    least = limit("lines apart")
    return all(a[k] - least < b[k + 2] and b[k] - least < a[k + 2] for k in (0, 1))
