"""Rectangles on sheets: inside, apart, and on few sheets."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.drawing.sheet_pack import Sheet, pack

SIZE, GAP = (194.0, 260.0), 9.0


def test_four_quarters_share_a_sheet() -> None:
    sheets = pack([[(92.0, 125.0)]] * 4, SIZE, GAP)
    assert len(sheets) == 1
    assert len(sheets[0].spots) == 4


def test_a_turned_shape_is_used_where_it_saves_a_sheet() -> None:
    sheets = pack([[(194.0, 200.0)], [(40.0, 190.0), (190.0, 40.0)]], SIZE, GAP)
    assert len(sheets) == 1
    assert {spot.item: spot.shape for spot in sheets[0].spots} == {0: 0, 1: 1}


def test_what_fits_no_sheet_is_refused() -> None:
    with pytest.raises(ValueError, match="larger than the sheet"):
        pack([[(200.0, 20.0)]], SIZE, GAP)


@given(st.lists(st.tuples(st.floats(1, 194), st.floats(1, 260)), min_size=1, max_size=12))
def test_nothing_overlaps_or_sticks_out(items: list[tuple[float, float]]) -> None:
    sheets = pack([[item] for item in items], SIZE, GAP)
    assert sorted(spot.item for sheet in sheets for spot in sheet.spots) == list(range(len(items)))
    for sheet in sheets:
        rects = [(s.x, s.y, s.x + items[s.item][0], s.y + items[s.item][1]) for s in sheet.spots]
        for i, (left, top, right, bottom) in enumerate(rects):
            assert left >= 0
            assert top >= 0
            assert right <= SIZE[0] + 1e-5
            assert bottom <= SIZE[1] + 1e-5
            for other in rects[i + 1 :]:
                apart = max(other[0] - right, left - other[2], other[1] - bottom, top - other[3])
                assert apart >= GAP - 1e-5


def read(sheet: Sheet) -> list[int]:
    """The items of a sheet line by line."""
    return [spot.item for spot in sorted(sheet.spots, key=lambda spot: (round(spot.y), spot.x))]


@pytest.mark.parametrize(
    "sizes",
    [
        [(190.0, 60.0), (190.0, 80.0), (190.0, 90.0)],
        [(90.0, 40.0), (90.0, 60.0), (90.0, 60.0), (90.0, 120.0)],
        [(60.0, 50.0), (100.0, 50.0), (60.0, 80.0), (100.0, 80.0), (190.0, 90.0)],
    ],
)
def test_a_sheet_reads_in_order(sizes: list[tuple[float, float]]) -> None:
    (sheet,) = pack([[size] for size in sizes], SIZE, GAP)
    assert read(sheet) == list(range(len(sizes)))


def test_order_does_not_cost_a_sheet_nor_the_room_to_spare() -> None:
    # Beside the tall one there is room for the others only if it stands first, or for a square below the three.
    sizes = [(60.0, 60.0), (60.0, 60.0), (120.0, 250.0)]
    (sheet,) = pack([[size] for size in sizes], SIZE, GAP, spare=(60.0, 100.0))
    assert any(right - left >= 69 and bottom - top >= 109 for left, top, right, bottom in sheet.free)


@given(st.lists(st.tuples(st.floats(20, 120), st.floats(20, 120)), min_size=2, max_size=8))
def test_order_takes_no_more_sheets(items: list[tuple[float, float]]) -> None:
    """No more than tallest first takes, where the numbers go by height."""
    tallest = sorted(items, key=lambda item: -item[1])
    assert len(pack([[item] for item in items], SIZE, GAP)) <= len(pack([[item] for item in tallest], SIZE, GAP))


def test_alike_items_fill_sheet_after_sheet_in_order() -> None:
    sheets = pack([[(180.0, 120.0)], [(180.0, 122.0)], [(180.0, 124.0)], [(180.0, 121.0)]], SIZE, GAP)
    assert [read(sheet) for sheet in sheets] == [[0, 1], [2, 3]]


def test_sheets_come_in_order_where_that_takes_no_more_of_them() -> None:
    """Tallest first puts the second item beside the fourth; two by two they fit as well."""
    sizes = [(194.0, 200.0), (150.0, 120.0), (150.0, 130.0), (190.0, 125.0), (190.0, 100.0)]
    sheets = pack([[size] for size in sizes], SIZE, GAP)
    assert [read(sheet) for sheet in sheets] == [[0], [1, 2], [3, 4]]
