"""What was used in a build, sorted into tools and supplies; not how much of it to buy."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planbook.handbook import TOOLS, Handbook
from planbook.model import Supply
from planbook.workshop import Event, Timeline, Use

SUPPLY_KINDS = ("glue", "finish", "abrasive", "lining", "hardware", "supply")
STOCK_KIND = "stock"
STICKING = "stick"
SANDING = ("sand to line", "sand face", "sand flush")


@dataclass(frozen=True, slots=True)
class Used:
    """All uses of one tool or supply together: the amounts by unit, and the steps."""

    name: str
    kind: str
    amounts: tuple[tuple[str, float], ...]
    steps: tuple[int, ...]

    def amount(self, unit: str) -> float:
        """How much was used in that unit; 0 where nothing was."""
        return dict(self.amounts).get(unit, 0.0)


def tools_used(timeline: Timeline) -> tuple[Used, ...]:
    """The tools used, in order of first use."""
    return _gathered((event, use) for event, use in _uses(timeline) if is_tool(use, timeline))


def supplies_used(timeline: Timeline) -> tuple[Used, ...]:
    """The supplies used, in order of first use."""
    return _gathered((event, use) for event, use in _uses(timeline) if is_supply(use, timeline))


def is_supply(use: Use, timeline: Timeline) -> bool:
    """Whether something used is a supply: by the design, else by its kind, else by the handbook."""
    if use.kind == STOCK_KIND:
        return False
    if use.name in timeline.design.supplies or use.kind in SUPPLY_KINDS:
        return True
    book = timeline.design.handbook
    if use.name in timeline.design.tools or use.kind == "tool" or use.kind in TOOLS or book.blade(use.name):
        return False
    return any(find(use.name) is not None for find in (book.glue, book.finish, book.abrasive, book.lining))


def is_tool(use: Use, timeline: Timeline) -> bool:
    """Whether something used is a tool: everything that is neither a supply nor a board."""
    return use.kind != STOCK_KIND and not is_supply(use, timeline)


def tool_kind(use: Use, timeline: Timeline) -> str:
    """The kind of a tool: as the design says, else as the workshop says."""
    tool = timeline.design.tools.get(use.name)
    return tool.kind if tool else use.name if use.kind == "tool" else use.kind


def supply_kind(name: str, kind: str, supply: Supply | None, book: Handbook) -> str:
    """The kind of a supply: as the design says, else as the workshop says, else by the handbook."""
    if supply is not None:
        return supply.kind
    if kind in SUPPLY_KINDS and kind != "supply":
        return kind
    found = (
        ("glue", book.glue(name)),
        ("finish", book.finish(name)),
        ("abrasive", book.abrasive(name)),
        ("lining", book.lining(name)),
    )
    return next((kind for kind, row in found if row is not None), "other")


def steps_of(timeline: Timeline, kinds: Iterable[str]) -> tuple[int, ...]:
    """The steps with an operation of one of these kinds."""
    wanted = frozenset(kinds)
    return tuple(dict.fromkeys(event.at.step for event in timeline.events if event.operation.kind in wanted))


def _uses(timeline: Timeline) -> Iterator[tuple[Event, Use]]:
    return ((event, use) for event in timeline.events for use in event.uses)


def _gathered(uses: Iterable[tuple[Event, Use]]) -> tuple[Used, ...]:
    kinds: dict[str, str] = {}
    amounts: dict[str, dict[str, float]] = {}
    steps: dict[str, dict[int, None]] = {}
    for event, use in uses:
        kinds.setdefault(use.name, use.kind)
        units = amounts.setdefault(use.name, {})
        units[use.unit] = units.get(use.unit, 0.0) + use.amount
        steps.setdefault(use.name, {})[event.at.step] = None
    return tuple(Used(name, kind, tuple(amounts[name].items()), tuple(steps[name])) for name, kind in kinds.items())
