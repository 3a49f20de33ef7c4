"""What lies over paper: wood that is glued on part of it, and a lining on it; designs with the rest are in the cases."""

from dataclasses import replace

import pytest

from planbook.model import Card, Design, Node, Operation, Stencil
from planbook.review.papered import papered
from planbook.solids import FACE_FRAMES, Area, Solid
from planbook.solids.solid import block, joined
from planbook.text import Place
from planbook.workshop import At, Event, Member, Piece, Stuck, Timeline, Use
from planbook.workshop.timeline import Lined

PLACE = Place("steps.md")
TOP = FACE_FRAMES["top"]
BOARD = block((0, 0, 0), (100, 60, 20))
NOW = At(3, 1, PLACE)
GLUE = Use("wood glue", "glue", 0.001, "m2")


def papered_board() -> Piece:
    stencil = Stencil("vane", "", 1, "top", "lower left", (), (), (), "", PLACE)
    face = Area.of([(0, 0), (100, 0), (100, 60), (0, 60)])
    paper = Stuck(stencil, TOP.at((0, 0, 20)), {}, {}, {}, face, "board", At(2, 1, PLACE))
    member = Member("oak", "white oak", (1.0, 0.0, 0.0), BOARD, BOARD.bounds)
    return Piece("board", BOARD, (member,), At(1, 1, PLACE), stuck=(paper,))


def told(made: Piece, *uses: Use) -> list[tuple[str, str]]:
    """What is found where one operation makes a piece of the board that has paper on its top."""
    event = Event(
        Operation("work", Node({}, PLACE), 3, 1, PLACE),
        NOW,
        (papered_board(),),
        (made,),
        (),
        uses,
        None,
        {},
        1.0,
        0.0,
        0.0,
    )
    card = Card("Whimbrel tray", "", "1.0", "Saltmarsh Workshop", "mm", "", "", "", "", PLACE)
    design = Design("", card, {}, {}, {}, {}, {}, {}, {}, "", ())
    build = Timeline(design, {}, {}, (event,), (), {}, {made.name: made}, (), ())
    return [(each.how, piece.name) for each in papered(build) for piece in each.pieces]


@pytest.mark.parametrize(
    ("glued_on", "found"),
    [
        (block((40, 20, 20), (50, 30, 45)), [("glued", "board")]),
        (block((0, 60, 0), (100, 80, 50)), []),
        (block((0, 0, -10), (100, 60, 0)), []),
    ],
    ids=["on the paper", "beside it, and higher", "on the other side"],
)
def test_paper_is_told_where_wood_is_glued_on_it(glued_on: Solid, found: list[tuple[str, str]]) -> None:
    made = replace(papered_board(), name="rack", solid=joined([BOARD, glued_on]), sources=("board",))
    assert told(made, GLUE) == found


@pytest.mark.parametrize(("low", "found"), [(19.9, [("lined", "board")]), (5.0, [])], ids=["on it", "elsewhere"])
def test_paper_is_told_where_a_lining_lies_on_it(low: float, found: list[tuple[str, str]]) -> None:
    lining = Lined(block((10, 10, low), (90, 50, low + 0.2)), (0.0, 0.0, 1.0))
    assert told(replace(papered_board(), lined=(lining,))) == found


def test_work_on_another_face_leaves_paper_alone() -> None:
    assert told(replace(papered_board(), solid=block((5, 0, 0), (100, 60, 20)))) == []
