"""Hand-made builds for the tests of the lists: small solids, no reader and no workshop."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

import pytest

from planbook.model import Card, Design, Expr, Node, Operation, Prose, Step, Stock, Supply, Tool
from planbook.solids import AXES, Solid
from planbook.solids.solid import block
from planbook.takeoff.records import Setting
from planbook.takeoff.settings import show_setting
from planbook.text import Place
from planbook.units import MM_TENTH, LengthStyle, Quantity, parse_formula
from planbook.workshop import At, Event, Fate, Lost, Member, Piece, Show, Timeline, Use

PLACE = Place("design.toml")


def expr(text: str) -> Expr:
    return Expr(parse_formula(text), PLACE)


def shown(settings: Iterable[Setting], style: LengthStyle = MM_TENTH) -> dict[str, str]:
    """The settings of a row as they are told, by what is set."""
    return {setting.key: show_setting(setting, style) for setting in settings}


def triple(*texts: str) -> tuple[Expr, Expr, Expr]:
    first, second, third = texts
    return (expr(first), expr(second), expr(third))


def piece(
    name: str,
    hi: tuple[float, float, float] | Solid,
    wood: str = "cherry",
    grain: str = "x",
    **more: Any,
) -> Piece:
    solid = hi if isinstance(hi, Solid) else block((0.0, 0.0, 0.0), hi)
    return Piece(name, solid, (Member(name, wood, AXES[grain], solid, solid.bounds),), At(1, 1, PLACE), **more)


@dataclass
class Bench:
    """Collects what a design says and what happens to it, and makes a timeline of that."""

    stock: dict[str, Stock] = field(default_factory=dict)
    tools: dict[str, Tool] = field(default_factory=dict)
    supplies: dict[str, Supply] = field(default_factory=dict)
    titles: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    events: list[Event] = field(default_factory=list)
    fates: dict[str, Fate] = field(default_factory=dict)
    sizes: dict[str, Quantity] = field(default_factory=dict)

    def board(
        self,
        name: str,
        *size: str,
        wood: str = "cherry",
        grain: str = "x",
        rough: Sequence[str] = (),
        match: str = "",
    ) -> None:
        rough_size = triple(*rough) if rough else None
        at = triple("0 mm", "0 mm", "0 mm")
        finished = triple(*size)
        self.stock[name] = Stock(name, wood, finished, at, grain, rough_size, PLACE, PLACE, match=match)  # type: ignore[arg-type]

    def tool(self, name: str, kind: str, note: str = "", **lengths: str) -> None:
        keys = ("kerf", "width", "diameter", "capacity")
        exprs = {key: expr(lengths[key]) if key in lengths else None for key in keys}
        spread = None
        if "least_kerf" in lengths:
            spread = (expr(lengths["least_kerf"]), expr(lengths["most_kerf"]))
        self.tools[name] = Tool(name, kind, kerf_range=spread, note=note, place=PLACE, **exprs)

    def supply(self, name: str, kind: str, product: str = "", count: int | None = None, note: str = "") -> None:
        self.supplies[name] = Supply(name, kind, product, count, note, PLACE)

    def size(self, name: str, mm: Fraction) -> None:
        self.sizes[name] = Quantity(mm, 1)

    def step(self, title: str, words: str = "") -> None:
        self.titles.append(title)
        self.words.append(words)

    def do(
        self,
        kind: str,
        taken: Iterable[Piece] = (),
        made: Iterable[Piece] = (),
        uses: Iterable[Use] = (),
        lost: Iterable[Lost] = (),
        settings: tuple[tuple[str, Any], ...] = (),
        hands_on: float = 10.0,
        wait: float = 0.0,
        show: Show | None = None,
        fields: Mapping[str, Node] | None = None,
    ) -> None:
        step = len(self.titles)
        number = 1 + sum(event.at.step == step for event in self.events)
        start = self.events[-1].start + self.events[-1].hands_on + self.events[-1].wait if self.events else 0.0
        operation = Operation(kind, Node(fields or {}, PLACE), step, number, PLACE)
        at = At(step, number, PLACE)
        self.events.append(
            Event(
                operation,
                at,
                tuple(taken),
                tuple(made),
                tuple(lost),
                tuple(uses),
                show,
                {},
                hands_on,
                wait,
                start,
                settings,
            )
        )

    def ends(self, ending: str, *pieces: Piece) -> None:
        for each in pieces:
            self.fates[each.name] = Fate(each, ending, each.at)  # type: ignore[arg-type]

    def timeline(self) -> Timeline:
        card = Card("Curlew box", "", "1.0", "Saltmarsh Workshop", "mm", "", "", "", "", PLACE)
        said = [(Prose(words, PLACE),) if words else () for words in self.words]
        steps = tuple(Step(i, title, said[i - 1], PLACE) for i, title in enumerate(self.titles, start=1))
        design = Design("box", card, {}, self.stock, {}, {}, self.tools, self.supplies, {}, "", steps)
        ended = tuple(fate.piece for fate in self.fates.values() if fate.ending == "part")
        pieces = {p.name: p for event in self.events for p in event.made}
        return Timeline(design, self.sizes, {}, tuple(self.events), (), self.fates, pieces, ended, ())


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture
def make_piece() -> Any:
    return piece
