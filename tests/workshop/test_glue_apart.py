"""How pieces that are glued are drawn apart; sizes by hand."""

import pytest

from planbook.solids import Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece
from planbook.workshop.glue_apart import ASIDE, MOST_WIDER, USUAL, glued_apart


def moves(axis: str, *solids: Solid) -> list[tuple[float, float, float]]:
    place = At(1, 1, Place("steps.md"))
    return [s.apart for s in glued_apart([Piece(f"piece {n}", s, (), place) for n, s in enumerate(solids)], axis)]


def test_boards_are_spread_evenly_about_the_middle():
    found = moves("y", *(block((0, 20 * n, 0), (200, 20 * n + 20, 100)) for n in range(3)))
    assert found == [(0, pytest.approx(-USUAL * 200), 0), (0, pytest.approx(0), 0), (0, pytest.approx(USUAL * 200), 0)]


def test_shelves_between_two_sides_stay_beside_one_another():
    sides = block((0, 0, 0), (20, 150, 500)), block((420, 0, 0), (440, 150, 500))
    shelves = [block((20, 0, z), (420, 150, z + 18)) for z in (90, 400)]
    left, one, two, right = moves("x", sides[0], *shelves, sides[1])
    assert one == two == (0, 0, 0)
    assert left[0] == pytest.approx(-right[0])
    assert USUAL * 500 <= right[0] <= MOST_WIDER * USUAL * 500


def test_a_rail_under_a_shelf_is_drawn_off_it_so_that_its_upper_edge_is_seen():
    sides = block((0, 0, 0), (20, 150, 500)), block((420, 0, 0), (440, 150, 500))
    shelf, rail = block((20, 0, 90), (420, 150, 108)), block((21, 130, 50), (419, 148, 90))
    _, still, aside, right = moves("x", sides[0], shelf, rail, sides[1])
    assert still == (0, 0, 0)
    assert aside == (0, 0, pytest.approx(-right[0])), "straight down, not along the shelf"


def test_what_touches_a_level_piece_by_its_side_alone_is_drawn_back_along_the_axis():
    sides = block((0, 0, 0), (20, 150, 500)), block((420, 0, 0), (440, 150, 500))
    shelf, rail = block((20, 0, 90), (420, 150, 108)), block((21, 150.2, 50), (419, 168, 108))
    _, still, aside, right = moves("x", sides[0], shelf, rail, sides[1])
    assert still == (0, 0, 0)
    assert aside == (pytest.approx(-ASIDE * right[0]), 0, 0)


def test_a_seat_is_lifted_until_the_rail_behind_its_edge_is_seen():
    """The near rail ends 78 mm behind the front edge, and as much again hides the other, which stays hidden."""
    rails = [block((40, y, 0), (360, y + 18, 100)) for y in (60, 180)]
    frame = rails[0].plus(rails[1], block((40, 60, 0), (58, 198, 80)))
    low, high = moves("z", frame, block((0, 0, 100), (400, 260, 118)))
    assert high[2] - low[2] == pytest.approx(78, abs=0.1)
    full = moves("z", block((0, 0, 0), (400, 260, 20)), block((0, 0, 20), (400, 260, 38)))
    assert full[1][2] - full[0][2] == pytest.approx(USUAL * 400)


@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_two_pieces_of_any_kind_come_apart(axis):
    one, two = moves(axis, block((0, 0, 0), (20, 20, 20)), block((20, 20, 20), (40, 40, 40)))
    k = "xyz".index(axis)
    assert two[k] - one[k] == pytest.approx(8)
    assert not any(v for each in (one, two) for n, v in enumerate(each) if n != k)
