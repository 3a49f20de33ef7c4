"""A design told in another language: what is read, what is refused with its place, and what stays as it was."""

import json
from pathlib import Path

import jsonschema
import pytest

from planbook.model import Design, with_language
from planbook.reader import Reading, language_schema, read_design
from planbook.reader.language_kinds import ALL
from planbook.text import Finding

TOML = """
title = "Tern box"
summary = "A box."
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"

[sizes]
wall = "12 mm"

[stock."left board"]
wood = "cherry"
size = ["100 mm", "20 mm", "30 mm"]
grain = "x"

[tools."narrow blade"]
kind = "band saw"
kerf = "1 mm"
note = "{teeth} teeth"
"""
STEPS = """# Tern box

A short introduction.

## Mill the board

Bring the {left board} to {wall}.

```mill
boards = ["left board"]
```

## Rest

Let it rest.
"""
GERMAN = """# Seeschwalbenkästchen

Eine kurze Einleitung.

## Das Brett aushobeln

Das {left board|linke Brett} auf {wall} bringen.

## Ruhen lassen

Lassen Sie es ruhen.
"""
WORDS = 'title = "Seeschwalbenkästchen"\n\n[words]\n"left board" = "linkes Brett"\n'


def read(folder: Path, steps: str | None = GERMAN, words: str | None = WORDS, language: str = "de") -> Reading:
    (folder / "design.toml").write_text(TOML, "utf-8")
    (folder / "steps.md").write_text(STEPS, "utf-8")
    for name, text in ((f"steps.{language}.md", steps), (f"design.{language}.toml", words)):
        if text is not None:
            (folder / name).write_text(text, "utf-8")
    return read_design(folder)


def design_of(reading: Reading) -> Design:
    assert reading.findings == ()
    assert reading.design is not None
    return reading.design


def only(reading: Reading) -> Finding:
    (finding,) = reading.findings
    return finding


def test_card_steps_and_words_are_read(tmp_path: Path) -> None:
    design = design_of(read(tmp_path))
    told = design.translations["de"]
    assert told.card["title"] == "Seeschwalbenkästchen"
    assert told.words == {"left board": "linkes Brett"}
    assert [step.title for step in told.steps] == ["Das Brett aushobeln", "Ruhen lassen"]
    assert [m.name for prose in told.steps[0].prose for m in prose.mentions] == ["left board", "wall"]


def test_the_design_in_german_keeps_its_operations_and_what_nobody_translated(tmp_path: Path) -> None:
    design = design_of(read(tmp_path))
    german = with_language(design, "de")
    assert (german.card.title, german.card.summary) == ("Seeschwalbenkästchen", "A box.")
    assert german.intro == "Eine kurze Einleitung."
    assert german.operations == design.operations
    assert german.steps[1].title == "Ruhen lassen"
    assert with_language(design, "fr") == design


def test_a_step_left_empty_keeps_its_first_words(tmp_path: Path) -> None:
    short = GERMAN.split("Das {left")[0] + "## \n"
    german = with_language(design_of(read(tmp_path, short)), "de")
    assert german.steps[0].title == "Das Brett aushobeln"
    assert german.steps[0].prose[0].text.startswith("Bring the")
    assert german.steps[1].title == "Rest"


def test_another_number_of_steps_is_an_error_where_they_part(tmp_path: Path) -> None:
    finding = only(read(tmp_path, GERMAN.split("## Ruhen")[0]))
    assert (finding.code, finding.place.file.rsplit("/", 1)[-1], finding.place.line) == ("LAN01", "steps.de.md", 5)
    assert "has 1 steps" in finding.headline


def test_a_name_that_is_left_out_is_an_error_at_its_sentence(tmp_path: Path) -> None:
    finding = only(read(tmp_path, GERMAN.replace("auf {wall} ", "dünner ")))
    assert (finding.code, finding.place.line) == ("LAN02", 7)
    assert finding.headline == "step 1 of the translation lacks `{wall}`"
    assert finding.also[0].place.line == 7


def test_an_operation_in_a_translation_is_refused(tmp_path: Path) -> None:
    finding = only(read(tmp_path, f'{GERMAN}\n```wait\ntime = "1 h"\n```\n'))
    assert (finding.code, finding.place.line) == ("LAN03", 13)


def test_words_for_nothing_are_told_with_a_near_name(tmp_path: Path) -> None:
    finding = only(read(tmp_path, words='[words]\n"left bord" = "linkes Brett"\n'))
    assert (finding.code, finding.place.line) == ("LAN04", 2)
    assert "`left board`" in finding.hint


@pytest.mark.parametrize("words", ["Zähne", "{teeth} von {all}", "{zähne} Zähne"])
def test_a_note_with_other_placeholders_is_refused(tmp_path: Path, words: str) -> None:
    finding = only(read(tmp_path, words=f'[words]\n"{{teeth}} teeth" = "{words}"\n'))
    assert (finding.code, finding.place.line) == ("LAN02", 2)


def test_a_language_without_catalogue_is_told_and_not_read(tmp_path: Path) -> None:
    reading = read(tmp_path, language="dk")
    assert {finding.code for finding in reading.findings} == {"LAN06"}
    assert "`de`" in reading.findings[0].hint or "`de`" in reading.findings[0].notes[0]
    assert reading.design is not None
    assert reading.design.translations == {}


def test_a_design_written_in_german_needs_no_german(tmp_path: Path) -> None:
    (tmp_path / "design.toml").write_text(f'language = "de"{TOML}', "utf-8")
    (tmp_path / "steps.md").write_text(STEPS, "utf-8")
    (tmp_path / "steps.de.md").write_text(GERMAN, "utf-8")
    (tmp_path / "steps.en.md").write_text(STEPS.split("```mill")[0] + "## Rest\n", "utf-8")
    reading = read_design(tmp_path)
    assert only(reading).code == "LAN06"
    assert reading.design is not None
    assert list(reading.design.translations) == ["en"]


@pytest.mark.parametrize(
    "words",
    [
        "titel = 'x'",
        "title = 3",
        "[words]\nwall = 4",
        "words = 'x'",
        "title = ",
        "title = 'a\x07b'",
        "[words]\n[words]",
    ],
)
def test_a_broken_table_is_a_finding_with_its_place(tmp_path: Path, words: str) -> None:
    reading = read(tmp_path, words=words)
    assert any(finding.stops for finding in reading.findings)
    for finding in reading.findings:
        assert finding.place.file.endswith("design.de.toml")
        assert finding.place.line >= 1


@pytest.mark.parametrize("steps", ["", "no heading", "## {wall}\n\n## x", "## a\n{\n\n## b\n", "## a\n\n```x\ny\n"])
def test_whatever_a_translation_holds_is_a_finding_and_no_fault(tmp_path: Path, steps: str) -> None:
    reading = read(tmp_path, steps)
    assert reading.findings
    assert all(finding.place.file.endswith("steps.de.md") for finding in reading.findings)


def test_a_translation_that_leads_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    outside = tmp_path / "outside.md"
    outside.write_text(GERMAN, "utf-8")
    folder = tmp_path / "design"
    folder.mkdir()
    (folder / "steps.de.md").symlink_to(outside)
    assert [finding.code for finding in read(folder, steps=None).findings] == ["INP03"]


def test_the_schema_agrees_with_the_reader(tmp_path: Path) -> None:
    schema = json.loads(json.dumps(language_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    check = jsonschema.Draft202012Validator(schema)
    assert check.is_valid({"title": "x", "words": {"left board": "linkes Brett"}})
    assert not check.is_valid({"titel": "x"})
    assert not check.is_valid({"words": {"left board": 3}})


def test_every_kind_is_explained() -> None:
    assert [kind.code for kind in ALL] == [f"LAN{n:02}" for n in range(1, len(ALL) + 1)]
    assert all(kind.what.endswith(".") and kind.why.endswith(".") and kind.bad != kind.good for kind in ALL)
