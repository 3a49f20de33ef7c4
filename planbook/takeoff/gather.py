"""Everything that is listed from one build, put together."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from planbook.model import Rack
from planbook.takeoff.boards import boards, totals
from planbook.takeoff.cost import Cost, costs
from planbook.takeoff.pieces import leftovers, piece_rows
from planbook.takeoff.plans import CutPlan, cut_plans
from planbook.takeoff.prices import Prices
from planbook.takeoff.records import (
    BoardRow,
    CutRow,
    LeftoverRow,
    PieceRow,
    Safety,
    SupplyRow,
    Time,
    ToolRow,
    WoodRow,
    WoodTotal,
)
from planbook.takeoff.safety import safety
from planbook.takeoff.schedule import Schedule
from planbook.takeoff.schedule.plan import WORK_A_DAY, plan
from planbook.takeoff.shopping import Bought, bought
from planbook.takeoff.sold import System
from planbook.takeoff.supplies import supplies
from planbook.takeoff.timing import time
from planbook.takeoff.tools import cuts, tools
from planbook.takeoff.woods import wood_rows
from planbook.text import Finding
from planbook.workshop import Timeline


@dataclass(frozen=True, slots=True)
class Lists:
    """Everything listed from one build. `kilograms` is the weight of the finished object's wood, if known.

    `plans`, `shopping`, `schedule` and `cost` are for `make` of them; the other lists are for one. `cost` is None
    without a price list. `findings` say what cannot be bought or cut as the design asks.
    """

    title: str
    boards: tuple[BoardRow, ...]
    totals: tuple[WoodTotal, ...]
    pieces: tuple[PieceRow, ...]
    leftovers: tuple[LeftoverRow, ...]
    tools: tuple[ToolRow, ...]
    supplies: tuple[SupplyRow, ...]
    safety: Safety
    time: Time
    woods: tuple[WoodRow, ...]
    cuts: tuple[CutRow, ...]
    kilograms: float | None
    schedule: Schedule | None = None
    cost: Cost | None = None
    make: int = 1
    plans: tuple[CutPlan, ...] = ()
    shopping: tuple[Bought, ...] = ()
    findings: tuple[Finding, ...] = ()


def lists(
    timeline: Timeline,
    rack: Rack | None = None,
    system: System = "mm",
    make: int = 1,
    work_a_day: int = WORK_A_DAY,
    prices: Prices | None = None,
) -> Lists:
    """All lists of a build. It reads the timeline and changes nothing; a broken build gives shorter lists.

    What is bought comes in the sizes of `system`; with a rack, what that holds is used first. The schedule counts
    on so many minutes of work a day (1 to 1440).
    """
    board_rows, pieces, used = boards(timeline), piece_rows(timeline), supplies(timeline)
    laid_out = cut_plans(timeline, rack, system, make)
    whole = _whole(laid_out.plans)
    told = safety(timeline, whole)
    todo, to_buy = plan(timeline, work_a_day, make), bought(laid_out.plans, used, system, make)
    return Lists(
        title=timeline.design.card.title,
        boards=board_rows,
        totals=totals(board_rows, timeline.design.handbook),
        pieces=pieces,
        leftovers=leftovers(timeline),
        tools=tools(timeline, whole, told, todo.waits),
        supplies=used,
        safety=told,
        time=time(timeline, work_a_day),
        woods=wood_rows(timeline),
        cuts=cuts(timeline),
        kilograms=_weight(pieces),
        schedule=todo,
        cost=costs(to_buy, Fraction(todo.work, 60), prices) if prices else None,
        make=make,
        plans=laid_out.plans,
        shopping=to_buy,
        findings=laid_out.findings,
    )


def _whole(plans: Iterable[CutPlan]) -> set[str]:
    """The woods that are bought as large as they are used: no layout saws them."""
    sawn = {plan.wood for plan in plans if any(sheet.cuts for sheet in plan.layout.sheets)}
    return {plan.wood for plan in plans} - sawn


def _weight(pieces: Iterable[PieceRow]) -> float | None:
    """The weight of the finished object: None where it has no pieces or one of an unknown wood."""
    weights = [piece.kilograms for piece in pieces if piece.ending == "part"]
    known = [weight for weight in weights if weight is not None]
    return sum(known) if known and len(known) == len(weights) else None
