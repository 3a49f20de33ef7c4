"""Rectangles on sheets: inside, apart, and on few sheets."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbook.drawing.sheet_pack import pack

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
