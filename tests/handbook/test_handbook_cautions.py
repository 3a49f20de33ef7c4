"""Cautions: every subject is real and covered, signal words keep their meaning, steps get the right ones."""

import pytest

from planbook.handbook import (
    GEOMETRIES,
    OPERATIONS,
    SIGNALS,
    STANDINGS,
    SUPPLIES,
    TOOLS,
    caution,
    cautions,
    cautions_for,
    finishes,
    general_precautions,
    glues,
    wood,
)

SUBJECTS = {"operation": OPERATIONS, "tool": TOOLS, "supply": SUPPLIES, "geometry": GEOMETRIES}


def test_every_subject_exists() -> None:
    for row in cautions().values():
        if row.about == "wood":
            assert wood(row.subject) is not None, row.key
        else:
            assert row.subject in SUBJECTS[row.about], row.key


@pytest.mark.parametrize("about", SUBJECTS)
def test_every_subject_has_a_caution(about: str) -> None:
    covered = {row.subject for row in cautions().values() if row.about == about}
    assert covered == set(SUBJECTS[about])


def test_every_caution_is_whole_sentences_with_a_source() -> None:
    for row in cautions().values():
        assert len(row.source) > 8, row.key
        assert row.standing in STANDINGS, row.key
        for sentence in (row.hazard, row.consequence, row.avoid):
            assert sentence[0].isupper(), row.key
            assert sentence.endswith("."), row.key
        assert row.text == f"{row.hazard} {row.consequence} {row.avoid}"


def test_signal_words_mean_what_the_standard_says() -> None:
    # ANSI Z535.4 (2007), 4.14: DANGER will, WARNING could, cause death or serious injury;
    # NOTICE is not about injury.
    for row in cautions().values():
        if row.signal == "DANGER":
            assert "will" in row.consequence, row.key
        if row.signal == "WARNING":
            assert "could" in row.consequence, row.key
        if row.signal == "NOTICE":
            assert not {"hand", "finger", "fingers", "skin", "eyes", "hurt"} & set(row.consequence.rstrip(".").split())
    assert sum(row.signal == "DANGER" for row in cautions().values()) == 1


def test_a_step_gets_its_cautions_gravest_first_and_once() -> None:
    found = cautions_for(
        operation="sand-to-line",
        tools=["bandsaw", "band saw", "table saw"],
        supplies=["danish oil", "shellac"],
        woods=["teak", "mdf"],
        geometries=["short piece"],
    )
    keys = [row.key for row in found]
    assert len(set(keys)) == len(keys)
    assert {
        "sand to line",
        "band saw blade",
        "oily rags",
        "solvent finish",
        "dust of teak",
        "heavy fibreboard",
    } <= set(keys)
    assert {"wood dust", "sheet dust", "short piece"} <= set(keys)
    ranks = [SIGNALS.index(row.signal) for row in found]
    assert ranks == sorted(ranks)
    assert keys[0] == "table saw"


def test_an_operation_answers_to_its_other_names() -> None:
    assert cautions_for(operation="miter") == cautions_for(operation="mitre") != ()


def test_nothing_known_brings_nothing() -> None:
    assert cautions_for() == ()
    assert cautions_for(operation="juggle", tools=["laser"], supplies=["jam"], woods=["cheese"]) == ()


def test_the_dust_of_a_strong_wood_is_a_warning() -> None:
    # Chart of wood reactions, American Woodturner, June 1990: iroko +++, walnut ++.
    strong, mild = caution("dust of iroko"), caution("dust of walnut")
    assert strong is not None
    assert mild is not None
    assert (strong.signal, mild.signal) == ("WARNING", "CAUTION")
    assert "the eyes, the skin and the airways" in strong.consequence


def test_glues_and_finishes_reach_their_cautions() -> None:
    for row in (*glues().values(), *finishes().values()):
        subjects = {found.subject for found in cautions_for(supplies=[row.name])}
        assert set(row.cautions) <= subjects, row.name


def test_general_precautions_are_a_page_and_say_what_they_must() -> None:
    items = general_precautions()
    assert 12 <= len(items) <= 16
    assert len({item.name for item in items}) == len({item.headline for item in items}) == len(items)
    assert all(len(item.source) > 8 and item.standing in STANDINGS for item in items)
    page = " ".join(item.text for item in items)
    for fact in (
        "local codes",
        " 15 mg/m³",  # 29 CFR 1910.1000 Table Z-1, total dust
        " 5 mg/m³",  # same, respirable
        " 1 mg/m³",  # NIOSH recommended exposure limit
        "3 mm (1/8 in) above the work",
        "Saw short cuts to the line first",
        "respirator",
        "safety glasses",
        "muffs",
    ):
        assert fact in page, fact
    assert any("100 mm (4 in)" in item.headline for item in items)
    assert any("push sticks" in item.headline for item in items)
