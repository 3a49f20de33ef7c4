"""The rows that say how the tools of a step are set: what all cuts share once, and of the rest whose it is."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from planbook.booklet.basics import Fact
from planbook.booklet.editions import Edition
from planbook.booklet.rows import NO_BREAK, capital, settings_once, uncapital
from planbook.speech import called, labelled, say, told
from planbook.takeoff import BORED, CutRow, Setting
from planbook.units import Quantity
from planbook.workshop import Event

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


RECORDED, WASTE = "recorded", "waste"
"""The setting that is a remark about the drawings, and what falls off, which the picture hatches: nothing is set."""


def remarks_of(cuts: Iterable[CutRow]) -> tuple[str, ...]:
    """What is to be said of the drawings of a step, each sentence once; with its pieces if it is not true of others."""
    cuts = tuple(cuts)
    remarks = dict.fromkeys(remark for cut in cuts if (remark := _remark(cut)))
    return tuple(_remarked(remark, cuts) for remark in remarks)


def _remark(cut: CutRow) -> str:
    return next((str(s.value) for s in cut.settings if s.key == RECORDED), "")


def _remarked(remark: str, cuts: Sequence[CutRow]) -> str:
    mine = [cut for cut in cuts if _remark(cut) == remark]
    sorts, pieces = {cut.operation for cut in mine}, {name: None for cut in mine for name in cut.pieces}
    others = (cut for cut in cuts if cut.operation in sorts and _remark(cut) != remark)
    if all(pieces.keys() >= {*cut.pieces} for cut in others):
        return told(remark)
    return labelled(capital(", ".join(map(called, pieces))), uncapital(told(remark)))


def passing_of(events: Sequence[Event], prose: Iterable[str]) -> Mapping[str, str]:
    """The pieces that a step makes and uses up, if its words do not name them, and what each was made from.

    No picture and no list shows them.
    """
    made: dict[str, int] = {piece.name: n for n, event in enumerate(events) for piece in event.made}
    taken = {piece.name: n for n, event in enumerate(events) for piece in event.taken}
    told = " ".join(prose)
    found = {name for name, n in made.items() if n < taken.get(name, -1) and f"{{{name}" not in told}
    sources: dict[str, str] = {}
    for event in events:
        names = [piece.name for piece in event.taken]
        for name in (piece.name for piece in event.made):
            if name in found and name not in names and names:
                sources.setdefault(name, sources.get(names[0], names[0]))
    return sources


def settings_of(
    cuts: Iterable[CutRow], edition: Edition, passing: Mapping[str, str] = MappingProxyType({})
) -> tuple[Fact, ...]:
    """The tools and settings of a step, each once.

    Pieces that are only `passing` have no name that a reader would know: what is done to them stands under its tool
    or, where that has others to do, under what they were made from.

    Values of one label that differ from cut to cut stand side by side. Where several labels differ, or one has several
    values already, nobody would know what belongs to which: then each cut has a line of its own, under its pieces. How
    many holes are bored is told of each cut, since equal numbers of several would be taken for their sum.
    """
    found = _counted(tuple(map(_with_what_is_set, cuts)))
    tools = ", ".join(dict.fromkeys(told(tool) for cut in found for tool in cut.tools))
    each = [{fact.label: fact.value for fact in settings_once(cut.settings, edition)} for cut in found]
    counted = {capital(say(BORED))} if len(each) > 1 else set()
    alike = [label for label in (each[0] if each else {}) if len({facts.get(label) for facts in each}) == 1]
    shared = [label for label in alike if label not in counted]
    apart = {label for facts in each for label in facts} - set(shared)
    several = any(", " in facts.get(label, "") for facts in each for label in apart)
    if len(apart) < 2 and not apart & counted and not (several and len({cut.pieces for cut in found}) > 1):
        settings = settings_once((setting for cut in found for setting in cut.settings), edition)
    else:
        settings = (*(Fact(label, each[0][label]) for label in shared), *_lines(found, each, apart, passing))
    return (Fact(say("Tool"), tools), *settings) if tools else settings


def _with_what_is_set(cut: CutRow) -> CutRow:
    return replace(cut, settings=tuple(s for s in cut.settings if s.key not in (RECORDED, WASTE)))


COUNT, DISTANCE = "count", "distance"


def _counted(cuts: tuple[CutRow, ...]) -> tuple[CutRow, ...]:
    """Cuts that each say how many of one thing they fit: the number of all of them together, on every one."""
    told = [{s.key: s.value for s in cut.settings} for cut in cuts]
    numbers = [value for each in told if isinstance(value := each.get(COUNT), Quantity)]
    if len(cuts) < 2 or len(numbers) < len(cuts) or len({each.get("hardware") for each in told}) > 1:
        return cuts
    total = Setting(COUNT, Quantity(sum((n.value for n in numbers), start=Fraction(0))))
    return tuple(replace(cut, settings=tuple(total if s.key == COUNT else s for s in cut.settings)) for cut in cuts)


def _lines(
    cuts: Sequence[CutRow], each: Sequence[Mapping[str, str]], apart: set[str], passing: Mapping[str, str]
) -> Iterator[Fact]:
    """What is not shared, cut by cut, under the pieces (or the tools, where they tell the cuts apart)."""
    tools, pieces = [cut.tools for cut in cuts], [cut.pieces for cut in cuts]
    lost = any(_only_passing(names, passing) for names in pieces)
    by_tool = len(set(tools)) > 1 and (len(set(pieces)) == 1 or (lost and len(set(tools)) == len(cuts)))
    rows: list[tuple[dict[str, None], dict[str, str]]] = []
    own = [{label: value for label, value in facts.items() if label in apart} for facts in each]
    for names, facts in _together(tools if by_tool else pieces, own):
        then = not by_tool and bool(rows) and _only_passing(names, passing)
        known = [_then(names, passing)] if then else list(map(told if by_tool else called, names))
        same = [row for row in rows if row[1] == facts]
        if same and then and all(called(passing[name]) in same[0][0] for name in names):
            continue
        if same:
            same[0][0].update(dict.fromkeys(known))
        elif facts:
            rows.append((dict.fromkeys(known), facts))
    return _told_apart([(capital(", ".join(names)), facts) for names, facts in rows])


def _only_passing(names: Sequence[str], passing: Mapping[str, str]) -> bool:
    return bool(names) and set(names) <= passing.keys()


def _then(names: Sequence[str], passing: Mapping[str, str]) -> str:
    return say("{name}, then", name=", ".join(dict.fromkeys(called(passing[name]) for name in names)))


def _told_apart(rows: Sequence[tuple[str, Mapping[str, str]]]) -> Iterator[Fact]:
    """Rows by heading; where several have one heading, what tells them apart stands in it.

    Where all have it, a distance that tells them apart is heading enough.
    """
    one = len({heading for heading, _ in rows}) == 1
    for heading, facts in rows:
        alike = [other for name, other in rows if name == heading]
        telling = _telling(alike) if len(alike) > 1 else ""
        heading = "" if one and telling == capital(say(DISTANCE)) else heading
        name = _with(heading, telling, facts[telling]) if telling else heading
        yield Fact(name, "; ".join(_told(label, value) for label, value in facts.items() if label != telling))


def _telling(alike: Sequence[Mapping[str, str]]) -> str:
    """A label that tells rows apart and leaves none of them empty, best a distance; "" if there is none."""
    if min(map(len, alike)) < 2:
        return ""
    first = capital(say(DISTANCE))
    labels = sorted(alike[0], key=lambda label: label != first)
    return next((one for one in labels if len({facts.get(one, "") for facts in alike} - {""}) == len(alike)), "")


def _with(heading: str, label: str, value: str) -> str:
    if label == capital(say(DISTANCE)):
        return say("{name}, at {place}", name=heading, place=value) if heading else say("At {place}", place=value)
    return f"{heading}, {_told(label, value)}"


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


def _told(label: str, value: str) -> str:
    """A setting in running words; a number at the end of a label is kept apart from the value."""
    if label[-1].isdigit():
        return labelled(uncapital(label), value)
    # A bare number is not left alone at the head of a line.
    return f"{uncapital(label)}{NO_BREAK if value.isdigit() else ' '}{value}"
