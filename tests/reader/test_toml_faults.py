"""Broken TOML: plain words, the right place, and hints that mend."""

import tomllib

import pytest

from planbook.reader.toml_text import parse
from planbook.reader.toml_tree import Frame, read_tree
from planbook.text import Finding, Place, Source


def findings(text: str) -> tuple[Finding, ...]:
    source = Source("design.toml", text)
    return read_tree(text, Frame(source), Place("design.toml")).findings


@pytest.mark.parametrize(
    ("line", "words", "column"),
    [
        ("wall = 12 mm", "something is left over after the value", 11),
        ("wall = ", "the value cannot be read", 8),
        ("wall 12", "`=` is missing after the key", 6),
        ('wall = "12 mm', "the text is not closed with a quotation mark", 8),
        ("wall = '12 mm", "the text is not closed with a quotation mark", 8),
        ('wall = ["1 mm" "2 mm"]', "a comma or the `]` that closes the list is missing", 16),
        ('wall = { a = "1 mm"', "a comma or the `}` that closes the table is missing on its line", 20),
        ("[sizes", "the table is not closed with `]`", 7),
        ("[[sizes]", "the list of tables is not closed with `]]`", 8),
        ('wall = "a\\qb"', "a backslash in a text must be written twice", 10),
        ("= 3", "this line is neither `key = value` nor `[table]`", 1),
    ],
)
def test_words_and_place_of_a_mistake(line: str, words: str, column: int) -> None:
    found = findings(f"a = 1\n{line}\nb = 2\n")
    assert found[0].headline.startswith(f"line 2 is not TOML: {words}")
    assert (found[0].place.line, found[0].place.column) == (2, column)
    assert len(found) == 1


@pytest.mark.parametrize(
    ("line", "mended"),
    [
        ("wall = 12 mm", 'wall = "12 mm"'),
        ("wall = 1/4 in  # thin", 'wall = "1/4 in"'),
        ('wall = "3 1/4""', 'wall = "3 1/4 in"'),
        ("title = Curlew box", 'title = "Curlew box"'),
        ('wall = "12 mm', ""),
        ("wall = [1 2]", ""),
    ],
)
def test_a_hint_gives_a_line_that_holds(line: str, mended: str) -> None:
    (fault,) = parse(line).faults
    assert fault.mended == mended
    if mended:
        tomllib.loads(mended)


def test_lines_that_are_wrong_by_themselves_are_all_told() -> None:
    parsed = parse('a = 1 2\nb = 3\n[c\nd = 4\n[e]\nf = x\ng = "h"\n')
    assert [fault.line for fault in parsed.faults] == [0, 2, 5]
    assert parsed.data is not None
    assert parsed.data["b"] == 3
    assert parsed.data["e"]["g"] == "h"
    assert parsed.lost


def test_a_fault_over_several_lines_is_told_once() -> None:
    parsed = parse('a = [\n  1 2,\n  3 4,\n]\nb = "\n')
    assert [fault.line for fault in parsed.faults] == [1]
    assert parsed.data is None


def test_a_list_that_was_never_closed_is_shown_from_its_beginning() -> None:
    (finding,) = findings('a = [\n  "1 mm",\n  "2 mm"\nb = 3\n')
    assert finding.place.line == 4
    assert [(aside.place.line, aside.place.column) for aside in finding.also] == [(1, 5)]


def test_the_first_writing_of_a_key_is_shown() -> None:
    (finding,) = findings("[a]\nx = 1\ny = 2\nx = 3\n")
    assert finding.headline == "`x` is written a second time"
    assert [aside.place for aside in finding.also] == [Place("design.toml", 2, 1, 1)]


def test_the_first_writing_of_a_table_is_shown() -> None:
    (finding,) = findings("[a]\nx = 1\n[b]\n[a]  # again\ny = 1\n")
    assert finding.headline == "`[a]` is written a second time"
    assert [aside.place for aside in finding.also] == [Place("design.toml", 1, 2, 1)]


def test_deep_and_long_texts_end_in_one_finding() -> None:
    for text in ("a = " + "[" * 5000, "a = " + "[" * 3000 + "]" * 3000, ".".join("a" * 1900) + " = 1", "[" * 4000):
        assert len(findings(text)) == 1


def test_faults_are_counted_to_twenty() -> None:
    assert len(parse("a = 1 2\n" * 500).faults) == 20
