"""Rows of the steps as they are printed: picture, words, settings, cautions, waiting."""

from collections.abc import Iterable, Mapping

from planbook.booklet.editions import Edition
from planbook.booklet.gathered import figure
from planbook.booklet.names import Names, step_anchor
from planbook.booklet.prose import prose_html
from planbook.booklet.records import CautionRow, Fact, Figure, StepRow
from planbook.booklet.rows import setting_fact
from planbook.drawing.marks import Picture
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
            tuple(map(caution_row, lists.safety.of(step.number))),
            show_minutes(round(waits[step.number])) if waits.get(step.number, 0) >= 1 else "",
        )
        for step in timeline.design.steps
    )


def settings_of(cuts: Iterable[CutRow], edition: Edition) -> tuple[Fact, ...]:
    """The tools and settings of a step, each once; values that differ from cut to cut stand side by side."""
    values: dict[str, dict[str, None]] = {}
    for cut in cuts:
        for tool in cut.tools:
            values.setdefault("Tool", {})[tool] = None
        for setting in cut.settings:
            fact = setting_fact(setting, edition)
            values.setdefault(fact.label, {})[fact.value] = None
    return tuple(Fact(label, ", ".join(found)) for label, found in values.items())


def caution_row(here: CautionHere) -> CautionRow:
    """A caution in full where it comes first; later only what to do, and where the rest stands."""
    if here.repeated:
        return CautionRow(here.caution.signal, f"{here.caution.avoid} (See step {here.first_step}.)")
    return CautionRow(here.caution.signal, here.caution.text)


def _figures(step: Step, pictures: Mapping[int, Picture]) -> tuple[Figure, ...]:
    picture = pictures.get(step.number)
    return (figure(picture, f"Step {step.number}: {step.title}."),) if picture else ()
