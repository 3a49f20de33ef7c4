"""Pieces told together: those of a batch that are alike, and names in short."""

import pytest

from planbook.takeoff import as_csv, group_name, lists, together
from planbook.takeoff.boards import boards
from planbook.takeoff.records import in_short
from planbook.units import MM_TENTH


@pytest.mark.parametrize(
    ("names", "short"),
    [
        (["leg 1", "leg 2", "leg 3", "leg 4"], "leg 1 to 4"),
        (["leg 1", "leg 2"], "leg 1, 2"),
        (["leg 4", "leg 1", "leg 3", "top"], "leg 1, 3, 4, top"),
        (["rail", "rail 1"], "rail, rail 1"),
        (["leg 01", "leg 02"], "leg 01, leg 02"),
        (["leg 9", "leg 10", "leg 11"], "leg 9 to 11"),
        (["7"], "7"),
    ],
)
def test_numbers_in_a_row_are_told_as_a_range(names, short):
    assert in_short(names) == short


@pytest.fixture
def stool(bench, make_piece):
    """Four legs, one of them shorter in the end, and a seat."""
    legs = [make_piece(f"leg {n}", (30, 30, 200), grain="z") for n in (1, 2, 3, 4)]
    seat = make_piece("seat", (300, 200, 20))
    for n in (1, 2, 3, 4):
        bench.board(f"leg {n}", "30 mm", "30 mm", "200 mm", grain="z")
    bench.step("Mill")
    bench.do("mill", made=[*legs, seat])
    bench.step("Trim")
    short = make_piece("leg 3", (30, 30, 190), grain="z")
    bench.do("trim", [legs[2]], [short])
    bench.ends("part", *legs[:2], short, legs[3], seat)
    return bench.timeline()


def test_alike_pieces_of_a_batch_stand_together(stool):
    groups = together(lists(stool).pieces)
    assert [group_name(group) for group in groups] == ["3 × leg (1, 2, 4)", "leg 3", "seat"]


def test_alike_boards_stand_together(stool):
    assert [(row.name, row.count) for row in boards(stool)] == [("leg 1 to 4", 4)]


def test_the_table_counts_them(stool):
    rows = [line.split(",") for line in as_csv(lists(stool), MM_TENTH).splitlines() if line.startswith("pieces")]
    assert rows[1][2:5] == ["leg 3", "cherry", "1"]
    assert '"leg 1, 2, 4",cherry,3' in as_csv(lists(stool), MM_TENTH)
