"""Places in source texts."""

from planbook.text import Place, Source


def test_offsets_become_lines_and_columns() -> None:
    source = Source("a.toml", "one\ntwo 🐦\n\nfour")
    assert source.at(0, 3) == Place("a.toml", 1, 1, 3)
    assert source.at(8) == Place("a.toml", 2, 5, 1)
    assert source.at(10) == Place("a.toml", 3, 1, 1)
    assert source.at(11, 4) == Place("a.toml", 4, 1, 4)


def test_a_place_stays_on_its_line_and_in_the_text() -> None:
    source = Source("a.toml", "one\ntwo")
    assert source.at(1, 50) == Place("a.toml", 1, 2, 2)
    assert source.at(-4) == Place("a.toml", 1, 1, 1)
    assert source.at(99, 5) == Place("a.toml", 2, 4, 1)
    assert Source("b", "").at(0) == Place("b", 1, 1, 1)


def test_lines_have_no_ends() -> None:
    source = Source("a", "one\r\ntwo\r\n")
    assert source.lines == ("one", "two", "")
    assert (source.line(2), source.line(0), source.line(4)) == ("two", "", "")


def test_places_inside_a_place() -> None:
    assert Place("a", 3, 10, 8).within(2, 3) == Place("a", 3, 12, 3)
    assert Place("a", 3, 10, 8).within(2, 0).length == 1


def test_places_are_ordered_by_file_line_and_column() -> None:
    places = [Place("b", 1), Place("a", 2, 1), Place("a", 1, 9), Place("a", 1, 2)]
    assert sorted(places) == [Place("a", 1, 2), Place("a", 1, 9), Place("a", 2, 1), Place("b", 1)]
