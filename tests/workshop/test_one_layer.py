"""Pieces that lock one another in a flat layer are drawn apart in its plane, in their order."""

import itertools

import pytest

from planbook.drawing.pulled_apart import spread
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop.one_layer import AIR, drawn_apart, layers

FRONT = FACE_FRAMES["front"]


def puzzle(rows=3, columns=3, side=60.0, thick=12.0):
    """Squares in a plane that looks to the front, each with a round tab in the next one to its right and above."""
    tab, play = 8.0, 0.5
    pieces = []
    for row, column in itertools.product(range(rows), range(columns)):
        x, z = side * column, side * row
        square = block((x, 0, z), (x + side - play, thick, z + side - play))

        def round_at(u, v, radius):
            return cylinder(FRONT, (u, v), radius, -thick - 1, 1)

        if column:
            square = square.minus(round_at(x + 4, z + side / 2, tab + play))
        if row:
            square = square.minus(round_at(x + side / 2, z + 4, tab + play))
        right, above = (x + side + 4, z + side / 2), (x + side / 2, z + side + 4)
        tabs = [right] * (column + 1 < columns) + [above] * (row + 1 < rows)
        slab = block((-1, 0, -1), (side * columns + 9, thick, side * rows + 9))
        pieces.append(square.plus(*(round_at(*at, tab).meet(slab) for at in tabs)) if tabs else square)
    return pieces


RAILS = [block((0, y, 0), (400, y + 12, 50)) for y in (0, 288)]
STILES = [block((x, 0, 0), (x + 12, 300, 50)) for x in (0, 388)]
FRAME = [*RAILS, *STILES]
"""Boards on edge, that go through one another at the corners until they are mitred."""


def test_a_puzzle_is_a_layer_and_its_base_is_not():
    pieces = puzzle()
    base = block((-20, -20, -20), (200, 40, 0))
    assert layers([base, *pieces]) == [tuple(range(1, 10))]


@pytest.mark.parametrize(
    "solids",
    [
        [block((x, 0, 0), (x + 80, 12, 300)) for x in (0, 80, 160)],  # boards in a row come apart along an axis
        puzzle(1, 2),  # two are not many
        puzzle(thick=60.0),  # as thick as a box
        [block((0, 0, 0), (20, 200, 300)), block((280, 0, 0), (300, 200, 300)), block((10, 0, 100), (290, 200, 120))],
        FRAME,
    ],
    ids=["boards", "two", "thick", "case", "frame"],
)
def test_what_is_no_layer(solids):
    assert layers(solids) == []


def test_pieces_go_away_from_the_middle_in_proportion_and_stay_in_the_plane():
    pieces = puzzle()
    moves = drawn_apart(pieces)
    assert all(move[1] == 0 for move in moves)
    assert moves[4] == pytest.approx((0, 0, 0), abs=3.0)
    for axis in (0, 2):
        for one, other in itertools.combinations(range(9), 2):
            before, after = (s[axis] for s in (pieces[one].middle, pieces[other].middle))
            gone = moves[other][axis] - moves[one][axis]
            assert abs(before - after) < 10 or gone * (after - before) > 0, "the order of neighbours is lost"


def test_pieces_drawn_apart_have_air_between_them():
    pieces = puzzle()
    moved = [piece.moved(by) for piece, by in zip(pieces, drawn_apart(pieces), strict=True)]
    for one, other in itertools.combinations(moved, 2):
        assert one.meet(other).volume == 0
        assert one.gap(other, 20.0) >= AIR * 12.0 - 1e-6


def test_a_layer_is_drawn_off_its_base_as_a_whole():
    base = block((-20, -20, -20), (200, 40, 8)).minus(block((-21, -0.5, 0), (201, 12.5, 9)))
    pieces = puzzle()
    moves = spread([base, *pieces])
    apart = drawn_apart(pieces)
    offs = [tuple(m - a for m, a in zip(move, by, strict=True)) for move, by in zip(moves[1:], apart, strict=True)]
    assert all(off == pytest.approx(offs[0]) for off in offs)
    off = [a - b for a, b in zip(offs[0], moves[0], strict=True)]
    assert off[:2] == pytest.approx([0, 0])
    lowest = min(piece.bounds[0][2] + by[2] for piece, by in zip(pieces, apart, strict=True))
    assert lowest + off[2] > base.bounds[1][2]
