"""Rows of the steps as they are printed: picture, words, settings, cautions, waiting."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from planbook.booklet.basics import Fact, Figure, Link
from planbook.booklet.common import row_said
from planbook.booklet.course import course
from planbook.booklet.days import meanwhile, undone
from planbook.booklet.editions import STEP_ROOM, Edition
from planbook.booklet.gathered import figure
from planbook.booklet.names import Names, step_anchor
from planbook.booklet.prose import prose_html
from planbook.booklet.records import CautionRow, StepRow
from planbook.booklet.shown import film_row, photo_rows
from planbook.booklet.step_room import lengthy, lower, paired, wordy
from planbook.booklet.step_settings import passing_of, remarks_of, settings_of, with_sheets
from planbook.booklet.tongues import foreign_step
from planbook.drawing.marks import Picture
from planbook.drawing.stencil_read import sheet_numbers
from planbook.handbook import SIGNALS, Caution
from planbook.model import Step
from planbook.speech import say, told
from planbook.takeoff import CautionHere, CutRow, Lists
from planbook.workshop import Timeline


def step_rows(
    timeline: Timeline, lists: Lists, pictures: Mapping[int, Picture], names: Names, edition: Edition
) -> tuple[StepRow, ...]:
    """Every step of the design, in order."""
    lists = replace(lists, cuts=tuple(with_sheets(lists.cuts, *sheet_numbers(timeline))))
    waits = {row.step: row.wait for row in lists.time.steps}
    others, earlier = meanwhile(lists), undone(lists)
    return tuple(
        _row(
            step,
            timeline,
            lists,
            pictures,
            names,
            edition,
            waits.get(step.number, 0.0),
            others.get(step.number, ()),
            earlier.get(step.number, ()),
        )
        for step in timeline.design.steps
    )


def _row(
    step: Step,
    timeline: Timeline,
    lists: Lists,
    pictures: Mapping[int, Picture],
    names: Names,
    edition: Edition,
    wait: float,
    others: tuple[Link, ...],
    earlier: tuple[Link, ...],
) -> StepRow:
    figures = _figures(step, pictures)
    cuts = [cut for cut in lists.cuts if cut.step == step.number]
    written = [prose.text for prose in step.prose if prose.text.strip()]
    events, remarks = timeline.of_step(step), remarks_of(cuts)
    passing = passing_of(events, written)
    found = course(events, cuts, wait, lambda some: settings_of(some, edition, passing))
    others, earlier = (others, earlier) if found.wait else ((), ())
    found = replace(found, settings=_with_spoken(found.settings, _spoken_tools(step, lists, cuts)))
    settings, prose = (*found.settings, *found.later), [*written, *remarks]
    waiting = bool(found.wait) + bool(others or earlier)
    broad = any(figure.width > STEP_ROOM[0] for figure in figures)
    high = any(figure.height > STEP_ROOM[1] for figure in figures)
    height = sum(figure.height for figure in figures)
    # Words below a broad picture leave no column for the settings to stand in.
    film = film_row(timeline.design.card, step.moment)
    under = film.figure.height if film else 0.0
    across = broad or lower(height, prose, settings, waiting, under)
    title_language, language = foreign_step(timeline.design, edition.language, step.number)
    return StepRow(
        step.number,
        step_anchor(step.number),
        step.title,
        figures,
        tuple(filter(None, (prose_html(text, names.resolve, photos_apart=True) for text in written))),
        found.settings,
        tuple(caution_rows(lists.safety.of(step.number))),
        found.wait,
        others,
        across=tuple(paired(found.settings)) if across else (),
        later=found.later,
        later_across=tuple(paired(found.later)) if across else (),
        broad=broad,
        high=high,
        wordy=wordy(height, prose, settings, waiting, high),
        lengthy=lengthy(height, prose, high),
        title_language=title_language,
        language=language,
        photos=photo_rows(timeline.design, step, names, edition),
        film=film,
        remarks=remarks,
        undone=earlier,
    )


def caution_rows(cautions: Iterable[CautionHere]) -> Iterator[CautionRow]:
    """The cautions of a step, the gravest first: in full what comes first here, then by name those of earlier steps."""
    every = tuple(cautions)
    for signal in SIGNALS:
        found = [here for here in every if here.caution.signal == signal]
        yield from (CautionRow(signal, caution_text(here.caution)) for here in found if not here.repeated)
        if links := tuple(_recalled_link(here) for here in found if here.repeated):
            yield CautionRow(signal, "", links)


def caution_text(caution: Caution) -> str:
    """A caution in the language spoken, sentence by sentence."""
    if not caution.effect:
        return " ".join(map(say, (caution.hazard, caution.consequence, caution.avoid)))
    strong = caution.signal == "WARNING"
    what = "It could seriously affect {sites}; people differ in how much."
    known = "It is known to affect {sites}; people differ in how much."
    sites = [say(site) for site in caution.sites]
    listed = say(" and ").join(filter(None, (", ".join(sites[:-1]), sites[-1])))
    hazard = say("The dust of {wood} {effect}.", wood=row_said(caution.subject), effect=say(caution.effect))
    return f"{hazard} {say(what if strong else known, sites=listed)} {say(caution.avoid)}"


def caution_name(caution: Caution) -> str:
    """What a caution is called where it is only recalled."""
    if caution.effect:
        return say("dust of {wood}", wood=row_said(caution.subject))
    return say(caution.called or caution.name)


def _recalled_link(here: CautionHere) -> Link:
    return Link(f"{caution_name(here.caution)} ({here.first_step})", step_anchor(here.first_step))


def _spoken_tools(step: Step, lists: Lists, cuts: Sequence[CutRow]) -> tuple[str, ...]:
    """The tools of the design that the words of a step work with, and none of its operations does."""
    used = {tool for cut in cuts for tool in cut.tools}
    mine = [row.name for row in lists.tools if not row.implied and step.number in row.steps]
    return tuple(told(name) for name in mine if name not in used)


def _with_spoken(settings: tuple[Fact, ...], tools: tuple[str, ...]) -> tuple[Fact, ...]:
    """The settings of a step, whose first row names its tools, with those that its words alone take up."""
    label = say("Tool")
    if not tools:
        return settings
    first = [fact.value for fact in settings[:1] if fact.label == label]
    return Fact(label, ", ".join((*first, *tools))), *settings[len(first) :]


def _figures(step: Step, pictures: Mapping[int, Picture]) -> tuple[Figure, ...]:
    picture = pictures.get(step.number)
    return (figure(picture, say("Step {number}: {title}.", number=step.number, title=step.title)),) if picture else ()
