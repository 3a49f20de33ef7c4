"""Whether a piece that is moved still stands in another, and past how much it comes free."""

import pytest

from planbook.solids import Solid, Vec3
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece
from planbook.workshop.ways_out import is_free, locked, overlap

STAYS = block((0, 0, 0), (100, 100, 100)).minus(block((20, 20, 20), (80, 80, 101)))
"""A tray with walls of 20 mm, open at the top."""
INSIDE = block((20, 20, 20), (80, 80, 60))


@pytest.mark.parametrize(
    ("by", "shared"), [((5.0, 0.0, 0.0), 5 * 60 * 40), ((0.0, 0.0, -5.0), 5 * 60 * 60), ((8.0, 0.0, 50.0), 8 * 60 * 30)]
)
def test_what_a_moved_piece_shares_with_another(by: Vec3, shared: float) -> None:
    assert overlap(INSIDE, STAYS, by, shared - 1.0)
    assert not overlap(INSIDE, STAYS, by, shared + 1.0)


def test_pieces_that_only_touch_share_nothing() -> None:
    assert not overlap(INSIDE, STAYS, (0.0, 0.0, 0.0), 1e-6)


def test_a_block_comes_out_of_a_tray_upwards_alone() -> None:
    ways = {(0.0, 0.0, 1.0), (0.0, 0.0, -1.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)}
    assert {way for way in ways if is_free(INSIDE, [STAYS], way)} == {(0.0, 0.0, 1.0)}


def named(**solids: Solid) -> list[Piece]:
    return [Piece(name, solid, (), At(1, 1, Place("steps.md"))) for name, solid in solids.items()]


def test_what_no_side_lets_out_is_locked_and_so_is_what_stands_behind_it() -> None:
    lidded = block((0, 0, 0), (100, 100, 100)).minus(
        block((20, 20, 20), (80, 80, 80)), block((30, -1, 30), (70, 21, 70))
    )
    large, small = block((20, 20, 20), (80, 50, 80)), block((31, 51, 31), (69, 79, 69))
    assert locked(named(body=lidded, large=large, small=small)) == {"large", "small"}
    assert locked(named(body=lidded, small=small)) == set()
    assert locked(named(body=STAYS, inside=INSIDE)) == set()
