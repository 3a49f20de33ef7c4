"""Where words and settings of a step stand: beside its picture, or across the page where that is shorter."""

from planbook.booklet.basics import Fact
from planbook.booklet.step_room import MOST, SHOP, lengthy, lower, paired, room_beside, wordy

SHORT = tuple(Fact(f"Setting {k}", f"{k} mm") for k in range(8))


def test_many_settings_under_many_words_go_across_the_page() -> None:
    rows = lower(60.0, ["word " * 90], SHORT, 0)
    assert [len(row) for row in rows] == [2, 2, 2, 2]
    assert [fact for row in rows for fact in row] == list(SHORT)


def test_few_words_beside_a_tall_picture_keep_the_settings_under_them() -> None:
    assert lower(64.0, ["word " * 10], SHORT[:5], 1) == ()


def test_the_code_of_a_film_under_the_words_sends_the_settings_across_the_page() -> None:
    words = ["word " * 60]
    assert lower(64.0, words, SHORT[:4], 0) == ()
    assert lower(64.0, words, SHORT[:4], 0, 24.0) == (SHORT[:2], SHORT[2:4])


def test_nothing_is_moved_where_it_gains_nothing() -> None:
    assert lower(0.0, [], SHORT[:1], 0) == ()


def test_a_long_value_has_a_row_to_itself() -> None:
    long = Fact("Carcase", "at 1: 115 mm right, 49 mm up; " * 4)
    rows = lower(40.0, ["word " * 60], (*SHORT[:3], long, *SHORT[3:6]), 0)
    assert (long,) in rows
    assert [fact for row in rows for fact in row] == [*SHORT[:3], long, *SHORT[3:6]]


def test_in_large_type_many_settings_go_across_the_page_and_the_words_beside_a_low_picture() -> None:
    assert wordy(31.0, ["word " * 30], SHORT, 0)


def test_in_large_type_few_settings_stay_beside_the_picture() -> None:
    assert not wordy(60.0, ["word " * 30], SHORT[:4], 0)


def test_many_words_stay_below_since_a_narrow_column_of_them_would_be_taller() -> None:
    assert not wordy(31.0, ["word " * 300], SHORT, 0)


def test_words_are_lengthy_that_run_on_more_than_two_lines_below_their_picture() -> None:
    lines = int(SHOP.picture / SHOP.line) + 2
    just, more = ("w" * (SHOP.words_beside * count) for count in (lines - 1, lines + 1))
    assert not lengthy(SHOP.picture, [just])
    assert lengthy(SHOP.picture, [more])
    assert lengthy(20.0, [just])


def test_a_picture_that_the_layout_makes_lower_counts_as_low_as_it_is_printed() -> None:
    words = ["w" * SHOP.words_beside * 13]
    assert lengthy(500.0, words) == lengthy(SHOP.picture, words)


def test_a_high_picture_is_not_made_lower() -> None:
    words = ["w" * SHOP.words_beside * 13]
    assert lengthy(SHOP.picture, words)
    assert not lengthy(90.0, words, high=True)
    assert not wordy(90.0, ["word " * 30], SHORT[:5], 0, high=True)


def test_a_row_is_shared_by_two_settings_that_are_short_enough_for_it() -> None:
    facts = [Fact("A", "x" * 20), Fact("B", "y" * 20), Fact("C", "z" * 21), Fact("D", "w")]
    assert [len(row) for row in paired(facts, 20)] == [2, 1, 1]
    assert [len(row) for row in paired(facts, 21)] == [2, 2]


def test_a_picture_may_be_as_high_as_the_words_beside_it() -> None:
    """By hand: 14 pt are 4.94 mm; 42 letters stand on a line, and half a line goes before the next paragraph."""
    assert room_beside(["w" * 42 * 10]) == 64.0
    assert room_beside(["w" * 42 * 17]) == 80.0
    assert room_beside(["w" * 42 * 8, "", "w" * 42 * 8]) == 80.0
    assert room_beside(["w" * 42 * 60]) == MOST
