"""Rows of the steps as they are printed: picture, words, settings, cautions, waiting."""

from collections.abc import Iterable, Mapping

from planbook.booklet.editions import Edition
from planbook.booklet.gathered import figure
from planbook.booklet.names import Names, step_anchor
from planbook.booklet.prose import prose_html
from planbook.booklet.records import CautionRow, Fact, Figure, Link, Recalled, StepRow
from planbook.booklet.rows import settings_once
from planbook.drawing.marks import Picture
from planbook.handbook import SIGNALS
from planbook.model import Step
from planbook.takeoff import CautionHere, CutRow, Lists
from planbook.units import show_minutes
from planbook.workshop import Timeline


def step_rows(
    timeline: Timeline, lists: Lists, pictures: Mapping[int, Picture], names: Names, edition: Edition
) -> tuple[StepRow, ...]:
    """Every step of the design, in order."""
    waits = {row.step: row.wait for row in lists.time.steps}
    return tuple(
        StepRow(
            step.number,
            step_anchor(step.number),
            step.title,
            _figures(step, pictures),
            tuple(prose_html(prose.text, names.resolve) for prose in step.prose if prose.text.strip()),
            settings_of((cut for cut in lists.cuts if cut.step == step.number), edition),
            caution_rows(lists.safety.of(step.number)),
            recalled(lists.safety.of(step.number)),
            show_minutes(round(waits[step.number])) if waits.get(step.number, 0) >= 1 else "",
        )
        for step in timeline.design.steps
    )


def settings_of(cuts: Iterable[CutRow], edition: Edition) -> tuple[Fact, ...]:
    """The tools and settings of a step, each once; values that differ from cut to cut stand side by side."""
    found = tuple(cuts)
    tools = ", ".join(dict.fromkeys(tool for cut in found for tool in cut.tools))
    settings = settings_once((setting for cut in found for setting in cut.settings), edition)
    return (Fact("Tool", tools), *settings) if tools else settings


def caution_rows(cautions: Iterable[CautionHere]) -> tuple[CautionRow, ...]:
    """The cautions that come first here, in full."""
    return tuple(CautionRow(here.caution.signal, here.caution.text) for here in cautions if not here.repeated)


def recalled(cautions: Iterable[CautionHere]) -> Recalled | None:
    """The cautions of earlier steps that hold here too, by name, each with a link to the step it stands in."""
    again = [here for here in cautions if here.repeated]
    if not again:
        return None
    links = (Link(f"{here.caution.name} ({here.first_step})", step_anchor(here.first_step)) for here in again)
    return Recalled(min((here.caution.signal for here in again), key=SIGNALS.index), tuple(links))


def _figures(step: Step, pictures: Mapping[int, Picture]) -> tuple[Figure, ...]:
    picture = pictures.get(step.number)
    return (figure(picture, f"Step {step.number}: {step.title}."),) if picture else ()
