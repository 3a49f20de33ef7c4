"""An entry cut meets its line so squarely that the blade would have to turn on the spot."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from planbook.review.bends import Run, Sawn
from planbook.review.beside import shifted, unit, waste_at
from planbook.review.cuts import place_of_name, setting
from planbook.review.say import Say, short
from planbook.review.turning import spot_on, unturning
from planbook.solids import Point2
from planbook.text import Finding, Kind, Place, Severity
from planbook.workshop import Event, Timeline

KIND = Kind(
    "MAC04",
    "entry-meets-square",
    Severity.WARNING,
    "An entry cut runs squarely into its line, with wood that is kept on both sides: a band cannot turn there.",
    "An entry that runs into the line at a slant, along one of its straight sides, or into a hole, needs no turn.",
    '[shapes."way in"]\nkind = "line"   (up to the middle of the bottom of an opening)',
    '[shapes."way in"]\nkind = "line"   (up along the left side of the opening)',
)
AT_THE_EDGE = 0.1
"""A line that ends so near the edge of the wood (mm) comes out there."""
STEEP = math.radians(50)
"""An entry at less than this to its line runs into it (common practice: about half a right angle)."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Entries that meet their line too squarely."""
    say = Say(timeline)
    for event, each, tool, width in unturning(timeline):
        for entry in each.entries:
            met = _meeting(entry, _needing_a_way(each), setting(event, "kerf", 0.0) + width / 2)
            if met and met[1] > STEEP and not _free(event, each, met, timeline):
                where = place_of_name(event, entry.line, timeline, "entry")
                yield _finding(event, entry.line, where, met[0], tool, width, say)


def _needing_a_way(each: Sawn) -> list[Run]:
    """The lines that do not come out at the edge of the wood: what meets one that does is only a relief cut."""
    outline = each.section.outers[0].plus(*each.section.outers[1:])
    return [
        run
        for run in each.lines
        if run.closed or min(outline.distance_to_edge(end) for end in (run.points[0], run.points[-1])) > AT_THE_EDGE
    ]


def _meeting(entry: Run, lines: Sequence[Run], reach: float) -> tuple[Point2, float, Point2] | None:
    """Where an entry meets a line in the wood, at what angle (rad), and the direction in which it runs."""
    found = []
    for end, near in ((entry.points[-1], entry.points[-2]), (entry.points[0], entry.points[1])):
        way = unit(near, end)
        for run in lines:
            points = (*run.points, run.points[0]) if run.closed else run.points
            for a, b in pairwise(points):
                far, at = _apart(end, a, b)
                if far < reach:
                    along = unit(a, b)
                    cross = abs(way[0] * along[1] - way[1] * along[0])
                    found.append((far, at, math.asin(min(1.0, cross)), way))
    if not found:
        return None
    _, at, angle, way = min(found, key=lambda f: f[0])
    return at, angle, way


def _apart(point: Point2, a: Point2, b: Point2) -> tuple[float, Point2]:
    """How far a point is from a chord, and the nearest point of the chord."""
    du, dv = b[0] - a[0], b[1] - a[1]
    long = du * du + dv * dv
    share = max(0.0, min(1.0, ((point[0] - a[0]) * du + (point[1] - a[1]) * dv) / long)) if long else 0.0
    at = (a[0] + share * du, a[1] + share * dv)
    return math.dist(point, at), at


def _free(event: Event, each: Sawn, met: tuple[Point2, float, Point2], timeline: Timeline) -> bool:
    """Whether there is waste to turn in beyond the line, or on either side of the entry."""
    at, _, way = met
    reach = 1.5 * setting(event, "kerf", 0.0) + 0.5
    aside = (-way[1], way[0])
    back = shifted(at, way, -2 * reach)
    around = (shifted(at, way, reach), shifted(back, aside, reach), shifted(back, aside, -reach))
    return any(waste_at(event, each, point, timeline) for point in around)


def _finding(event: Event, line: str, where: Place, at: Point2, tool: str, width: float, say: Say) -> Finding:
    return KIND.at(
        where,
        f"step {event.at.step}: entry {short(line)} runs squarely into its line, where {short(tool)} cannot turn",
        label="a turn on the spot",
        notes=(f"they meet {spot_on(at, say)}; the blade is {say.length(width)} wide",),
        hint="let the entry run in along a side of the line, or into a hole as wide as the blade",
    )
