"""Papers of stencils: they stay on a piece as long as wood lies under them and none over them, and go where it goes."""

import pytest

from planbook.model import Stencil
from planbook.solids import FACE_FRAMES, Area
from planbook.solids.solid import block as brick
from planbook.solids.solid import joined
from planbook.text import Place
from planbook.workshop import At, Member, Piece, Stuck
from planbook.workshop.papers import open_paper, still_there
from planbook.workshop.pieces import moved, turned

from .conftest import BOARDS, MILL, STICK, Run, block, clean, running

PLACE = Place("design.toml")
TOP = FACE_FRAMES["top"]
BOARD = brick((0, 0, 0), (100, 60, 20))
run = running(BOARDS, MILL, STICK)


def sheet() -> Stuck:
    """A sheet of 100 by 60 mm on the top of the board."""
    stencil = Stencil("vane", "", 1, "top", "lower left", (), (), (), "", PLACE)
    face = Area.of([(0, 0), (100, 0), (100, 60), (0, 60)])
    return Stuck(stencil, TOP.at((0, 0, 20)), {}, {}, {}, face, "board", At(2, 1, PLACE))


def board() -> Piece:
    member = Member("oak", "white oak", (1.0, 0.0, 0.0), BOARD, BOARD.bounds)
    return Piece("board", BOARD, (member,), At(1, 1, PLACE), stuck=(sheet(),))


def test_wood_that_stands_higher_elsewhere_takes_no_paper_off() -> None:
    """A knob of 10 by 10 mm stands on the sheet, a batten beside the board: the rest of the sheet lies open."""
    knob, batten = brick((40, 20, 20), (50, 30, 45)), brick((0, 60, 0), (100, 70, 40))
    assert open_paper(sheet(), joined([BOARD, knob, batten])).size == pytest.approx(6000 - 100)


def test_paper_is_gone_with_its_wood_and_under_other_wood() -> None:
    assert not still_there(sheet(), brick((0, 0, 0), (100, 60, 19.8)))
    assert not still_there(sheet(), joined([BOARD, brick((0, 0, 20), (100, 60, 30))]))
    assert open_paper(sheet(), brick((0, 0, 0), (40, 60, 20))).size == pytest.approx(2400)


@pytest.mark.parametrize(("axis", "degrees", "face"), [((0, 1, 0), 90, "right"), ((1, 0, 0), 90, "front")])
def test_a_paper_is_turned_with_its_piece(axis: tuple[float, float, float], degrees: float, face: str) -> None:
    """The top of the board looks to the right, or to the front, and so does what is stuck on it."""
    piece = turned(board(), axis, degrees, BOARD.middle)
    (paper,) = piece.stuck
    assert paper.stencil.face == face
    assert paper.frame.n == FACE_FRAMES[face].n
    assert open_paper(paper, piece.solid).size == pytest.approx(6000)
    (onward,) = moved(piece, (5.0, 6.0, 7.0)).stuck
    assert open_paper(onward, moved(piece, (5.0, 6.0, 7.0)).solid).size == pytest.approx(6000)


def test_a_paper_turned_aslant_keeps_the_name_of_its_face() -> None:
    piece = turned(board(), (0, 1, 0), 30, BOARD.middle)
    assert piece.stuck[0].stencil.face == "top"
    assert open_paper(piece.stuck[0], piece.solid).size == pytest.approx(6000)


def test_finish_does_not_take_paper_off(run: Run) -> None:
    last = clean(run(block("finish", 'pieces = ["maple"]\nfinish = "oil"')))[-1]
    assert [paper.stencil.name for paper in last.made[0].stuck] == ["round"]


def test_a_piece_stood_up_is_sawn_to_the_stencil_that_was_stuck_on_before(run: Run) -> None:
    turn = block("turn", 'piece = "maple"\naxis = "z"\nangle = "90 deg"')
    saw = 'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\n'
    events = clean(run(turn, block("saw", saw + 'makes = { a = "inside", b = "outside" }')))
    assert events[-1].show is not None
    assert events[-1].show.face == "right"
    volume = sum(piece.solid.volume for piece in events[-1].made)
    flat = clean(run(block("saw", saw + 'makes = { a = "inside", b = "outside" }')))
    assert volume == pytest.approx(sum(piece.solid.volume for piece in flat[-1].made))


def test_a_piece_that_is_peeled_has_no_paper(run: Run) -> None:
    last = clean(run(block("peel", 'piece = "maple"\nstencil = "round"')))[-1]
    assert last.made[0].stuck == ()
    assert last.made[0].solid is last.taken[0].solid
