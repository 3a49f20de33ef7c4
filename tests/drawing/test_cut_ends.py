"""Which end of a cut stops amid wood, and whether a place shows what a cut left; sizes by hand."""

from planbook.drawing.cut_ends import is_shown, stopped
from planbook.drawing.views import HOME
from planbook.solids.solid import block
from planbook.workshop import Shown

BOARD = block((0, 0, 0), (20, 190, 500))


def test_a_rabbet_that_runs_into_a_dado_stops_at_its_other_end_alone(bench):
    """18 mm along the back edge of the right face, from 350 mm up to 440 mm, where a dado crosses the face."""
    solid = BOARD.minus(block((10, 170, 350), (21, 191, 440)), block((13, -1, 440), (21, 191, 458)))
    line = ((20.0, 170.0, 350.0), (20.0, 190.0, 350.0), (20.0, 190.0, 440.0), (20.0, 170.0, 440.0))
    shown = Shown(bench.piece("side", solid), "worked")
    assert stopped(line, line, shown) == [*line[:2]]
    away = Shown(shown.piece, "worked", (0.0, 300.0, 0.0))
    moved = tuple((x, y + 300, z) for x, y, z in line)
    assert stopped(moved, moved, away) == [*moved[:2]]


def test_a_dado_from_edge_to_edge_stops_nowhere(bench):
    solid = BOARD.minus(block((13, -1, 240), (21, 191, 258)))
    line = ((20.0, 0.0, 240.0), (20.0, 190.0, 240.0), (20.0, 190.0, 258.0), (20.0, 0.0, 258.0))
    assert stopped(line, line, Shown(bench.piece("side", solid), "worked")) == []


def test_a_chamfer_is_shown_at_the_upper_edge_and_not_at_the_lower_one(bench):
    """Both front edges of a board of 200 by 100 mm, 20 mm thick, lose 4 mm; what looks down is seen from no side."""
    board = block((0, 0, 0), (200, 100, 20))
    tilted = [block((-1, -4, z - 4), (201, 4, z + 4)).turned((1, 0, 0), 45, (0, 0, z)) for z in (0, 20)]
    gone = tuple(board.meet(each) for each in tilted)
    shown = [Shown(bench.piece("shelf", board.minus(*tilted)), "worked", gone=gone)]
    assert is_shown((200.0, 0.0, 20.0), 12.0, shown, HOME)
    assert not is_shown((100.0, 50.0, 20.0), 12.0, shown, HOME)
    assert not is_shown((200.0, 0.0, 0.0), 3.0, shown, HOME)
