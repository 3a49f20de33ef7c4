"""A design in one of its choices: which boards and supplies change, and what is said of an unknown choice."""

from pathlib import Path

import pytest

from planbook.model import Design, UnknownChoice, with_choice
from planbook.model.choices import slug, wood_called
from planbook.reader import read_design

CASE = Path(__file__).parents[1] / "cases" / "reader" / "choices" / "any-name-clean"
RIVER, HEARTH = "Fluß & Nebel", "炉辺"


@pytest.fixture(scope="module")
def design() -> Design:
    made = read_design(CASE).design
    assert made is not None
    return made


def woods(design: Design) -> list[str]:
    return [stock.wood for stock in design.stock.values()]


def test_woods_boards_and_supplies_are_replaced_and_the_rest_stays(design: Design) -> None:
    taken = with_choice(design, RIVER)
    assert woods(design) == ["black walnut", "sugar maple"]
    assert woods(taken) == ["white ash", "paper birch"]
    assert taken.supplies["oil"].product == "hard wax oil"
    assert taken.sizes is design.sizes
    assert [stock.size for stock in taken.stock.values()] == [stock.size for stock in design.stock.values()]


def test_a_wood_answers_to_each_of_its_names(design: Design) -> None:
    assert woods(with_choice(design, HEARTH)) == ["white oak", "soft maple"]
    assert wood_called("sugar maple") == wood_called("hard maple")
    assert wood_called("no such wood") == "no such wood"


def test_a_choice_starts_from_the_design_as_written(design: Design) -> None:
    again = with_choice(with_choice(design, RIVER), HEARTH)
    assert again == with_choice(design, HEARTH)
    assert again.written is design
    assert (design.choice, design.written) == (None, None)


def test_a_replaced_wood_is_found_in_the_choice(design: Design) -> None:
    place = with_choice(design, RIVER).stock["bottom"].wood_place
    line = design.sources[place.file].line(place.line)
    assert line[place.column - 1 :].startswith("white ash")


def test_a_choice_without_a_title_is_called_by_its_name(design: Design) -> None:
    assert [choice.title for choice in design.choices.values()] == ["River and mist", "炉辺"]


@pytest.mark.parametrize(
    ("name", "words"),
    [("Fluss & Nebel", "did you mean `Fluß & Nebel`?"), ("zzz", "there are `Fluß & Nebel`, `炉辺`")],
)
def test_an_unknown_choice_is_answered_with_those_there_are(design: Design, name: str, words: str) -> None:
    with pytest.raises(UnknownChoice) as told:
        with_choice(design, name)
    assert str(told.value).startswith(f"there is no choice called `{name}`")
    assert str(told.value).endswith(words)


def test_a_design_without_choices_says_so() -> None:
    plain = read_design(CASE.parents[1] / "clean-box").design
    assert plain is not None
    with pytest.raises(UnknownChoice, match="has no choices of woods"):
        with_choice(plain, "pale")


@pytest.mark.parametrize(
    ("name", "part"),
    [("by the fire", "by-the-fire"), ("Fluß & Nebel", "fluß-nebel"), ("../x", "x"), ("!", ""), ("炉辺", "炉辺")],
)
def test_a_name_becomes_a_part_of_the_name_of_a_file(name: str, part: str) -> None:
    assert slug(name) == part
