from planbook.booklet import check_ruler
from planbook.drawing.marks import Stroke


def long_strokes() -> list[Stroke]:
    strokes = [mark for mark in check_ruler().marks if isinstance(mark, Stroke)]
    return [s for s in strokes if s.points[0][1] == s.points[1][1]]


def test_the_bars_are_100_mm_and_4_inches_long() -> None:
    lengths = [round(s.points[1][0] - s.points[0][0], 6) for s in long_strokes()]
    assert lengths == [100.0, 101.6]


def test_each_bar_has_a_tick_at_both_ends_and_nothing_leaves_the_picture() -> None:
    picture = check_ruler()
    ticks = [m for m in picture.marks if isinstance(m, Stroke) and m.points[0][0] == m.points[1][0]]
    for bar in long_strokes():
        (left, y), (right, _) = bar.points
        xs = {round(t.points[0][0], 6) for t in ticks if t.points[0][1] == y}
        assert {round(left, 6), round(right, 6)} <= xs
    for mark in picture.marks:
        if isinstance(mark, Stroke):
            assert all(0 <= x <= picture.width and 0 <= y <= picture.height for x, y in mark.points)
