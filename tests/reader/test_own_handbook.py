"""The rows of a design's own handbook: read into records, seen by that design only, whatever the file holds."""

import json
import tempfile
import tomllib
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.handbook import Abrasive, Finish, LumberSize, Rate, wood
from planbook.reader import book_schema, read_design
from planbook.reader.book_tables import TABLES
from planbook.text import for_people, plain

CASES = Path(__file__).parents[1] / "cases" / "reader" / "own-handbook"
CARD = 'title = "Whimbrel box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
STEPS = "## Mill\n\nBring it to size.\n"
ROWS = (CASES / "clean-rows-clean" / "handbook.toml").read_text("utf-8")


def test_every_table_becomes_records() -> None:
    design = read_design(CASES / "clean-rows-clean").design
    assert design is not None
    book = design.handbook
    assert len(book.own) == len(TABLES)
    assert {row.standing for row in book.own} == {"the maker's own"}
    oak, hide = book.wood("fen oak"), book.glue("fish glue")
    assert oak is not None
    assert oak.density_12 == pytest.approx(690)
    assert hide is not None
    assert (hide.open_minutes, hide.clamp_minutes, hide.cure_minutes) == (60, 720, 2160)
    wax, mill = book.table(Finish).find("hut wax"), book.table(LumberSize).find("5/4 of the mill")
    assert wax is not None
    assert (wax.cure_days, wax.cautions) == (3, ("oily rags",))
    assert mill is not None
    assert float(mill.dressed_mm) == pytest.approx(26.9875)
    saw, grit = book.table(Rate).find("saw"), book.table(Abrasive).find("P90")
    assert saw is not None
    assert (saw.setup_minutes, saw.unit_minutes, saw.unit) == (12, 4, "cut metre")
    assert grit is not None
    assert grit.grit == 90


def test_a_file_in_a_folder_below_may_be_named() -> None:
    reading = read_design(CASES / "named-elsewhere-clean")
    assert reading.design is not None
    assert reading.design.handbook.wood("bog oak") is not None
    assert any(name.endswith("rows/ours.toml") for name in reading.sources)


def test_a_design_without_rows_sees_none_of_another() -> None:
    first = read_design(CASES / "clean-rows-clean").design
    second = read_design(CASES.parent / "clean-box").design
    assert first is not None
    assert second is not None
    assert first.handbook.wood("bog oak") is not None
    assert second.handbook.wood("bog oak") is None
    assert wood("bog oak") is None


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("/etc/hostname", "INP03"),
        ("../handbook.toml", "INP03"),
        ("a/../../b.toml", "INP03"),
        ("C:\\\\rows.toml", "INP03"),
        ("rows\\u0000.toml", "INP03"),
        ("x" * 3000, "INP04"),
        (".", "INP04"),
        ("steps.md", "INP08"),
        ("design.toml", "INP11"),
        ("", "INP17"),
    ],
)
def test_odd_file_names_are_findings(tmp_path: Path, name: str, code: str) -> None:
    (tmp_path / "design.toml").write_text(f'handbook = "{name}"\n' + CARD)
    (tmp_path / "steps.md").write_text(STEPS)
    assert code in {finding.code for finding in read_design(tmp_path).findings}


def test_a_link_that_leads_out_is_not_followed(tmp_path: Path) -> None:
    folder = tmp_path / "design"
    folder.mkdir()
    (tmp_path / "secret.toml").write_text("[wood.x]\n")
    (folder / "handbook.toml").symlink_to(tmp_path / "secret.toml")
    (folder / "design.toml").write_text(CARD)
    (folder / "steps.md").write_text(STEPS)
    assert [finding.code for finding in read_design(folder).findings] == ["INP03"]


def check(rows: bytes) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "design.toml").write_text(CARD)
        (folder / "steps.md").write_text(STEPS)
        (folder / "handbook.toml").write_bytes(rows)
        reading = read_design(folder)
    for finding in reading.findings:
        assert plain(for_people(finding, reading.sources))
        source = reading.sources[finding.place.file]
        assert 1 <= finding.place.line <= len(source.lines)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=120))
def test_any_bytes_are_answered(rows: bytes) -> None:
    check(rows)


KEYS = sorted(set().union(*(model.keys() for model in TABLES.values())))
VALUES = st.one_of(
    st.sampled_from(
        ['"3 mm"', '"45 min"', '"-1 h"', "nan", "inf", "-1", "1e999", "true", "[]", '["a", "a"]', "{}", '""']
    ),
    st.sampled_from(['"oak"', '"#12"', '"hide"', '"hardwood"', "2024-05-01", '["\\u202e"]', "[[1]]", '"1/0 mm"']),
    st.integers().map(str),
    st.floats().map(repr),
)
LINES = st.lists(
    st.one_of(
        st.tuples(st.sampled_from(sorted(TABLES)), st.sampled_from(["oak", '"bog oak"', "saw", "P80", '""'])).map(
            lambda each: f"[{each[0]}.{each[1]}]"
        ),
        st.tuples(st.sampled_from(KEYS), VALUES).map(lambda each: f"{each[0]} = {each[1]}"),
    ),
    max_size=14,
)


@settings(max_examples=150, deadline=None)
@given(LINES)
def test_any_rows_are_answered(lines: list[str]) -> None:
    check("\n".join(lines).encode())


@settings(max_examples=120, deadline=None)
@given(st.integers(0, 60), st.sampled_from(KEYS), VALUES)
def test_a_good_file_with_one_line_changed_is_answered(number: int, key: str, value: str) -> None:
    lines = ROWS.split("\n")
    lines[number % len(lines)] = f"{key} = {value}"
    check("\n".join(lines).encode())


def test_the_schema_takes_what_the_reader_takes() -> None:
    schema = json.loads(json.dumps(book_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    assert [error.message for error in validator.iter_errors(tomllib.loads(ROWS))] == []
    for broken in ("impossible-rows", "rows-that-cannot-be-read"):
        text = (CASES / broken / "handbook.toml").read_text("utf-8")
        assert not validator.is_valid(tomllib.loads(text))


def test_every_key_of_the_schema_is_explained() -> None:
    schema = book_schema()
    bare = [
        (name, key)
        for name, table in schema["$defs"].items()
        for key, info in table["properties"].items()
        if not info.get("title") or not info.get("description")
    ]
    assert bare == []
