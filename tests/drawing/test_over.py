"""Leaders over other pieces: how much of them, for each number of names on the left."""

import pytest

from planbook.drawing.over import over_others


def square(left: float, bottom: float) -> tuple[tuple[tuple[float, float], ...], tuple[()]]:
    return ((left, bottom), (left + 10, bottom), (left + 10, bottom + 10), (left, bottom + 10)), ()


def test_a_leader_over_a_neighbour_counts_as_long_as_it_lies_there() -> None:
    names = [((5.0, 5.0), [square(0, 0)]), ((25.0, 5.0), [square(20, 0)])]
    # Both on one side: one leader passes over the other square, 10 of 30 mm, shared by two names.
    assert over_others(names, 0.0, 30.0) == pytest.approx([1 / 6, 0.0, 1 / 6], abs=0.03)


def test_pieces_above_each_other_are_in_nobodys_way() -> None:
    names = [((5.0, 5.0), [square(0, 0)]), ((6.0, 25.0), [square(1, 20)])]
    assert over_others(names, 0.0, 12.0) == [0.0, 0.0, 0.0]


def test_one_name_has_no_neighbours() -> None:
    assert over_others([((5.0, 5.0), [square(0, 0)])], 0.0, 10.0) == [0.0, 0.0]
