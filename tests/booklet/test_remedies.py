"""What to do when something does not fit: the maker's words, and what moves each fit, as they are printed."""

import re
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest

from planbook.booklet import Edition, FitHelp, compose
from planbook.booklet.basics import Fact, Link
from planbook.booklet.names import Names
from planbook.booklet.prose import inline_html
from planbook.booklet.records import MovedRow, RemedyRow
from planbook.booklet.remedies import fit_helps, remedy_rows
from planbook.model import Design
from planbook.reader import read_design
from planbook.speech import speaking
from planbook.takeoff import lists
from planbook.workshop import Timeline
from planbook.workshop.envelope import prove
from planbook.workshop.run import build

DESIGN = """
title = "Tern board"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[sizes]
play = "0.6 mm"
[varies]
thickness = "0.1 mm"
[stock.board]
wood = "black cherry"
size = ["80 mm", "20 mm", "60 mm"]
grain = "x"
[fits."the board is stout"]
kind = "wall"
piece = "board"
least = "6 mm"
[remedies.rocks]
seen = "The {board} *rocks* <on> the bench."
why = "It has {play} of room."
mend = "Turn it & wait."
piece = "Board"
step = "Mill the  board"
fit = "the board is stout"
"""
STEPS = "# Tern board\n\n## Mill the board\n\nBring the {board} to size.\n\n```mill\nboards = ['board']\n```\n"
GERMAN = """
[words]
board = "Brett"
"The {board} *rocks* <on> the bench." = "Das {board|Brettchen} *kippelt*."
"It has {play} of room." = "Es hat {play} Luft."
"Turn it & wait." = "Umdrehen und warten."
"""


@pytest.fixture(scope="module")
def design(tmp_path_factory: pytest.TempPathFactory) -> Design:
    folder = tmp_path_factory.mktemp("tern-board")
    (folder / "design.toml").write_text(DESIGN, encoding="utf-8")
    (folder / "steps.md").write_text(STEPS, encoding="utf-8")
    (folder / "design.de.toml").write_text(GERMAN, encoding="utf-8")
    reading = read_design(folder)
    assert [finding.headline for finding in reading.findings] == []
    assert reading.design is not None
    return reading.design


@pytest.fixture(scope="module")
def timeline(design: Design) -> Timeline:
    return prove(design)


def rows_in(timeline: Timeline, language: str) -> tuple[RemedyRow, ...]:
    edition = Edition("a4", "mm", language)
    own = timeline.design.translations.get(language)
    with speaking(language, own.words if own else {}):
        names = Names.of(timeline, lists(timeline), edition)
        return remedy_rows(timeline.design, names, language)


def test_a_remedy_is_printed_with_its_names_and_markdown_and_escaped(timeline: Timeline) -> None:
    (row,) = rows_in(timeline, "en")
    assert row.seen == 'The <a class="piece" href="#piece-1">board</a> <em>rocks</em> &lt;on&gt; the bench.'
    assert "0.6" in re.sub("<[^>]*>", "", row.why)
    assert row.mend == "<p>Turn it &amp; wait.</p>\n"
    assert (row.step, row.piece, row.fit) == (
        Link("Step 1", "step-1"),
        Link("Board", "piece-1"),
        "the board is stout",
    )
    assert row.language == ""


def test_a_remedy_is_told_in_the_language_of_the_booklet_and_marked_where_it_is_not(timeline: Timeline) -> None:
    (german,) = rows_in(timeline, "de")
    assert german.seen == 'Das <a class="piece" href="#piece-1">Brettchen</a> <em>kippelt</em>.'
    assert (german.step, german.language) == (Link("Schritt 1", "step-1"), "")
    (french,) = rows_in(timeline, "fr")
    assert french.language == "en"
    assert "rocks" in french.seen


def test_what_moves_a_fit_is_told_by_how_much(timeline: Timeline) -> None:
    (help_,) = fit_helps(timeline, Edition("a4", "mm"))
    (row,) = help_.rows
    assert row.drawn == "20.00 mm"
    less, more = ({fact.label: fact.value for fact in facts} for facts in (row.less, row.more))
    assert less["with boards 0.10 mm thinner"] == "0.10 mm"
    assert more["with boards 0.10 mm thicker"] == "0.10 mm"
    # Wood Handbook (FPL-GTR-282): black cherry C_T = 0.00248 (table 13-5), equilibrium moisture at 70 deg F and 25, 45
    # and 65 % humidity 5.4, 8.5 and 12.0 % (table 4-2).
    for facts, humidity, points in ((less, 25, 3.1), (more, 65, 3.5)):
        moved = float(facts[f"at {humidity} % humidity"].removesuffix(" mm"))
        assert moved == pytest.approx(20 * 0.00248 * points, abs=0.02)


def test_the_strongest_stands_first_and_inches_are_printed_in_inches(timeline: Timeline) -> None:
    (help_,) = fit_helps(timeline, Edition("letter", "in"))
    values = [float(fact.value.removesuffix(" in")) for fact in help_.rows[0].less]
    assert values == sorted(values, reverse=True)
    assert values[-1] == pytest.approx(0.1 / 25.4, abs=0.0005)


def test_of_a_build_without_its_range_only_the_advice_is_told(timeline: Timeline) -> None:
    (help_,) = fit_helps(replace(timeline, envelope=None), Edition("a4", "mm"))
    assert not help_.varies
    assert help_.advice
    assert help_.rows[0].less == help_.rows[0].more == ()


def test_many_fits_that_are_alike_share_a_row_and_some_names(timeline: Timeline) -> None:
    fit = timeline.fits[0]
    many = replace(timeline, envelope=None, fits=tuple(replace(fit, name=f"wall {n}") for n in range(9)))
    (row,) = fit_helps(many, Edition("a4", "mm"))[0].rows
    assert row.names == ("wall 0", "wall 1", "wall 2", "wall 3", "and 5 more")


@pytest.mark.parametrize(
    ("kind", "said", "said_not"),
    [("slide", "no wax", "with wax"), ("flush", "until the glue is dry", "until the paper")],
)
def test_what_is_glued_later_is_neither_waxed_nor_sanded_level_before(
    timeline: Timeline, kind: str, said: str, said_not: str
) -> None:
    fit = replace(timeline.fits[0], kind=kind)
    together = replace(timeline, envelope=None, fits=(fit, replace(fit, before=timeline.events[0].at)))
    free, glued = fit_helps(together, Edition("a4", "mm"))
    assert [len(free.rows), len(glued.rows)] == [1, 1]
    assert (free.rows[0].before, glued.rows[0].before) == (None, Link("1", "step-1"))
    for help_, words in ((free, said_not), (glued, said)):
        told = " ".join(fact.value for fact in help_.advice)
        assert (said in told, said_not in told) == (words == said, words == said_not)


@pytest.mark.parametrize("layout", ["booklet", "shop"])
def test_the_part_is_left_out_when_there_is_nothing_to_say(boat_tray: ModuleType, layout: str) -> None:
    book = boat_tray.boat_tray(Edition())
    without = compose(book, layout)
    assert 'id="remedies"' not in without
    assert 'href="#remedies"' not in without
    row = MovedRow(("lid slides",), "0.4 mm", (Fact("at 65 % humidity", "0.1 mm"),), (), Link("3", "step-3"))
    helps = (FitHelp("What slides", (Fact("If it sticks", "Sand."),), (row,), True),)
    remedy = RemedyRow(
        inline_html("It <i>sticks</i>.", str), inline_html("", str), inline_html("Wax.", str), None, None, ""
    )
    html = compose(replace(book, remedies=(remedy,), fit_helps=helps), layout)
    assert 'id="remedies"' in html
    assert "It &lt;i&gt;sticks&lt;/i&gt;." in html
    assert "0.1 mm at 65 % humidity" in re.sub(r"<[^>]*>", "", html).replace("\u00a0", " ")
    ids = re.findall(r'<section class="(?:part|stencil)[^"]*" id="([^"]+)"', html)
    before, after = ("fits", "licence") if layout == "booklet" else ("pieces", "stencil-1")
    assert ids[ids.index("remedies") - 1 : ids.index("remedies") + 2] == [before, "remedies", after]


def test_parts_sawn_off_one_another_along_a_curve_are_not_told_to_be_veneered() -> None:
    reading = read_design(Path(__file__).parents[2] / "designs" / "heron-puzzle")
    assert reading.design is not None
    helps = {each.title: each for each in fit_helps(build(reading.design), Edition("a4", "mm"))}
    sawn, spaces = helps["Parts sawn from one another along a line"], helps["The space between pieces"]
    # Every pair of its parts was parted by the blade of the scroll saw, but the water and its groove are two pieces.
    assert [row.names for row in spaces.rows] == [("water in its groove",)]
    assert {row.names[0] for row in sawn.rows} & {"crest and head", "head lifts out"}
    assert not any("veneer" in fact.value for fact in sawn.advice)
    assert "What slides, turns or lifts out" not in helps
