"""Rows of the steps as they are printed: picture, words, settings, cautions, waiting."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from planbook.booklet.basics import Fact, Figure, Link
from planbook.booklet.common import row_said
from planbook.booklet.course import course
from planbook.booklet.days import meanwhile
from planbook.booklet.editions import STEP_ROOM, Edition
from planbook.booklet.gathered import figure
from planbook.booklet.names import Names, step_anchor
from planbook.booklet.prose import prose_html
from planbook.booklet.records import CautionRow, Recalled, StepRow
from planbook.booklet.rows import capital, settings_once, uncapital
from planbook.booklet.shown import film_row, photo_rows
from planbook.booklet.step_room import lengthy, lower, paired, wordy
from planbook.booklet.tongues import foreign_step
from planbook.drawing.marks import Picture
from planbook.drawing.stencil_read import sheet_numbers
from planbook.handbook import SIGNALS, Caution
from planbook.model import Step
from planbook.speech import called, labelled, say, told
from planbook.takeoff import CautionHere, CutRow, Lists, Setting
from planbook.units import Quantity
from planbook.workshop import Event, Timeline


def step_rows(
    timeline: Timeline, lists: Lists, pictures: Mapping[int, Picture], names: Names, edition: Edition
) -> tuple[StepRow, ...]:
    """Every step of the design, in order."""
    lists = replace(lists, cuts=tuple(with_sheets(lists.cuts, *sheet_numbers(timeline))))
    waits = {row.step: row.wait for row in lists.time.steps}
    others = meanwhile(lists)
    return tuple(
        _row(step, timeline, lists, pictures, names, edition, waits.get(step.number, 0.0), others.get(step.number, ()))
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
) -> StepRow:
    figures = _figures(step, pictures)
    cuts = [cut for cut in lists.cuts if cut.step == step.number]
    written = [prose.text for prose in step.prose if prose.text.strip()]
    events, remarks = timeline.of_step(step), remarks_of(cuts)
    passing = _passing(events, written)
    found = course(events, cuts, wait, lambda some: settings_of(some, edition, passing))
    settings, prose = (*found.settings, *found.later), [*written, *remarks]
    waiting = bool(found.wait) + bool(others)
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
        caution_rows(lists.safety.of(step.number)),
        recalled(lists.safety.of(step.number)),
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
    )


STENCIL = "stencil"


def with_sheets(cuts: Iterable[CutRow], numbers: Mapping[str, Sequence[int]], total: int) -> Iterable[CutRow]:
    """The cuts with the numbers of its sheets behind the name of a stencil, as they stand there: "hollow (5 of 6)".

    So that a sheet is found whatever its title is. One sheet alone needs no number.
    """
    for cut in cuts:
        yield replace(cut, settings=tuple(_with_sheet(s, numbers, total) for s in cut.settings))


def _with_sheet(setting: Setting, numbers: Mapping[str, Sequence[int]], total: int) -> Setting:
    mine = numbers.get(str(setting.value), ()) if setting.key == STENCIL else ()
    if not mine or total < 2:
        return setting
    sheets = say("{number} of {total}", number=say(" and ").join(map(str, mine)), total=total)
    return replace(setting, value=f"{told(str(setting.value))} ({sheets})")


RECORDED = "recorded"
"""The setting that is a remark about the drawings: there is nothing in it to be set."""


def remarks_of(cuts: Iterable[CutRow]) -> tuple[str, ...]:
    """What is to be said of the drawings of a step, each sentence once."""
    said = (told(str(s.value)) for cut in cuts for s in cut.settings if s.key == RECORDED)
    return tuple(dict.fromkeys(said))


def _passing(events: Sequence[Event], prose: Iterable[str]) -> frozenset[str]:
    """The pieces that a step makes and uses up, if its words do not name them: no picture and no list shows them."""
    made: dict[str, int] = {piece.name: n for n, event in enumerate(events) for piece in event.made}
    taken = {piece.name: n for n, event in enumerate(events) for piece in event.taken}
    told = " ".join(prose)
    return frozenset(name for name, n in made.items() if n < taken.get(name, -1) and f"{{{name}" not in told)


def settings_of(cuts: Iterable[CutRow], edition: Edition, passing: Collection[str] = frozenset()) -> tuple[Fact, ...]:
    """The tools and settings of a step, each once.

    Pieces that are only `passing` have no name that a reader would know; what is done to them is said to come then.

    Values of one label that differ from cut to cut stand side by side. Where several labels differ, or one has several
    values already, nobody would know what belongs to which: then each cut has a line of its own, under its pieces.
    """
    found = _counted(tuple(map(_without_remarks, cuts)))
    tools = ", ".join(dict.fromkeys(told(tool) for cut in found for tool in cut.tools))
    each = [{fact.label: fact.value for fact in settings_once(cut.settings, edition)} for cut in found]
    shared = [label for label in (each[0] if each else {}) if len({facts.get(label) for facts in each}) == 1]
    apart = {label for facts in each for label in facts} - set(shared)
    several = any(", " in facts.get(label, "") for facts in each for label in apart)
    if len(apart) < 2 and not (several and len({cut.pieces for cut in found}) > 1):
        settings = settings_once((setting for cut in found for setting in cut.settings), edition)
    else:
        settings = (*(Fact(label, each[0][label]) for label in shared), *_lines(found, each, apart, passing))
    return (Fact(say("Tool"), tools), *settings) if tools else settings


def _without_remarks(cut: CutRow) -> CutRow:
    return replace(cut, settings=tuple(s for s in cut.settings if s.key != RECORDED))


COUNT = "count"


def _counted(cuts: tuple[CutRow, ...]) -> tuple[CutRow, ...]:
    """Cuts that each say how many of one thing they fit: the number of all of them together, on every one."""
    told = [{s.key: s.value for s in cut.settings} for cut in cuts]
    numbers = [value for each in told if isinstance(value := each.get(COUNT), Quantity)]
    if len(cuts) < 2 or len(numbers) < len(cuts) or len({each.get("hardware") for each in told}) > 1:
        return cuts
    total = Setting(COUNT, Quantity(sum((n.value for n in numbers), start=Fraction(0))))
    return tuple(replace(cut, settings=tuple(total if s.key == COUNT else s for s in cut.settings)) for cut in cuts)


def _lines(
    cuts: Sequence[CutRow], each: Sequence[Mapping[str, str]], apart: set[str], passing: Collection[str]
) -> Iterable[Fact]:
    """What is not shared, cut by cut, under the pieces (or the tools, where the pieces are the same)."""
    lines: dict[str, dict[str, None]] = {}
    by_tool = len({cut.pieces for cut in cuts}) == 1 and len({cut.tools for cut in cuts}) > 1
    owners = [cut.tools if by_tool else cut.pieces for cut in cuts]
    for names, facts in _together(owners, [{k: v for k, v in facts.items() if k in apart} for facts in each]):
        own = "; ".join(_told(label, value) for label, value in facts.items())
        if own:
            unknown = not by_tool and bool(lines) and set(names) <= set(passing)
            known = [say("then")] if unknown else map(told if by_tool else called, names)
            lines.setdefault(own, {}).update(dict.fromkeys(known))
    return [Fact(capital(", ".join(names)), own) for own, names in lines.items()]


def _together(
    owners: Sequence[tuple[str, ...]], each: Sequence[Mapping[str, str]]
) -> list[tuple[tuple[str, ...], dict[str, str]]]:
    """Cuts of the same pieces that differ in one label alone as one, with its values side by side."""
    found: list[tuple[tuple[str, ...], dict[str, str]]] = []
    for names, facts in zip(owners, each, strict=True):
        last = found[-1][1] if found and found[-1][0] == names and found[-1][1].keys() == facts.keys() else {}
        differ = [label for label in last if last[label] != facts[label]]
        if len(differ) == 1:
            last[differ[0]] += f", {facts[differ[0]]}"
        else:
            found.append((names, dict(facts)))
    return found


NO_BREAK = "\u00a0"


def _told(label: str, value: str) -> str:
    """A setting in running words; a number at the end of a label is kept apart from the value."""
    if label[-1].isdigit():
        return labelled(uncapital(label), value)
    # A bare number is not left alone at the head of a line.
    return f"{uncapital(label)}{NO_BREAK if value.isdigit() else ' '}{value}"


def caution_rows(cautions: Iterable[CautionHere]) -> tuple[CautionRow, ...]:
    """The cautions that come first here, in full."""
    return tuple(CautionRow(here.caution.signal, caution_text(here.caution)) for here in cautions if not here.repeated)


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


def recalled(cautions: Iterable[CautionHere]) -> Recalled | None:
    """The cautions of earlier steps that hold here too, by name, each with a link to the step it stands in."""
    again = [here for here in cautions if here.repeated]
    if not again:
        return None
    links = (Link(f"{caution_name(here.caution)} ({here.first_step})", step_anchor(here.first_step)) for here in again)
    return Recalled(min((here.caution.signal for here in again), key=SIGNALS.index), tuple(links))


def _figures(step: Step, pictures: Mapping[int, Picture]) -> tuple[Figure, ...]:
    picture = pictures.get(step.number)
    return (figure(picture, say("Step {number}: {title}.", number=step.number, title=step.title)),) if picture else ()
