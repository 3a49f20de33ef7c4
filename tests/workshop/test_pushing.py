"""Arrows at pieces that are put in: along the true way, behind the piece, and only where one goes into another."""

import pytest

from planbook.solids import Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece, Shown
from planbook.workshop.placing import drawn_out
from planbook.workshop.pushing import LONG, pushes

CASE = block((0, 0, 0), (400, 200, 300)).minus(block((20, -1, 20), (380, 180, 280)))
"""A case without a front, of boards that are 20 mm thick."""


def piece(name: str, solid: Solid) -> Piece:
    return Piece(name, solid, (), At(1, 1, Place("steps.md")))


def test_a_drawer_is_pushed_in_from_where_it_was_drawn_out() -> None:
    drawer = piece("drawer", block((21, 0, 20), (379, 180, 90)))
    (cue,) = pushes(drawn_out((piece("case", CASE), drawer), {"case"}))
    tail, tip = cue.points
    assert (cue.kind, cue.piece) == ("push", "drawer")
    assert tip == pytest.approx((200, 0, 55))  # the middle of its front
    assert tail == pytest.approx((200, -LONG * 400, 55))


def test_on_a_face_with_a_hole_in_its_middle_it_points_at_wood() -> None:
    ring = block((21, 0, 21), (379, 30, 279)).minus(block((100, -1, 100), (300, 31, 200)))
    (cue,) = pushes(drawn_out((piece("case", CASE), piece("frame", ring)), {"case"}))
    x, y, z = cue.points[1]
    assert y == pytest.approx(0)
    assert not (100 < x < 300 and 100 < z < 200)


def test_what_only_lies_beside_what_stays_gets_none() -> None:
    """A shelf between two sides that are taken off is not pushed onto the shelf below it."""
    bottom = piece("bottom", block((10, 0, 0), (390, 200, 20)))
    shelf = piece("shelf", block((10, 0, 150), (390, 200, 165)))
    side = piece("side", block((0, 0, 0), (15, 200, 165)).minus(bottom.solid, shelf.solid))
    cues = pushes(drawn_out((bottom, shelf, side)))
    assert [cue.piece for cue in cues] == ["side"]
    assert cues[0].points[1][0] == pytest.approx(0)
    assert cues[0].points[0][0] < 0


def test_what_stays_is_set_down_on_what_hangs_below_it() -> None:
    top = piece("top", block((0, 0, 100), (300, 200, 120)))
    legs = [piece(f"leg {k}", block((40 + 180 * k, 20, 0), (60 + 180 * k, 180, 100))) for k in (0, 1)]
    (cue,) = pushes(drawn_out((top, *legs)))
    tail, tip = cue.points
    assert cue.piece == "top"
    assert tip == pytest.approx((150, 100, 120))
    assert tail[2] > tip[2]


def test_pieces_of_a_layer_get_arrows_where_they_stand_in_what_is_no_part_of_it() -> None:
    base = piece("base", block((0, 0, 0), (200, 60, 30)).minus(block((20, 25, 15), (180, 35, 31))))
    low = [piece(f"low {k}", block((20 + 40 * k, 25, 15), (60 + 40 * k, 35, 60))) for k in range(4)]
    high = [piece(f"high {k}", block((20 + 40 * k, 25, 60), (60 + 40 * k, 35, 100))) for k in range(2)]
    shown = drawn_out((base, *low, *high))
    assert {s.apart[1] for s in shown} == {0.0}
    cues = pushes(shown)
    # Those below others cannot be pointed at from above: the others stand where the arrow would be.
    assert [cue.piece for cue in cues] == ["low 2", "low 3"]
    for cue in cues:
        (x, y, _), (u, v, _) = cue.points
        assert (x, y) == pytest.approx((u, v))
        assert cue.points[0][2] > cue.points[1][2] == pytest.approx(60)


def test_a_layer_alone_is_not_pushed_into_itself() -> None:
    tiles = [piece(f"tile {k}", block((0, 0, 50 * k), (60 + (k == 0), 10, 50 * k + 50))) for k in range(5)]
    shown = tuple(
        Shown(s.piece, s.role, (s.apart[0] + 1, 0, s.apart[2])) if any(s.apart) else s for s in drawn_out(tiles)
    )
    assert pushes(shown) == ()


def test_nothing_that_stays_is_pushed() -> None:
    case = Shown(piece("case", CASE), "worked")
    assert pushes((case,)) == ()
    assert pushes(()) == ()


def _locked(axis: int) -> tuple[Solid, Solid]:
    """Two blocks side by side along an axis, a tab of the first with a wide head in a hollow of the second."""

    def turned(low: tuple[float, float, float], high: tuple[float, float, float]) -> Solid:
        return block(low, high) if axis == 0 else block((low[2], low[1], low[0]), (high[2], high[1], high[0]))

    tab = turned((55, 0, 20), (70, 10, 30)).plus(turned((70, 0, 12), (80, 10, 38)))
    return turned((0, 0, 0), (55, 10, 50)).plus(tab), turned((55, 0, 0), (120, 10, 50)).minus(tab)


@pytest.mark.parametrize("axis", [0, 2])
def test_what_is_held_by_a_tab_is_not_pushed_in_across_it(axis: int) -> None:
    one, two = _locked(axis)
    away = (-20.0, 0.0, 0.0) if axis == 0 else (0.0, 0.0, -20.0)
    still = Shown(piece("still", two), "worked")
    assert pushes((still, Shown(piece("tabbed", one), "worked", away))) == ()
    (cue,) = pushes((still, Shown(piece("tabbed", one), "worked", (0.0, -20.0, 0.0))))
    assert cue.points[0][1] < cue.points[1][1] == pytest.approx(0)


def test_a_layer_whose_pieces_hold_one_another_is_not_pushed_together_in_its_plane() -> None:
    """A groove leaves the pieces free along it, but not their tabs."""
    base = piece("base", block((-100, -20, -20), (900, 30, 8)).minus(block((-101, 0, 0), (901, 10, 9))))
    one, two = _locked(0)
    more = [piece(f"upper {k}", block((100 * k, 0, 50), (100 * k + 100, 10, 70))) for k in range(3)]
    shown = drawn_out((base, piece("one", one), piece("two", two), *more))
    moved = {s.piece.name: s.apart for s in shown}
    assert moved["one"][0] < -5 * abs(moved["one"][2])
    assert pushes(shown) == ()
