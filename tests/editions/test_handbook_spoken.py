"""Everything of the handbook that a booklet prints is in every catalogue: cautions, precautions, woods, supplies."""

from collections.abc import Iterator

import pytest

from planbook.booklet.common import row_said
from planbook.booklet.steps import caution_name, caution_text
from planbook.handbook import BUILT_IN, Finish, Glue, Lining, Wood
from planbook.handbook.safety import cautions, general_precautions
from planbook.speech import LANGUAGES, LostPlaceholder, catalogue, checked, say, speaking
from planbook.workshop.spots import MEASURED_FROM

OTHERS = tuple(language for language in LANGUAGES if language != "en")


def printed() -> Iterator[str]:
    for caution in cautions().values():
        if caution.effect:
            yield from (caution.effect, *caution.sites, caution.subject, caution.avoid)
        else:
            yield from (caution.called or caution.name, caution.hazard, caution.consequence, caution.avoid)
    for precaution in general_precautions():
        yield from (precaution.headline, precaution.text)
    for kind in (Wood, Glue, Finish, Lining):
        yield from (row.name for row in BUILT_IN.rows(kind).values())
    yield from MEASURED_FROM.values()


@pytest.mark.parametrize("language", OTHERS)
def test_every_sentence_and_name_of_the_handbook_is_in_the_catalogue(language: str) -> None:
    known = catalogue(language)._catalog  # type: ignore[attr-defined]
    assert [text for text in dict.fromkeys(printed()) if text not in known] == []


@pytest.mark.parametrize("language", OTHERS)
def test_no_caution_is_left_in_english(language: str) -> None:
    with speaking(language):
        for caution in cautions().values():
            assert "{" not in caution_text(caution)
            assert caution_text(caution) != caution.text
            assert caution_name(caution)


def test_the_dust_of_a_wood_is_spoken_of_in_whole_sentences() -> None:
    found = cautions()["dust of black walnut"] if "dust of black walnut" in cautions() else cautions()["dust of walnut"]
    with speaking("de"):
        assert caution_text(found).startswith(f"Der Staub von {say(found.subject)} ")
    assert caution_text(found) == found.text


@pytest.mark.parametrize(
    ("translation", "words"),
    [
        ("Schritt", "lacks {number}"),
        ("Schritt {number} von {total}", "has {total}"),
        ("{number} Schritt {number}", "more often"),
    ],
)
def test_a_translation_with_other_placeholders_is_refused(translation: str, words: str) -> None:
    with pytest.raises(LostPlaceholder, match=words.replace("{", r"\{")):
        checked({("Step {number}", ""): (translation,)})
    assert checked({("Step {number}", ""): ("{number}. Schritt",)})


def test_another_name_of_a_wood_or_glue_is_said_as_its_row() -> None:
    with speaking("de"):
        for kind in (Wood, Glue, Finish, Lining):
            for row in BUILT_IN.rows(kind).values():
                assert {row_said(alias) for alias in row.aliases} <= {say(row.name), *map(say, row.aliases)}
    assert row_said("soft maple") == "soft maple"
