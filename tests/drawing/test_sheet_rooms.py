"""The room of a measured sheet: slim where that takes nothing from it, and figures that keep clear of each other."""

from itertools import combinations

from planbook.drawing.marks import Words
from planbook.drawing.piece_sheet import piece_sheet, roomy_sheet
from planbook.drawing.stencil_room import words_box
from planbook.solids.solid import block
from planbook.units import MM_TENTH

WIDE, HIGH = 168.0, 112.0


def comb(notches, pitch):
    solid = block((0, 0, 0), (2 * notches * pitch, 20, 60))
    for k in range(notches):
        start = (2 * k + 0.5) * pitch
        solid = solid.minus(block((start, -1, 40), (start + pitch, 21, 61)))
    return solid


def test_a_slim_room_is_taken_where_the_scale_stays_the_same():
    usual, slim = (WIDE, HIGH), (80.0, HIGH)
    tall, broad = block((0, 0, 0), (20, 60, 300)), block((0, 0, 0), (300, 60, 20))
    kept, wide = (roomy_sheet("leg", solid, usual, slim, MM_TENTH, "first") for solid in (tall, broad))
    assert kept.width == 80.0
    assert kept.alt == piece_sheet("leg", tall, *usual, MM_TENTH, "first").alt  # which tells the scale
    assert wide.width == WIDE


def test_a_slim_room_is_not_taken_where_it_leaves_places_out():
    few, many, too_many = (
        roomy_sheet("comb", comb(notches, pitch), (WIDE, HIGH), (112.0, 112.0), MM_TENTH, "first")
        for notches, pitch in ((4, 5), (13, 8), (22, 3))
    )
    assert (few.width, few.missing) == (112.0, ())
    assert (many.width, many.missing) == (WIDE, ())
    assert len([mark for mark in many.of_layer("measure") if mark.angle]) == 2 * 13 + 2
    assert too_many.missing == ("the width",)
    assert any("There are more places along the width" in m.text for m in too_many.marks if isinstance(m, Words))


def test_figures_side_by_side_keep_clear_of_each_other():
    for angle in ("first", "third"):
        rows = piece_sheet("comb", comb(7, 4), WIDE, HIGH, MM_TENTH, angle).of_layer("measure")
        boxes = [words_box(mark) for mark in rows]
        assert len(boxes) >= 18
        assert not any(one.offset(0.39).touches(two) for one, two in combinations(boxes, 2))
