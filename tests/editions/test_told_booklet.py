"""A booklet in German of a design that is told in German mixes no languages; what is not told is marked and noted."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from planbook.booklet import Edition
from planbook.model import Design
from planbook.pipeline import compose_book
from planbook.pipeline.composing import lists_of
from planbook.pipeline.records import Brought
from planbook.reader import read_design
from planbook.review.untold import untold, untold_everywhere
from planbook.workshop import Timeline
from planbook.workshop.run import build

STOOL = Path(__file__).parents[2] / "designs" / "dory-stool"


@pytest.fixture(scope="module")
def timeline() -> Timeline:
    reading = read_design(STOOL)
    assert reading.design is not None
    return build(reading.design)


def html_of(timeline: Timeline, language: str) -> str:
    edition = Edition("a4", "mm", language)
    told = lists_of(timeline, Brought(), edition, told=True)
    return re.sub(
        r'src="data:[^"]*"|<style>.*?</style>', "", compose_book(timeline, edition, taken_off=told), flags=re.S
    )


def untranslated(design: Design) -> Design:
    return replace(design, translations={})


def test_a_told_booklet_has_no_english_in_it(timeline: Timeline) -> None:
    html = html_of(timeline, "de")
    assert 'lang="en"' not in html
    text = re.sub(r"<[^>]+>", " ", html)
    # The commonest words of English (top of the Brown corpus) that are no German words as well.
    for word in ("the", "of", "and", "to", "is", "with", "for", "it", "on", "from", "by"):
        assert not re.search(rf"\b{word}\b", text), word


def test_the_puzzle_is_told_in_french() -> None:
    reading = read_design(STOOL.parent / "heron-puzzle")
    assert reading.design is not None
    told = build(reading.design)
    assert list(untold(told, "fr")) == []
    html = html_of(told, "fr")
    assert 'lang="en"' not in html
    text = re.sub(r"<[^>]+>", " ", html)
    assert "Sciez le long de la ligne de l’épaule" in text
    # The commonest words of English (top of the Brown corpus) that are no French words as well.
    for word in ("the", "of", "and", "to", "is", "with", "for", "it", "from", "by", "Sides", "way"):
        assert not re.search(rf"\b{word}\b", text), word


def test_a_name_is_bent_as_its_sentence_needs_and_a_size_is_printed(timeline: Timeline) -> None:
    html = html_of(timeline, "de")
    assert "Schneiden Sie den langen Streifen für Trittfläche" in html
    assert "{" not in re.sub(r"<[^>]+>", "", html.split("<body")[1])


def test_what_is_not_told_is_marked_with_its_language_and_noted(timeline: Timeline) -> None:
    plain = replace(timeline, design=untranslated(timeline.design))
    html = html_of(plain, "fr")
    assert '<html lang="fr">' in html
    assert '<h1 class="title" lang="en">Dory stool' in html
    assert html.count('class="prose" lang="en"') == len(timeline.design.steps)
    (note,) = untold(plain, "fr")
    assert note.code == "LAN05"
    assert not note.stops
    assert "nothing of this design is told in French" in note.headline


def test_a_design_told_in_full_earns_no_note(timeline: Timeline) -> None:
    assert list(untold_everywhere(timeline)) == []
    assert list(untold(timeline, "en")) == []


def test_what_is_missing_is_counted(timeline: Timeline) -> None:
    told = timeline.design.translations["de"]
    words = {key: text for key, text in told.words.items() if key not in ("frame", "stool")}
    steps = (replace(told.steps[0], title="", prose=()), *told.steps[1:])
    short = replace(told, words=words, steps=steps, card={**told.card, "skill": ""})
    design = replace(timeline.design, translations={"de": short})
    (note,) = untold(replace(timeline, design=design), "de")
    assert note.headline == "not told in German, and printed in English: skill; 1 step, 1 heading; 2 names"
    assert "`frame`" in note.notes[0]
