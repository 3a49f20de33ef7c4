"""Everything that is listed from one build, put together."""

from collections.abc import Iterable

from planbook.takeoff.boards import boards, totals
from planbook.takeoff.pieces import leftovers, piece_rows
from planbook.takeoff.records import Lists, PieceRow
from planbook.takeoff.safety import safety
from planbook.takeoff.schedule.plan import WORK_A_DAY, plan
from planbook.takeoff.supplies import supplies
from planbook.takeoff.timing import time
from planbook.takeoff.tools import cuts, tools
from planbook.takeoff.woods import wood_rows
from planbook.workshop import Timeline


def lists(timeline: Timeline, work_a_day: int = WORK_A_DAY) -> Lists:
    """All lists of a build, with so many minutes of work a day (1 to 1440) for its schedule.

    It reads the timeline and changes nothing; a broken build gives shorter lists.
    """
    board_rows, pieces = boards(timeline), piece_rows(timeline)
    return Lists(
        title=timeline.design.card.title,
        boards=board_rows,
        totals=totals(board_rows, timeline.design.handbook),
        pieces=pieces,
        leftovers=leftovers(timeline),
        tools=tools(timeline),
        supplies=supplies(timeline),
        safety=safety(timeline),
        time=time(timeline, work_a_day),
        woods=wood_rows(timeline),
        cuts=cuts(timeline),
        kilograms=_weight(pieces),
        schedule=plan(timeline, work_a_day),
    )


def _weight(pieces: Iterable[PieceRow]) -> float | None:
    """The weight of the finished object: None where it has no pieces or one of an unknown wood."""
    weights = [piece.kilograms for piece in pieces if piece.ending == "part"]
    known = [weight for weight in weights if weight is not None]
    return sum(known) if known and len(known) == len(weights) else None
