"""What has changed between two releases, in the terms of the workshop; how it is printed is elsewhere."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from enum import IntEnum
from typing import TypeVar

from planbook.archive.facts import Did, Facts, FitFact, LumberFact, Measure, PieceFact, StencilFact, StepFact, Value
from planbook.archive.lengths import told, told_measure, told_sides
from planbook.archive.names import Version
from planbook.speech import comma, say

NEAR = 1e-4
"""Lengths that differ by less (mm) are the same: the noise of computing with solids."""
PROVED = 5e-3
"""Clearances that differ by less (mm) are the same."""
SHARE = 1e-6
"""Volumes and areas that differ by a smaller share are the same."""


class Level(IntEnum):
    """How much a change asks of the version: its third number, its second, its first."""

    SAME = 0
    PATCH = 1
    MINOR = 2
    MAJOR = 3


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that has changed: of which kind, a sentence without its full stop, and what number it asks for."""

    subject: str
    text: str
    level: Level


@dataclass(frozen=True, slots=True)
class Comparison:
    """Everything that has changed between two builds, and the stencils that must be printed again."""

    changes: tuple[Change, ...]
    print_again: tuple[str, ...]

    @property
    def level(self) -> Level:
        """What the changes together ask of the version."""
        return max((change.level for change in self.changes), default=Level.SAME)

    def of(self, subject: str) -> tuple[Change, ...]:
        """The changes of one kind."""
        return tuple(change for change in self.changes if change.subject == subject)


SUBJECTS = ("pieces", "sizes", "steps", "stencils", "lumber", "fits", "tools and supplies", "words")


def compare(old: Facts, new: Facts) -> Comparison:
    """What is other in `new`; lengths are told in its units, and all in the language that is spoken."""
    units = new.units
    changes = (
        *_named("pieces", old.pieces, new.pieces, lambda a, b: _piece(a, b, units), _coming_of_piece),
        *_named("sizes", old.sizes, new.sizes, lambda a, b: _size(a, b, units), lambda _: Level.PATCH),
        *_steps(old.steps, new.steps, units),
        *_named("stencils", old.stencils, new.stencils, _stencil),
        *_named("lumber", old.lumber, new.lumber, lambda a, b: _lumber(a, b, units)),
        *_named("fits", old.fits, new.fits, lambda a, b: _fit(a, b, units)),
        *_tools(old, new),
        *_words(old.words, new.words),
    )
    again = tuple(
        name
        for name, stencil in sorted(new.stencils.items(), key=lambda item: item[1].number)
        if name not in old.stencils or old.stencils[name].geometry != stencil.geometry
    )
    return Comparison(changes, again)


def asked(before: Version, level: Level) -> Version:
    """The least version that a change of this level asks for."""
    match level:
        case Level.MAJOR:
            return Version(before.major + 1, 0)
        case Level.MINOR:
            return Version(before.major, before.minor + 1)
        case _:
            return Version(before.major, before.minor, before.patch + 1)


Told = Iterator[tuple[str, Level]]
F = TypeVar("F")


def _named(
    subject: str,
    old: Mapping[str, F],
    new: Mapping[str, F],
    change: Callable[[F, F], Told],
    coming: Callable[[F], Level] = lambda _: Level.MINOR,
) -> Iterator[Change]:
    """What came, went or changed among things with names."""
    for name, before in old.items():
        if name not in new:
            yield Change(subject, say("`{name}` is gone", name=name), coming(before))
        else:
            for text, level in change(before, new[name]):
                yield Change(subject, f"`{name}` {text}", level)
    for name, after in new.items():
        if name not in old:
            yield Change(subject, say("`{name}` is new", name=name), coming(after))


def _coming_of_piece(piece: PieceFact) -> Level:
    """The object is another one where one of its pieces comes or goes; a jig that is kept is not part of it."""
    return Level.MAJOR if piece.ending in ("part", "joined") else Level.MINOR


def _piece(old: PieceFact, new: PieceFact, units: str) -> Told:
    if not _near(old.box, new.box):
        before, after = told_sides(old.box, units), told_sides(new.box, units)
        yield say("measured {before}, and now {after}", before=before, after=after), Level.MINOR
    elif not math.isclose(old.volume, new.volume, rel_tol=SHARE, abs_tol=0.1):
        share = 100 * (new.volume / old.volume - 1) if old.volume else math.inf
        words = "has another shape in the same box ({share} % of its wood)"
        yield say(words, share=comma(f"{share:+.2g}")), Level.MINOR
    if old.woods != new.woods:
        yield _was(_list(map(say, old.woods)), _list(map(say, new.woods))), Level.MINOR
    if old.ending != new.ending:
        yield _was(_ending(old.ending), _ending(new.ending)), Level.MINOR


def _ending(ending: str) -> str:
    return say({"part": "a part of the object", "joined": "joined into a larger piece"}.get(ending, ending))


def _was(before: str, after: str) -> str:
    return say("was {before}, and is now {after}", before=before, after=after)


def _size(old: Measure, new: Measure, units: str) -> Told:
    if old.kind != new.kind or not math.isclose(old.value, new.value, abs_tol=NEAR, rel_tol=1e-9):
        yield _was(told_measure(old, units), told_measure(new, units)), Level.MINOR


def _stencil(old: StencilFact, new: StencilFact) -> Told:
    if old.geometry != new.geometry:
        yield say("has other lines, holes or edges"), Level.MINOR
    elif (old.words, old.number) != (new.words, new.number):
        yield say("says something else, but its lines are the same"), Level.PATCH


def _lumber(old: LumberFact, new: LumberFact, units: str) -> Told:
    before, after = (
        say("{count} of {wood}, {size}", count=x.count, wood=say(x.wood), size=told_sides(x.size, units))
        for x in (old, new)
    )
    if (old.wood, old.count) != (new.wood, new.count) or not _near(old.size, new.size):
        yield _was(before, after), Level.MINOR


def _fit(old: FitFact, new: FitFact, units: str) -> Told:
    if old.kind != new.kind:
        words = "was a fit of the kind {before}, and is now {after}"
        yield say(words, before=say(old.kind), after=say(new.kind)), Level.MINOR
    before, after = (_range(x.asked_least, x.asked_most, units) for x in (old, new))
    if before != after:
        yield say("asked for {before}, and now for {after}", before=before, after=after), Level.MINOR
    ends = ((old.least, new.least), (old.most, new.most))
    if any((a is None) != (b is None) or (a is not None and b is not None and abs(a - b) > PROVED) for a, b in ends):
        before, after = (_range(x.least, x.most, units) for x in (old, new))
        yield say("was proved for {before}, and now for {after}", before=before, after=after), Level.MINOR


def _range(least: float | None, most: float | None, units: str) -> str:
    if least is None or most is None:
        one = least if least is not None else most
        if one is None:
            return say("nothing")
        return say("at least {size}" if most is None else "at most {size}", size=told(one, units))
    if abs(most - least) < PROVED:
        return told(least, units)
    return say("{least} to {most}", least=told(least, units), most=told(most, units))


def _steps(old: tuple[StepFact, ...], new: tuple[StepFact, ...], units: str) -> Iterator[Change]:
    """Steps are known by their titles; where a run of them was replaced by as many others, they were renamed."""
    was, now = ([step.title for step in steps] for steps in (old, new))
    for tag, a, b, c, d in SequenceMatcher(None, was, now, autojunk=False).get_opcodes():
        pairs = tuple(zip(range(a, b), range(c, d), strict=True)) if b - a == d - c else ()
        for before, after in pairs:
            name = say("step {number}, {title}", number=after + 1, title=new[after].title)
            if tag == "replace":
                yield Change("steps", f"{name}: {say('was called {title}', title=old[before].title)}", Level.PATCH)
            for text, level in _step(old[before], new[after], units):
                yield Change("steps", f"{name}: {text}", level)
        if not pairs:
            for gone in range(a, b):
                words = "step {number} of before, {title}, is gone"
                yield Change("steps", say(words, number=gone + 1, title=old[gone].title), Level.MINOR)
            for come in range(c, d):
                words = "step {number}, {title}, is new"
                yield Change("steps", say(words, number=come + 1, title=new[come].title), Level.MINOR)


def _step(old: StepFact, new: StepFact, units: str) -> Told:
    if [did.kind for did in old.work] != [did.kind for did in new.work]:
        kinds = [_list(say(did.kind) for did in step.work) for step in (old, new)]
        yield say("the work was {before}, and is now {after}", before=kinds[0], after=kinds[1]), Level.MINOR
    else:
        for before, after in zip(old.work, new.work, strict=True):
            for text in _did(before, after, units):
                yield f"{say(after.kind)}: {text}", Level.MINOR
    if old.words != new.words:
        yield say("is described in other words"), Level.PATCH


def _did(old: Did, new: Did, units: str) -> Iterator[str]:
    for what, before, after in (
        ("takes {after} instead of {before}", old.taken, new.taken),
        ("makes {after} instead of {before}", old.made, new.made),
        ("is done with {after} instead of {before}", old.tools, new.tools),
    ):
        if before != after:
            yield say(what, after=_list(after), before=_list(before))
    for key in dict.fromkeys((*old.settings, *new.settings)):
        was, now = old.settings.get(key, ()), new.settings.get(key, ())
        if not _same(was, now):
            yield f"{say(key)} {_was(_value(was, units), _value(now, units))}"


def _same(old: Value, new: Value) -> bool:
    if isinstance(old, str) or isinstance(new, str):
        return old == new
    return len(old) == len(new) and all(
        a.kind == b.kind and math.isclose(a.value, b.value, rel_tol=SHARE, abs_tol=NEAR)
        for a, b in zip(old, new, strict=True)
    )


def _value(value: Value, units: str) -> str:
    if isinstance(value, str):
        return value
    return ", ".join(told_measure(measure, units) for measure in value) or say("not set")


def _tools(old: Facts, new: Facts) -> Iterator[Change]:
    subject = "tools and supplies"
    for name in sorted({*old.tools} ^ {*new.tools}):
        words = "`{name}` is new" if name in new.tools else "`{name}` is gone"
        yield Change(subject, say(words, name=name), Level.MINOR)

    def supply(before: str, after: str) -> Told:
        if before != after:
            none = say("without an amount")
            yield _was(before or none, after or none), Level.MINOR

    yield from _named(subject, old.supplies, new.supplies, supply)


def _words(old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[Change]:
    for name in dict.fromkeys((*old, *new)):
        if old.get(name, "") != new.get(name, ""):
            yield Change("words", say("the {name} is another one", name=say(name)), Level.PATCH)


def _near(old: tuple[float, ...], new: tuple[float, ...]) -> bool:
    return all(math.isclose(a, b, abs_tol=NEAR, rel_tol=1e-9) for a, b in zip(old, new, strict=True))


def _list(names: Iterable[str]) -> str:
    return ", ".join(names) or say("nothing")
