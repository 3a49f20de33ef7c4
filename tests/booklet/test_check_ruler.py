from planbook.booklet import check_ruler
from planbook.drawing.marks import Stroke


def bars(along: int) -> list[Stroke]:
    """The two long lines across the page (0) or down it (1)."""
    strokes = [mark for mark in check_ruler().marks if isinstance(mark, Stroke)]
    other = 1 - along
    return [s for s in strokes if s.points[0][other] == s.points[1][other] and abs(length(s, along)) > 50]


def length(stroke: Stroke, along: int) -> float:
    return stroke.points[1][along] - stroke.points[0][along]


def test_the_bars_are_100_mm_and_4_inches_long_both_ways() -> None:
    for along in (0, 1):
        assert [round(length(bar, along), 6) for bar in bars(along)] == [100.0, 101.6]


def test_each_bar_has_a_tick_at_both_ends_and_nothing_leaves_the_picture() -> None:
    picture = check_ruler()
    strokes = [mark for mark in picture.marks if isinstance(mark, Stroke)]
    for along in (0, 1):
        for bar in bars(along):
            ticks = {
                round(s.points[0][along], 6)
                for s in strokes
                if s.points[0][along] == s.points[1][along] and s.points[0][1 - along] == bar.points[0][1 - along]
            }
            assert {round(end[along], 6) for end in bar.points} <= ticks
    for stroke in strokes:
        assert all(0 <= x <= picture.width and 0 <= y <= picture.height for x, y in stroke.points)
