"""Where the settings of a step stand: under its words, or across the page where that is shorter."""

from planbook.booklet.basics import Fact
from planbook.booklet.steps import lower

SHORT = tuple(Fact(f"Setting {k}", f"{k} mm") for k in range(8))


def test_many_settings_under_many_words_go_across_the_page() -> None:
    rows = lower(60.0, ["word " * 90], SHORT, 0)
    assert [len(row) for row in rows] == [2, 2, 2, 2]
    assert [fact for row in rows for fact in row] == list(SHORT)


def test_few_words_beside_a_tall_picture_keep_the_settings_under_them() -> None:
    assert lower(64.0, ["word " * 10], SHORT[:5], 1) == ()


def test_nothing_is_moved_where_it_gains_nothing() -> None:
    assert lower(0.0, [], SHORT[:1], 0) == ()


def test_a_long_value_has_a_row_to_itself() -> None:
    long = Fact("Carcase", "at 1: 115 mm right, 49 mm up; " * 4)
    rows = lower(40.0, ["word " * 60], (*SHORT[:3], long, *SHORT[3:6]), 0)
    assert (long,) in rows
    assert [fact for row in rows for fact in row] == [*SHORT[:3], long, *SHORT[3:6]]
