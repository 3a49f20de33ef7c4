"""Reads a design, builds it on solids and reviews the build; looks for a size; prints and writes nothing."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cache import Cache
from planbook.pipeline.records import FORGETFUL, Answered, Checked, Progress, Units
from planbook.text import in_order

if TYPE_CHECKING:
    from planbook.workshop import Timeline


def check(
    folder: Path,
    progress: Progress = lambda _: None,
    *,
    choice: str | None = None,
    nominal: bool = False,
    cache: Cache = FORGETFUL,
    meanwhile: "Callable[[Timeline], None] | None" = None,
) -> Checked:
    """Read a design, build it on solids, in one of its choices of woods if asked for, and review the build.

    `nominal` leaves out what may vary. Where there is something to do `meanwhile` with the build, it is proved by
    another process. Raises UnknownChoice.
    """
    from planbook.model import with_choice
    from planbook.pipeline.proving import proved
    from planbook.reader import read_design
    from planbook.review import review
    from planbook.review.untold import untold_everywhere
    from planbook.workshop.kept import prove_or_recall
    from planbook.workshop.run import build

    progress("reading")
    reading = read_design(folder)
    if reading.design is None:
        return Checked(reading.findings, reading.sources)
    design = with_choice(reading.design, choice) if choice is not None else reading.design
    progress("building")
    if nominal:
        timeline = build(design)
    else:
        timeline = proved(design, cache, meanwhile) if meanwhile else prove_or_recall(design, cache)
    progress("reviewing")
    findings = in_order((*reading.findings, *review(timeline), *untold_everywhere(timeline)))
    return Checked(findings, reading.sources, design, timeline)


def solve(
    folder: Path,
    size: str,
    fit: str,
    above: Fraction | None = None,
    below: Fraction | None = None,
    units: Units | None = None,
    progress: Progress = lambda _: None,
) -> Answered:
    """The value of a size with which a fit just holds over the whole envelope, between two bounds in mm."""
    from planbook.reader import read_design
    from planbook.review import review
    from planbook.review.answers import Question, answer
    from planbook.workshop.run import build

    progress("reading")
    reading = read_design(folder)
    design = reading.design
    if design is None:
        return Answered(reading.findings, reading.sources)
    if units is not None:
        design = replace(design, card=replace(design.card, units=units))
    progress("building")
    timeline = build(design)
    broken = tuple(finding for finding in review(timeline) if finding.stops)
    if len(timeline.events) < len(design.operations):
        return Answered(in_order(broken), reading.sources)
    progress("solving")
    findings, sentences = answer(Question(timeline, size, fit, above, below))
    return Answered(findings, reading.sources, sentences)
