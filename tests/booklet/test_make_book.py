from dataclasses import dataclass, replace
from fractions import Fraction

import pytest

from planbook.booklet import Book, Edition, Explained, Fact, Link, Pictures, compose, make_book, proved_range
from planbook.booklet.choices import choices_of
from planbook.booklet.steps import settings_of
from planbook.drawing.marks import Pen, Picture, Stroke, Words
from planbook.handbook import caution, general_precautions
from planbook.model import Card, Choice, Design, Expr, Named, Prose, Step, Stock, Supply, with_choice
from planbook.solids.solid import block
from planbook.takeoff import (
    Amount,
    BoardRow,
    CautionHere,
    CutRow,
    Dimensions,
    Lists,
    PieceRow,
    Safety,
    Setting,
    StepSafety,
    StepTime,
    SupplyRow,
    Time,
    ToolRow,
    WoodRow,
    WoodTotal,
)
from planbook.text import Place
from planbook.units import Quantity, parse_formula
from planbook.workshop import At, Envelope, Fitted, Piece, Proof, Spread, Timeline
from planbook.workshop import Setting as Varied

HERE = Place("steps.md")
WALL = Quantity(Fraction("9.525"), length=1)
SIZE = Dimensions(Fraction("285.75"), Fraction("139.7"), Fraction("9.525"))
DOT = Picture(20, 15, (Stroke(((1, 1), (19, 14)), Pen(0.2)),))


@dataclass(frozen=True)
class Page:
    picture: Picture
    title: str


def design() -> Design:
    card = Card(
        title="Boat-shaped tray",
        summary="A tray 3/8 in thin.",
        version="1.2",
        maker="Saltmarsh Workshop",
        units="in",
        skill="some",
        licence="Make as many as you like.",
        price="",
        film="https://saltmarsh.example/film",
        place=HERE,
    )
    steps = (
        Step(1, "Saw the hull", (Prose("Take the {blank}; leave {Wall}.", HERE), Prose(" \n", HERE)), HERE),
        Step(2, "Oil it", (Prose("Oil the {hull} and {nothing}.", HERE),), HERE),
    )
    return Design("tray", card, {}, {}, {}, {}, {}, {}, {}, "Made in two evenings.", steps)


def timeline() -> Timeline:
    hull = Piece("hull", block((0, 0, 0), (285.75, 139.7, 88.9)), (), At(1, 1, HERE))
    fits = (
        Fitted("wall", "wall", 9.4, 9.4, asked_least=8.0),
        Fitted("lid slides", "slide", 0.4, 1.1, stage="40 %", asked_least=0.2, asked_most=1.5),
        Fitted("unknown", "slide", None, None),
    )
    return Timeline(design(), {"wall": WALL}, {}, (), (), {}, {"hull": hull}, (hull,), fits)


def lists() -> Lists:
    saw, dust = caution("saw"), caution("wood dust")
    assert saw is not None
    assert dust is not None
    board = BoardRow(
        1, ("plank", "rail"), "walnut", SIZE, None, "x", Fraction(7, 4), Fraction(2), Fraction(1, 25),
        Fraction(41, 10000), (1,),
    )  # fmt: skip
    kerf = Setting("kerf", Quantity(Fraction("0.79375"), length=1))
    return Lists(
        title="Boat-shaped tray",
        boards=(board,),
        totals=(WoodTotal("walnut", 2, Fraction(7, 4), Fraction(2), Fraction(1, 25), Fraction(41, 10000), 2.5),),
        pieces=(
            PieceRow(1, "blank", SIZE, SIZE, ("walnut",), 0, (1,), "joined", "hull", True, Fraction(0), None),
            PieceRow(2, "hull", SIZE, SIZE, ("walnut", "maple"), 1, (2,), "part", "", False, Fraction(0), None),
        ),
        leftovers=(),
        tools=(ToolRow("narrow blade", "band saw", (kerf, kerf), (1,), "", False),),
        supplies=(
            SupplyRow(
                "oil",
                "finish",
                "tung oil",
                (2,),
                None,
                None,
                3,
                Amount(Fraction(70), "ml"),
                Amount(Fraction(5, 2), "fl oz"),
                "",
                False,
            ),
            SupplyRow("P120", "abrasive", "P120", (2,), None, None, 0, None, None, "It depends.", False),
        ),
        safety=Safety(
            general_precautions(),
            (
                StepSafety(1, "", (CautionHere(saw, 1, False), CautionHere(dust, 1, False))),
                StepSafety(2, "", (CautionHere(dust, 1, True),)),
            ),
        ),
        time=Time((StepTime(1, "", 30, 0, 0), StepTime(2, "", 20, 90, 30)), 50, 90, 140, 140, 240, 2),
        woods=(WoodRow("walnut", True, "", "hardwood", None, "", "", ()),),
        cuts=(CutRow(1, 1, "saw", ("blank",), ("narrow blade",), (kerf,)),),
        kilograms=1.0,
    )


def book(edition: Edition | None = None, **pictures: object) -> Book:
    pages = (Page(Picture(215.9, 279.4, DOT.marks), "Stencil 1 of 1"),)
    shown = Pictures(**{"cover": DOT, "steps": {1: DOT}, "pieces": {"hull": DOT}, **pictures})  # type: ignore[arg-type]
    return make_book(timeline(), lists(), shown, pages, edition or Edition())


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
    assert first.recalled is None
    assert second.cautions == ()
    assert second.recalled is not None
    assert second.recalled.signal == "WARNING"
    assert second.recalled.cautions == (Link("wood dust (1)", "step-1"),)


def test_the_gravest_signal_word_stands_before_recalled_cautions() -> None:
    names = ("stick", "sand to line", "saw")
    rows = tuple(CautionHere(row, 1, True) for name in names if (row := caution(name)) is not None)
    assert len(rows) == 3
    given = replace(lists(), safety=Safety((), (StepSafety(1, "", rows),)))
    recalled = make_book(timeline(), given, Pictures(), (), Edition()).steps[0].recalled
    assert recalled is not None
    assert recalled.signal == "WARNING"


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


def test_pieces_that_differ_by_their_number_share_a_row_with_the_places_of_all() -> None:
    def row(number: int, name: str) -> PieceRow:
        return PieceRow(number, name, SIZE, SIZE, ("walnut",), 1, (2,), "joined", "hull", True, Fraction(0), None)

    rows = (row(1, "hull"), *(row(1 + k, f"plug {k}") for k in range(1, 5)), row(6, "peg 1"), row(7, "peg 2"))
    shown = make_book(timeline(), replace(lists(), pieces=rows), Pictures(), (), Edition()).pieces
    assert [piece.name for piece in shown] == ["hull", "4 × plug (1 to 4)", "2 × peg (1, 2)"]
    assert (shown[1].anchor, shown[1].others) == ("piece-2", ("piece-3", "piece-4", "piece-5"))


def test_a_flush_fit_is_asked_for_at_most_and_a_least_gap_tells_the_tightest_place() -> None:
    fits = (
        Fitted("even", "flush", None, 0.1, asked_most=0.3),
        Fitted("tongue", "gap", 0.25, 0.25, asked_least=0.2, before=At(7, 9, HERE)),
        Fitted("rail", "gap", 0.25, 47.75, asked_least=0.2),
    )
    shown = make_book(replace(timeline(), fits=fits), lists(), Pictures(), (), Edition("a4", "mm")).fits
    assert shown[1].what == "gap, before step 7 joins the pieces"
    assert [(row.asked, row.found) for row in shown] == [
        ("at most 0.30 mm", "at most 0.10 mm"),
        ("at least 0.20 mm", "0.25 mm"),
        ("at least 0.20 mm", "0.25 mm"),
    ]


def test_the_woods_of_all_choices_stand_side_by_side() -> None:
    def named(name: str, by: str) -> Named:
        return Named(name, by, HERE, HERE)

    def board(name: str, wood: str) -> Stock:
        zero = Expr(parse_formula("1 mm"), HERE)
        return Stock(name, wood, (zero,) * 3, (zero,) * 3, "x", None, HERE, HERE)

    pale = Choice("pale", "Pale", "Light.", (named("walnut", "white ash"),), (), (named("oil", "shellac"),), HERE)
    dark = Choice("dark", "Dark", "", (), (named("rim", "walnut"),), (), HERE)
    stock = {
        name: board(name, wood) for name, wood in (("hull", "black walnut"), ("rim", "cherry"), ("keel", "walnut"))
    }
    supplies = {"oil": Supply("oil", "finish", "tung oil", None, "", HERE)}
    plan = replace(design(), stock=stock, supplies=supplies, choices={"pale": pale, "dark": dark})
    assert choices_of(design()) is None
    shown = choices_of(with_choice(plan, "pale"))
    assert shown is not None
    assert (shown.title, shown.summary) == ("Pale", "Light.")
    assert [(column.title, column.taken) for column in shown.columns] == [("", False), ("Pale", True), ("Dark", False)]
    assert [(row.name, row.cells) for row in shown.rows] == [
        ("Hull", ("black walnut", "white ash", "black walnut")),
        ("Rim", ("cherry", "cherry", "walnut")),
        ("Keel", ("walnut", "white ash", "walnut")),
        ("Oil", ("tung oil", "shellac", "tung oil")),
    ]


def test_pictures_find_their_places_and_always_have_words() -> None:
    made = book()
    assert [len(step.figures) for step in made.steps] == [1, 0]
    assert made.steps[0].figures[0].alt == "Step 1: Saw the hull."
    assert [row.figure is not None for row in made.pieces] == [False, True]
    assert made.cover is not None
    assert made.cover.alt == "The finished work: Boat-shaped tray."
    assert made.stencils[0].figure.alt == "Stencil 1 of 1"


def test_pieces_without_a_measured_drawing_are_named() -> None:
    rows = tuple(
        PieceRow(n, name, SIZE, SIZE, ("walnut",), 1, (2,), "joined", "hull", single, Fraction(0), None)
        for n, (name, single) in enumerate({"rail": True, "left side": True, "top": True, "hull": False}.items(), 1)
    )
    sheets = ((("rail",), Picture(80.0, 40.0, (Stroke(((0, 0), (9, 9)), Pen(0.3, "#000")),), "Rail.")),)
    given = replace(lists(), pieces=rows)
    some = make_book(timeline(), given, Pictures(sheets=sheets), (), Edition())
    assert some.unmeasured == "left side, top"
    assert "follow stencils and steps: left side, top." in compose(some)
    whole = make_book(timeline(), replace(given, pieces=rows[:1]), Pictures(sheets=sheets), (), Edition())
    assert "follow stencils and steps" not in compose(whole)


def test_lists_in_both_systems() -> None:
    inch, metric = book(), book(Edition("a4", "mm"))
    assert inch.boards[0].finished == "11 1/4 × 5 1/2 × 3/8 in"
    assert (inch.boards[0].count, inch.boards[0].name) == ("2", "Plank, rail")
    assert (inch.boards[0].volume, metric.boards[0].volume) == ("1.75 board ft", "0.0041 m³")
    assert inch.lumber == ()  # the one board tells it already
    assert [row.amount for row in inch.supplies] == ["2 1/2 fl oz", "as needed"]
    assert [row.amount for row in metric.supplies] == ["70 ml", "as needed"]
    assert [row.note for row in inch.supplies] == ["tung oil; 3 coats", "It depends."]
    assert (inch.tools[0].amount, inch.tools[0].note) == ("kerf 1/32 in", "band saw")
    assert (inch.pieces[0].made, inch.pieces[1].made) == (None, Link("1", "step-1"))


def test_a_wood_on_several_lines_of_the_list_has_its_sum() -> None:
    given = lists()
    found = make_book(timeline(), replace(given, boards=given.boards * 2), Pictures(), (), Edition())
    assert found.lumber == (Fact("Walnut", "1.75 board ft"),)


def test_sheet_goods_are_measured_by_their_area() -> None:
    given = lists()
    sheet = replace(given.boards[0], board_feet=None, board_feet_nominal=None, square_metres=Fraction(1, 2))
    given = replace(given, boards=(sheet,))
    rows = [make_book(timeline(), given, Pictures(), (), e).boards for e in (Edition(), Edition(units="mm"))]
    assert [row[0].volume for row in rows] == ["5.38 ft²", "0.500 m²"]  # 1 ft² = 0.09290304 m²


def test_facts_at_a_glance() -> None:
    facts = {fact.label: fact.value for fact in book().facts}
    assert facts == {
        "Finished size": "11 1/4 × 5 1/2 × 3 1/2 in",
        "Weight": "2.2 lb",
        "Skill": "some",
        "Woods": "walnut",
        "Work": "50 min",
        "Lumber": "1.8 board ft",
        "From start to end": "2 days",
        "Steps": "2",
        "Stencil pages": "1",
    }


def test_what_is_not_known_is_left_out() -> None:
    given = replace(lists(), kilograms=None, totals=())
    bare = replace(timeline(), object=())
    labels = [fact.label for fact in make_book(bare, given, Pictures(), (), Edition()).facts]
    assert not {"Finished size", "Weight", "Lumber", "Stencil pages"} & set(labels)


def test_fits_that_were_measured_are_printed_with_what_was_asked() -> None:
    inch, metric = book().fits, book(Edition("a4", "mm")).fits
    assert [(row.name, row.what) for row in inch] == [
        ("wall", "wall"),
        ("lid slides", "slide, tightest at 40 % of the way"),
    ]
    assert [(row.asked, row.found) for row in inch] == [
        ("at least 0.315 in", "0.370 in"),
        ("0.008 to 0.059 in", "0.016 to 0.043 in"),
    ]
    assert [(row.asked, row.found) for row in metric] == [
        ("at least 8.00 mm", "9.40 mm"),
        ("0.20 to 1.50 mm", "0.40 to 1.10 mm"),
    ]


def test_fits_that_measure_alike_share_a_row() -> None:
    wall, *others = timeline().fits
    alike = replace(timeline(), fits=(wall, *others, replace(wall, name="far wall")))
    names = [row.name for row in make_book(alike, lists(), Pictures(), (), Edition()).fits]
    assert names == ["wall, far wall", *(row.name for row in book().fits[1:])]


def test_where_a_fit_is_worst_and_for_which_range_it_is_proved() -> None:
    wall, lid, _ = timeline().fits
    kerf, damp = Varied("kerf", 1.3, "narrow blade"), Varied("humidity", 65.0)
    proofs = (
        Proof("wall", replace(wall, least=9.0), (kerf,), wall, ()),
        Proof("lid slides", replace(lid, least=0.25), (kerf, damp), replace(lid, most=1.25), ()),
    )
    spreads = (
        Spread("kerf", 0.9, 1.1, 1.3, "narrow blade"),
        Spread("kerf", 0.9, 1.1, 1.3, "resaw blade"),
        Spread("sanding", -0.1, 0.0, 0.1),
        Spread("humidity", 25.0, 45.0, 65.0),
    )
    proved = replace(timeline(), envelope=Envelope(spreads, proofs, (), ("wenge",), 8))
    metric = Edition("a4", "mm")
    assert proved_range(proved, metric) == (
        "Proved for kerf 0.90 to 1.30 mm (narrow blade, resaw blade), sanding 0.10 mm more or less, indoor humidity"
        " 25 to 65 %. How much wenge moves is not known; it is taken not to."
    )
    assert proved_range(timeline(), metric) == ""
    rows = make_book(proved, lists(), Pictures(), (), metric).fits
    assert [(row.worst, row.corner) for row in rows] == [
        ("9.00 mm", "with a kerf of 1.30 mm from the narrow blade"),
        ("0.25 to 1.25 mm", "with a kerf of 1.30 mm from the narrow blade, at 65 % humidity; as drawn"),
    ]
    assert make_book(proved, lists(), Pictures(), (), Edition()).fits[0].worst == "0.354 in"


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
