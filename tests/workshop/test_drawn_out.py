"""How pieces that are put together are drawn apart: on the shortest way on which they really come free."""

import pytest

from planbook.solids import Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Piece
from planbook.workshop.placing import drawn_out, seen_from
from planbook.workshop.ways_out import locked

CASE = block((0, 0, 0), (400, 200, 300)).minus(block((20, -1, 20), (380, 201, 280)))
"""A case without front and back, of boards that are 20 mm thick."""


def piece(name: str, solid: Solid) -> Piece:
    return Piece(name, solid, (), At(1, 1, Place("steps.md")))


def way_of(case: Solid, solid: Solid, *staying: Piece) -> tuple[tuple[float, float, float], str]:
    pieces = (piece("case", case), piece("part", solid), *staying)
    shown = drawn_out(pieces, {"case", *(p.name for p in staying)})
    return shown[1].apart, seen_from(shown)


def test_a_rail_in_rabbets_at_the_back_comes_out_behind() -> None:
    case = CASE.minus(block((10, 180, 200), (390, 201, 280)))
    apart, face = way_of(case, block((10, 180, 200), (390, 200, 280)))
    assert (apart[0], apart[2], face) == (0, 0, "back")
    assert apart[1] >= 20


def test_a_shelf_in_stopped_dados_keeps_clear_of_what_closes_the_front() -> None:
    case = CASE.minus(block((10, 30, 100), (390, 201, 120)))
    apart, face = way_of(case, block((10, 30, 100), (390, 200, 120)))
    assert apart[1] > 0
    assert face == "back"


def test_what_is_in_place_already_stays_though_it_is_the_smaller() -> None:
    rail, shelf = piece("rail", block((0, 180, 0), (400, 200, 60))), piece("shelf", block((0, 0, 60), (400, 200, 80)))
    assert [any(s.apart) for s in drawn_out((rail, shelf))] == [True, False]
    assert [any(s.apart) for s in drawn_out((rail, shelf), {"rail"})] == [False, True]


def test_what_touches_only_what_comes_off_on_another_side_stays_in_its_place() -> None:
    low, high = piece("low", block((20, 0, 20), (380, 200, 60))), piece("high", block((20, 0, 260), (380, 200, 280)))
    sides = [piece(f"side {n}", block((x, 0, 0), (x + 20, 200, 300))) for n, x in enumerate((0, 380), 1)]
    rail = piece("rail", block((20, 0, 0), (380, 20, 20)))
    moves = {s.piece.name: s.apart for s in drawn_out((low, high, *sides, rail))}
    assert moves["low"] == moves["high"] == (0, 0, 0)
    assert moves["side 1"][0] < 0 < moves["side 2"][0]
    assert moves["rail"][2] < 0
    on_top = piece("post", block((100, 0, 60), (120, 200, 260)))
    moves = {s.piece.name: s.apart for s in drawn_out((low, high, *sides, rail, on_top))}
    assert moves["post"][2] == moves["high"][2] > 0, "it stands on what stays, and the other on it"


def test_what_is_shut_in_stays_in_its_place() -> None:
    frame = block((0, 0, 0), (400, 300, 60)).minus(
        block((20, 20, -1), (380, 280, 61)), block((10, 10, 10), (390, 290, 16))
    )
    pieces = piece("frame", frame), piece("bottom", block((11, 11, 10), (389, 289, 16)))
    assert locked(pieces) == {"bottom"}
    assert not any(any(s.apart) for s in drawn_out(pieces, held=locked(pieces)))


def test_what_is_free_in_front_comes_out_in_front() -> None:
    apart, face = way_of(CASE, block((20, 0, 20), (380, 200, 60)))
    assert apart[1] < 0
    assert (apart[0], apart[2], face) == (0, 0, "")


def test_a_little_longer_way_in_front_is_taken_before_one_behind() -> None:
    apart, _ = way_of(CASE, block((20, 30, 20), (380, 180, 100)))
    assert apart[1] < 0


def test_a_thin_wall_far_along_the_way_is_not_jumped_over() -> None:
    door = piece("door", block((20, 0, 20), (380, 3, 280)))
    apart, face = way_of(CASE, block((20, 190, 20), (380, 194, 100)), door)
    assert apart[1] > 0
    assert face == "back"
    # 20 mm of air on both sides of a plate of 3 mm in a way of 400 mm: it has to be looked at closely.
    plate = piece("plate", block((50, 3, 20), (70, 6, 280)))
    apart, _ = way_of(CASE, block((50, 150, 120), (70, 154, 130)), plate)
    assert apart[1] > 0


def test_what_is_locked_in_goes_where_it_went() -> None:
    hollow = block((0, 0, 0), (100, 100, 100)).minus(block((20, 20, 20), (80, 80, 80)))
    apart, _ = way_of(hollow, block((40, 30, 40), (60, 50, 60)))
    assert apart[1] == pytest.approx(-(30 + 0.75 * 20 + 8))


TUBE = block((0, 0, 0), (300, 100, 100)).minus(block((-1, 20, 20), (250, 80, 80)))
"""A block with a hole from the left that ends before the right side."""


def outs(*solids: Solid) -> list[tuple[float, float, float]]:
    pieces = (piece("body", TUBE), *(piece(f"plug {k}", solid) for k, solid in enumerate(solids)))
    return [s.apart for s in drawn_out(pieces, {"body"})[1:]]


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_what_comes_out_the_same_way_lies_one_behind_the_other(order: tuple[int, int]) -> None:
    plugs = block((150, 20, 20), (240, 80, 80)), block((0, 20, 20), (60, 80, 80))
    found = outs(*(plugs[k] for k in order))
    deep, near = (found[order.index(k)] for k in (0, 1))
    assert (deep[1:], near[1:]) == ((0, 0), (0, 0))
    # The one at the mouth goes past the other, which is drawn out for the most part: 8 mm lie between them.
    assert 60 + near[0] == pytest.approx(150 + deep[0] - 8)


def test_none_goes_through_another_that_leaves_on_the_other_side() -> None:
    """The way to the nearer side would lead each of two through the other; one goes first, the other after it."""
    both = block((0, 0, 0), (300, 100, 100)).minus(block((-1, 20, 20), (301, 80, 80)))
    left, right = block((30, 20, 20), (180, 80, 80)), block((180, 20, 20), (285, 80, 80))
    wall = block((130, 20, 20), (170, 80, 80))
    pieces = (piece("body", both), piece("left", left.minus(wall)), piece("wall", wall), piece("right", right))
    shown = {s.piece.name: s.piece.solid.moved(s.apart) for s in drawn_out(pieces, {"body"})}
    for one, two in (("left", "wall"), ("wall", "right"), ("left", "right")):
        assert shown[one].meet(shown[two]).volume < 1.0
    assert all(shown[name].meet(both).volume < 1.0 for name in ("left", "wall", "right"))


def test_a_lid_goes_past_what_comes_out_below_it() -> None:
    box = block((0, 0, 0), (200, 150, 80)).minus(block((10, 10, 10), (190, 140, 81)))
    tray, lid = piece("tray", block((10, 10, 60), (190, 140, 80))), piece("lid", block((0, 0, 80), (200, 150, 95)))
    shown = {s.piece.name: s.apart for s in drawn_out((piece("box", box), tray, lid), {"box"})}
    assert shown["tray"][2] > 0
    assert 80 + shown["lid"][2] >= 80 + shown["tray"][2] + 8
