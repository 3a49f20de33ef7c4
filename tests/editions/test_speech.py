"""Catalogues of translations: read, complete, with the same placeholders, and decimals as each language writes them."""

import ast
import re
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

import planbook
from planbook.booklet import layout_names
from planbook.booklet.compose import words_of
from planbook.booklet.layouts import layout_folder
from planbook.drawing.day_bars import DayWords
from planbook.drawing.piece_notes import SheetWords
from planbook.drawing.stencil_words import StencilWords
from planbook.speech import (
    LANGUAGES,
    NotACatalogue,
    comma,
    compiled,
    labelled,
    placeholders,
    read_po,
    say,
    say_many,
    speaking,
)

OTHERS = tuple(language for language in LANGUAGES if language != "en")
PLACEHOLDER = re.compile(r"\{\w+\}")


def entries(language: str) -> dict[tuple[str, str], tuple[str, ...]]:
    path = Path(planbook.__file__).parent / "catalogues" / f"{language}.po"
    return {key: forms for key, forms in read_po(path.read_text(encoding="utf-8")).items() if key[0]}


@pytest.mark.parametrize("language", OTHERS)
def test_no_translation_lost_or_made_up_a_placeholder(language: str) -> None:
    for (one, many), forms in entries(language).items():
        for text, form in zip((one, many) if many else (one,), forms, strict=True):
            assert set(PLACEHOLDER.findall(form)) == set(PLACEHOLDER.findall(text)), (text, form)


@pytest.mark.parametrize("language", OTHERS)
def test_every_catalogue_holds_the_same_texts(language: str) -> None:
    assert entries(language).keys() == entries("de").keys()


def leaves(tree: Any) -> Iterator[str]:
    if isinstance(tree, dict):
        for value in tree.values():
            yield from leaves(value)
    elif isinstance(tree, list):
        yield from tree
    else:
        yield tree


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("layout", layout_names())
def test_every_word_of_our_layouts_is_in_the_catalogues(layout: str, language: str) -> None:
    known = {one for one, _ in entries(language)}
    assert set(leaves(words_of(layout_folder(layout), "en"))) <= known


@pytest.mark.parametrize("language", OTHERS)
def test_every_word_of_the_drawings_is_in_the_catalogues(language: str) -> None:
    known = {one for one, _ in entries(language)}
    records = (StencilWords(), SheetWords(), DayWords())
    said = {getattr(r, f.name) for r in records for f in fields(r) if isinstance(getattr(r, f.name), str)}
    said |= {*StencilWords().faces.values(), *StencilWords().ways.values(), *SheetWords().sides}
    assert said <= known


SIDES = ("top", "bottom", "left", "right", "front", "back")
OF_NO_TOOL = {"about", "along", "bare", "mating area"}
"""Recorded by operations without a tool: what is only recorded is not printed as a setting."""


def labels_of_settings() -> Iterator[str]:
    """What the operations call the settings that they record, read off their code."""
    for path in (Path(planbook.__file__).parent / "workshop").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            named = isinstance(node, ast.keyword) and node.arg == "settings"
            made = isinstance(node, ast.FunctionDef) and ("settings" in node.name or node.name.endswith("_told"))
            if named or made or (isinstance(node, ast.Assign) and "settings" in ast.unparse(node.targets[0])):
                pairs = (each for each in ast.walk(node) if isinstance(each, ast.Tuple) and len(each.elts) == 2)
                yield from (label for pair in pairs for label in spelled(pair.elts[0]))


def spelled(node: ast.expr) -> Iterator[str]:
    """A text of the code; one with a side in it for every side."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.JoinedStr) and isinstance(node.values[0], ast.Constant):
        assert "side_at" in ast.unparse(node)
        yield from (f"{node.values[0].value}{side}" for side in SIDES)


@pytest.mark.parametrize("language", OTHERS)
def test_every_label_of_a_setting_is_in_the_catalogues(language: str) -> None:
    labels = set(labels_of_settings())
    assert {"fence", "whole side", "stop before the front", "ends"} <= labels
    assert labels - OF_NO_TOOL <= {one for one, _ in entries(language)}


def test_plurals_follow_the_rule_of_each_language() -> None:
    # French counts 0 as one (CLDR plural rules); German and Spanish do not.
    expected = {
        "en": ["0 coats", "1 coat", "2 coats"],
        "de": ["0 Schichten", "1 Schicht", "2 Schichten"],
        "fr": ["0 couche", "1 couche", "2 couches"],
        "es": ["0 manos", "1 mano", "2 manos"],
    }
    for language, forms in expected.items():
        with speaking(language):
            assert [say_many("{count} coat", "{count} coats", n) for n in (0, 1, 2)] == forms


def test_the_language_ends_with_its_block() -> None:
    with speaking("de"):
        assert say("Steps") == "Schritte"
    assert say("Steps") == "Steps"


def test_what_a_catalogue_does_not_know_stays_as_it_is() -> None:
    with speaking("es"):
        assert say("Saltmarsh {name}", name="Workshop") == "Saltmarsh Workshop"


@pytest.mark.parametrize(
    ("written", "german"),
    [("1.5 mm", "1,5 mm"), ("0.0019 m³", "0,0019 m³"), ("3 1/2 in", "3 1/2 in"), ("12 mm", "12 mm")],
)
def test_decimals(written: str, german: str) -> None:
    assert comma(written) == written
    with speaking("de"):
        assert comma(written) == german


def test_a_catalogue_is_read_over_several_lines_with_escapes_and_comments() -> None:
    text = '# note\nmsgid ""\n"one "\n"line"\nmsgstr "eine \\"Zeile\\""\n\nmsgid "untold"\nmsgstr ""\n'
    assert read_po(text) == {("one line", ""): ('eine "Zeile"',)}
    assert compiled(read_po(text)).startswith((0x950412DE).to_bytes(4, "little"))


def test_a_line_that_is_no_catalogue_is_named() -> None:
    with pytest.raises(NotACatalogue) as problem:
        read_po('msgid "a"\nmsgstr b\n')
    assert problem.value.line == 2


def test_french_drops_an_e_before_a_vowel_that_is_filled_in() -> None:
    with speaking("fr"):
        assert say("dust of {wood}", wood="érable dur") == "poussière d’érable dur"
        assert say("dust of {wood}", wood="noyer") == "poussière de noyer"
        assert say("dust of {wood}", wood="hêtre") == "poussière de hêtre"


def test_french_keeps_signs_of_two_parts_with_their_word() -> None:
    """Imprimerie nationale, Lexique des règles typographiques: a space that does not break before such signs."""
    with speaking("fr"):
        assert labelled("Planche 1", "deux") == "Planche 1\u00a0: deux"
        for one, many in entries("fr"):
            names = {name.strip("{}"): "x" for name in placeholders(f"{one} {many}")} | {"count": 2}
            said = say_many(one, many, 2, **{k: v for k, v in names.items() if k != "count"}) if many else say(one)
            assert not re.search(r" [:;?!»](\s|$)|« ", said), said


def test_other_languages_set_a_colon_close() -> None:
    for language in ("en", "de", "es"):
        with speaking(language):
            assert labelled("A", "b") == "A: b"
