"""A book made of a build, its lists and pictures: prose, cautions, settings, facts and marks."""

from dataclasses import replace
from fractions import Fraction

import pytest

from planbook.booklet import Edition, Explained, Fact, Link, Pictures, compose, make_book
from planbook.booklet.step_settings import settings_of
from planbook.booklet.steps import caution_name
from planbook.drawing.ink import base, painted
from planbook.drawing.marks import Pen, Picture, Stroke, Words
from planbook.handbook import SIGNALS, caution, wood
from planbook.model import Prose, Step
from planbook.takeoff import (
    CautionHere,
    CutRow,
    Safety,
    Setting,
    StepSafety,
)
from planbook.units import Quantity

from .conftest import DOT, HERE, Page, book, design, lists, timeline


def test_a_size_in_prose_is_printed_in_the_units_of_the_edition() -> None:
    assert '<span class="frac">3/8</span>\u00a0in' in book().steps[0].body[0]
    assert "leave 9.5\u00a0mm." in book(Edition("a4", "mm")).steps[0].body[0]


def test_a_piece_in_prose_leads_to_its_row_and_an_unknown_name_stays() -> None:
    made = book()
    assert '<a class="piece" href="#piece-1">blank</a>' in made.steps[0].body[0]
    assert '<a class="piece" href="#piece-2">hull</a> and {nothing}.' in made.steps[1].body[0]
    assert [row.anchor for row in made.pieces] == ["piece-1", "piece-2"]


def test_empty_prose_is_left_out() -> None:
    assert [len(step.body) for step in book().steps] == [1, 1]


def test_a_caution_is_printed_in_full_once_and_then_recalled() -> None:
    first, second = book().steps
    assert [row.signal for row in first.cautions] == ["WARNING", "WARNING"]
    assert all(row.text and not row.recalled for row in first.cautions)
    (row,) = second.cautions
    assert (row.signal, row.text, row.recalled) == ("WARNING", "", (Link("wood dust (1)", "step-1"),))


def test_recalled_cautions_stand_under_their_own_signal_word_the_gravest_first() -> None:
    names = ("stick", "sand to line", "saw")
    rows = tuple(CautionHere(row, 1, True) for name in names if (row := caution(name)) is not None)
    assert len(rows) == 3
    given = replace(lists(), safety=Safety((), (StepSafety(1, "", rows),)))
    step = make_book(timeline(), given, Pictures(), (), Edition()).steps[0]
    told = {row.signal: [link.text for link in row.recalled] for row in step.cautions}
    assert list(told) == [signal for signal in SIGNALS if signal in told]
    assert told == {
        signal: [f"{caution_name(here.caution)} (1)" for here in rows if here.caution.signal == signal]
        for signal in dict.fromkeys(here.caution.signal for here in rows)
    }
    assert len(told) > 1
    html = compose(make_book(timeline(), given, Pictures(), (), Edition()))
    assert html.count("As in earlier steps:") == len(told)


def test_a_grave_caution_that_is_recalled_stands_before_a_lighter_one_in_full() -> None:
    grave, light = caution("saw"), caution("glue up")
    assert grave is not None
    assert light is not None
    assert (grave.signal, light.signal) == ("WARNING", "CAUTION")
    rows = (CautionHere(light, 2, False), CautionHere(grave, 1, True))
    given = replace(lists(), safety=Safety((), (StepSafety(2, "", rows),)))
    step = make_book(timeline(), given, Pictures(), (), Edition()).steps[1]
    assert [(row.signal, bool(row.text)) for row in step.cautions] == [("WARNING", False), ("CAUTION", True)]


def test_settings_and_waiting_stand_at_their_step() -> None:
    first, second = book().steps
    assert first.settings == (Fact("Tool", "narrow blade"), Fact("Kerf", "1/32 in"))
    assert (first.wait, second.wait) == ("", "1 h 30 min")


def test_settings_that_differ_from_cut_to_cut_stand_side_by_side() -> None:
    def cut(number: int, tool: str, *values: Quantity | str | tuple[Quantity, ...]) -> CutRow:
        return CutRow(1, number, "bore", (), (tool,), tuple(Setting("depth", value) for value in values))

    inch = Quantity(Fraction("25.4"), length=1)
    cuts = (cut(1, "drill", inch), cut(2, "drill", inch, "through"), cut(3, "bit", (inch, inch)))
    assert settings_of(cuts, Edition()) == (
        Fact("Tool", "drill, bit"),
        Fact("Depth", "1 in, through, 1 in, 1 in"),
    )


def test_where_several_settings_differ_each_cut_has_its_own_line() -> None:
    def cut(number: int, piece: str, face: str, far: str) -> CutRow:
        settings = (Setting("depth", "7 mm"), Setting("face", face), Setting("distance", far))
        return CutRow(1, number, "dado", (piece,), ("bit",), settings)

    cuts = (cut(1, "left board", "right", "40"), cut(2, "right board", "left", "40"), cut(3, "top", "right", "40"))
    assert settings_of((*cuts, cut(4, "left board", "right", "90")), Edition()) == (
        Fact("Tool", "bit"),
        Fact("Depth", "7 mm"),
        Fact("Left board, top", "face right; distance\u00a040"),
        Fact("Right board", "face left; distance\u00a040"),
        Fact("Left board", "face right; distance\u00a090"),
    )
    assert settings_of(cuts[:2], Edition()) == (
        Fact("Tool", "bit"),
        Fact("Depth", "7 mm"),
        Fact("Face", "right, left"),
        Fact("Distance", "40"),
    )


def test_where_one_setting_has_several_values_each_piece_keeps_its_own() -> None:
    def cut(number: int, piece: str, faces: str) -> CutRow:
        return CutRow(1, number, "sand face", (piece,), ("board",), (Setting("faces", faces),))

    assert settings_of((cut(1, "front drawer", "front"), cut(2, "end drawer", "front, back")), Edition()) == (
        Fact("Tool", "board"),
        Fact("Front drawer", "faces front"),
        Fact("End drawer", "faces front, back"),
    )


def test_pictures_find_their_places_and_always_have_words() -> None:
    made = book()
    assert [len(step.figures) for step in made.steps] == [1, 0]
    assert made.steps[0].figures[0].alt == "Step 1: Saw the hull."
    assert [row.figure is not None for row in made.pieces] == [False, True]
    assert made.cover is not None
    assert made.cover.alt == "The finished work: Boat-shaped tray."
    assert made.stencils[0].figure.alt == "Stencil 1 of 1"


def test_facts_at_a_glance() -> None:
    facts = {fact.label: fact.value for fact in book().facts}
    assert facts == {
        "Finished size": "11 1/4 × 5 1/2 × 3 1/2 in, width × depth × height",
        "Weight": "2.2 lb",
        "Skill": "some",
        "Woods": "walnut",
        "Work": "50 min",
        "Lumber": "1.8 board ft",
        "From start to end": "2 days",
        "Steps": "2",
        "Stencil pages": "1",
    }


def test_pages_that_are_printed_more_than_once_are_told_with_all_prints() -> None:
    pages = [Page(DOT, "Both cheeks", copies=2), Page(DOT, "Bottom")]
    facts = {fact.label: fact.value for fact in make_book(timeline(), lists(), Pictures(), pages, Edition()).facts}
    assert facts["Stencil pages"] == "2; 3 prints in all"


def test_what_is_not_known_is_left_out() -> None:
    given = replace(lists(), kilograms=None, totals=())
    bare = replace(timeline(), object=())
    labels = [fact.label for fact in make_book(bare, given, Pictures(), (), Edition()).facts]
    assert not {"Finished size", "Weight", "Lumber", "Stencil pages"} & set(labels)


def test_the_colophon_says_which_plan_this_is() -> None:
    assert [(fact.label, fact.value) for fact in book(Edition("a4", "mm")).colophon] == [
        ("Plan", "Boat-shaped tray"),
        ("Version", "1.2"),
        ("Edition", "A4, millimetres"),
        ("Maker", "Saltmarsh Workshop"),
        ("Film", "https://saltmarsh.example/film"),
    ]


@pytest.mark.parametrize("stencils", [True, False])
def test_the_usual_marks_are_explained(stencils: bool) -> None:
    line = Picture(10.0, 10.0, (Stroke(((1.0, 1.0), (9.0, 9.0)), Pen(0.18), "sand to"),))
    pages = (Page(line, "Stencil"),) if stencils else ()
    cut = Picture(10.0, 10.0, (Stroke(((1.0, 1.0), (9.0, 9.0)), Pen(0.18), "cut line"),))
    names = [mark.name for mark in make_book(timeline(), lists(), Pictures(steps={1: cut}), pages, Edition()).marks]
    assert names == ["Red line", "Long dashes"][: 2 if stencils else 1]


def test_marks_of_ones_own_take_the_place_of_the_usual_ones() -> None:
    made = book(marks=(Explained(None, "Cross", "Bore here."), Explained(DOT, "Dot", "Rest.")))
    assert [(mark.name, mark.figure is None) for mark in made.marks] == [("Cross", True), ("Dot", False)]


@pytest.mark.parametrize("single", [True, False])
def test_a_list_that_holds_more_than_the_pieces_pulled_apart_says_so(single: bool) -> None:
    rows = replace(lists(), pieces=tuple(replace(row, single=single) for row in lists().pieces))
    pulled = Picture(10.0, 10.0, (Stroke(((1.0, 1.0), (9.0, 9.0)), Pen(0.18)),))
    made = make_book(timeline(), rows, Pictures(exploded=pulled), (), Edition())
    assert made.joined is not single
    assert ("Pieces without a circle" in compose(made)) is not single


def test_the_book_can_be_composed() -> None:
    html = compose(book())
    assert 'id="step-2"' in html
    assert "As in earlier steps:" in html
    assert html == compose(book())


def test_nasty_names_are_escaped() -> None:
    nasty = '<img src="x" onerror="y">'
    given = lists()
    row = replace(given.pieces[1], name=nasty)
    tool = replace(given.tools[0], name=nasty, note=nasty)
    step = Step(1, nasty, (Prose("See {" + nasty + "}.", HERE),), HERE)
    changed = replace(timeline(), design=replace(design(), steps=(step,)))
    picture = Picture(20, 15, (Words((1, 5), nasty, 3),), nasty)
    made = make_book(changed, replace(given, pieces=(row,), tools=(tool,)), Pictures(steps={1: picture}), (), Edition())
    assert '<img src="x"' not in compose(made)


def test_the_key_shows_the_wood_that_all_pieces_together_have_most_of() -> None:
    """One large piece of walnut is less than two smaller ones of maple."""
    first, second = lists().pieces
    pieces = (
        replace(first, cubic_metres=Fraction(5)),
        *(replace(second, number=number, woods=("hard maple",), cubic_metres=Fraction(3)) for number in (2, 3)),
    )
    stuck = Picture(10, 10, (Stroke(((0, 0), (1, 1)), Pen(0.2), layer="sheet"),), "")
    made = make_book(timeline(), replace(lists(), pieces=pieces), Pictures(steps={1: stuck}), (), Edition())
    maple = wood("hard maple")
    assert maple is not None
    patch = next(row for row in made.marks if row.name == "Pale patch on the wood")
    assert painted(base(maple.tint, "worked", "colour"), 1.0, "colour") in patch.figure.svg


def test_a_step_whose_words_alone_work_with_a_tool_tells_it() -> None:
    """Step 1 saws with the narrow blade already; step 2 has no operation with a tool."""
    blade = lists().tools[0]
    tools = (replace(blade, steps=(1, 2)), replace(blade, name="mallet", steps=(2,), implied=True))
    found = make_book(timeline(), replace(lists(), tools=tools), Pictures(), (), Edition()).steps
    told = [[fact.value for fact in step.settings if fact.label == "Tool"] for step in found]
    assert told[1] == ["narrow blade"]
    assert len(told[0]) == 1
