"""Facts about the whole design as they are printed: at a glance, proof of fits, version."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from planbook.booklet.basics import Fact
from planbook.booklet.common import row_said
from planbook.booklet.days import days_taken, hours, worked
from planbook.booklet.editions import Edition
from planbook.booklet.proofs import worst_of
from planbook.booklet.records import FitRow
from planbook.handbook.loader import plain
from planbook.speech import called, comma, labelled, say
from planbook.takeoff import Lists
from planbook.workshop import Fitted, Timeline

_POUNDS = 2.2046226218
"""Pounds in a kilogram: 1 lb = 0.45359237 kg (international yard and pound agreement, 1959)."""
_SQUARE_FOOT = 0.09290304
"""Square metres in a square foot: 1 ft = 0.3048 m exactly (the same agreement)."""


def glance(timeline: Timeline, lists: Lists, stencils: Sequence[int], edition: Edition) -> tuple[Fact, ...]:
    """What a reader wants to know before buying wood; a fact that is not known is left out."""
    return tuple(fact for fact in _glance(timeline, lists, stencils, edition) if fact.value)


def fit_rows(timeline: Timeline, edition: Edition) -> tuple[FitRow, ...]:
    """Every fit that was measured; those that measure alike throughout share a row."""
    together: dict[FitRow, list[str]] = {}
    for fit in filter(_measured, timeline.fits):
        row = FitRow("", _what(fit), _asked(fit, edition), found(fit, edition), *worst_of(fit, timeline, edition))
        together.setdefault(row, []).append(called(fit.name))
    return tuple(replace(row, name=", ".join(names)) for row, names in together.items())


def colophon(timeline: Timeline, edition: Edition) -> tuple[Fact, ...]:
    """Which plan this is, and where its film is if there is one."""
    card = timeline.design.card
    rows = (
        Fact(say("Plan"), card.title),
        Fact(say("Version"), card.version),
        Fact(say("Edition"), edition.title),
        Fact(say("Woods"), choice_title(timeline)),
        Fact(say("Maker"), card.maker),
        Fact(say("Film"), card.film),
        *_own_figures(timeline),
    )
    return tuple(row for row in rows if row.value)


def _own_figures(timeline: Timeline) -> Iterator[Fact]:
    """Where the maker's own figures come from, for the woods, supplies and rates that the plan uses."""
    design = timeline.design
    used = {stock.wood for stock in design.stock.values()} | {s.product or s.name for s in design.supplies.values()}
    used |= {operation.kind for operation in design.operations}
    names = {plain(name) for name in used}
    for row in design.handbook.own:
        if any(plain(name) in names for name in (row.name, *row.aliases)):
            yield Fact(say("Figures for {name}", name=row.name), row.source)


def _glance(timeline: Timeline, lists: Lists, stencils: Sequence[int], edition: Edition) -> Iterator[Fact]:
    yield Fact(say("Finished size"), _finished(timeline, edition))
    yield Fact(say("Weight"), _weight(lists.kilograms, edition))
    yield Fact(say("Made for"), ", ".join(map(say, timeline.design.card.made_for)))
    yield Fact(say("Carries at most"), timeline.design.card.load)
    yield Fact(say("Skill"), timeline.design.card.skill)
    yield Fact(say("Woods"), _woods(timeline, lists))
    yield Fact(say("Work"), worked(lists.schedule) if lists.schedule else hours(round(lists.time.hands_on)))
    yield Fact(say("Lumber"), _lumber(lists, edition))
    yield Fact(say("From start to end"), days_taken(lists))
    yield Fact(say("Steps"), str(len(timeline.design.steps)))
    yield Fact(say("Stencil pages"), _stencils(stencils))


def _stencils(copies: Sequence[int]) -> str:
    """How many pages there are, and how many prints these make where some are needed more than once."""
    pages, prints = len(copies), sum(copies)
    if prints > pages:
        return say("{pages}; {prints} prints in all", pages=pages, prints=prints)
    return str(pages) if pages else ""


def choice_title(timeline: Timeline) -> str:
    """The title of the choice of woods that this copy is for; empty for the design as written."""
    choice = timeline.design.choice
    return choice.title if choice else ""


def _woods(timeline: Timeline, lists: Lists) -> str:
    names = ", ".join(row_said(row.name) for row in lists.woods)
    title = choice_title(timeline)
    return labelled(title, names) if title else names


def _finished(timeline: Timeline, edition: Edition) -> str:
    boxes = [piece.solid.bounds for piece in timeline.object]
    if not boxes:
        return ""
    low = [min(box[0][axis] for box in boxes) for axis in range(3)]
    high = [max(box[1][axis] for box in boxes) for axis in range(3)]
    size = edition.box(*(Fraction(b - a) for a, b in zip(low, high, strict=True)))
    return say("{size}, width × depth × height", size=size)


def _weight(kilograms: float | None, edition: Edition) -> str:
    if not kilograms:
        return ""
    return comma(f"{kilograms * _POUNDS:.1f} lb" if edition.system == "in" else f"{kilograms:.2f} kg")


def _lumber(lists: Lists, edition: Edition) -> str:
    """Boards by volume and sheets by area, as they are sold."""
    boards = [row for row in lists.totals if row.board_feet is not None]
    area = float(sum((row.square_metres for row in lists.totals if row.board_feet is None), Fraction(0)))
    cubic = float(sum((row.cubic_metres for row in boards), Fraction(0)))
    feet = float(sum((row.board_feet or Fraction(0) for row in boards), Fraction(0)))
    if edition.system == "in":
        said = (
            comma(f"{feet:.1f} board ft") if feet else "",
            say("{area} of sheet", area=comma(f"{area / _SQUARE_FOOT:.1f} ft²")) if area else "",
        )
    else:
        said = (
            comma(f"{cubic:.4f} m³") if cubic else "",
            say("{area} of sheet", area=comma(f"{area:.2f} m²")) if area else "",
        )
    return say(" and ").join(part for part in said if part)


def _what(fit: Fitted) -> str:
    measured = _measure(fit)
    before = "{measured}, before step {step} joins the pieces"
    return say(before, measured=measured, step=fit.before.step) if fit.before else measured


def _measure(fit: Fitted) -> str:
    if not fit.stage:
        return say(fit.kind)
    said = {"0 %": "{fit}, tightest at its start", "100 %": "{fit}, tightest at its end"}
    usual = "{fit}, tightest at {stage} of the way" if fit.stage.endswith("%") else "{fit}, tightest at {stage}"
    return say(said.get(fit.stage, usual), fit=say(fit.kind), stage=fit.stage)


def _asked(fit: Fitted, edition: Edition) -> str:
    return _range(fit.asked_least, fit.asked_most, edition, asked=True)


def found(fit: Fitted, edition: Edition) -> str:
    """What was measured; where only the least was asked for, how wide it gets elsewhere tells nothing."""
    tightest = fit.asked_most is None and fit.least is not None
    return _range(fit.least, fit.least if tightest else fit.most, edition, asked=False)


def _measured(fit: Fitted) -> bool:
    return fit.least is not None or fit.most is not None


def _range(least: float | None, most: float | None, edition: Edition, *, asked: bool) -> str:
    low = None if least is None else edition.gap(least)
    high = None if most is None else edition.gap(most)
    if low is not None and high is not None:
        return f"{low} {edition.system}" if low == high else _to(low, high, edition.system)
    if low is not None:
        return say("at least {length}", length=f"{low} {edition.system}") if asked else f"{low} {edition.system}"
    return say("at most {length}", length=f"{high} {edition.system}") if high is not None else "–"


def _to(low: str, high: str, unit: str) -> str:
    return f"{say('{first} to {last}', first=low, last=high)} {unit}"
