"""The abrasives of a design and of its prose, by their FEPA grit; not whether they are enough."""

import re
from collections.abc import Iterator

from planbook.handbook import abrasive, abrasives
from planbook.model import Step, Supply
from planbook.review.spoken import prose_of
from planbook.workshop import Timeline

NAMED = re.compile(r"(?<!\w)P ?(\d{2,4})(?!\w)")
GRADE = re.compile(r"P? ?\d+(?: grit)?", re.IGNORECASE)


def listed_grits(timeline: Timeline) -> list[tuple[int, Supply]]:
    """The grits that the design lists, coarse to fine, each with its supply."""
    found = []
    for supply in timeline.design.supplies.values():
        row = abrasive(supply.product or supply.name) if supply.kind == "abrasive" else None
        if row is not None:
            found.append((row.grit, supply))
    return sorted(found, key=lambda each: each[0])


def left_out(coarse: int, fine: int) -> list[int]:
    """The FEPA grits between two."""
    return [row.grit for row in abrasives().values() if coarse < row.grit < fine]


def said_grits(timeline: Timeline, step: Step) -> Iterator[list[int]]:
    """The grits that each paragraph of a step names, in order."""
    for paragraph in prose_of(timeline, step.number).split("\n\n"):
        yield [int(grit) for grit in NAMED.findall(paragraph)]
