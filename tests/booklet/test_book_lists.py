"""Rows of a book: pieces, woods, boards, supplies and tools, in both systems."""

from dataclasses import replace
from fractions import Fraction

from planbook.booklet import Edition, Fact, Link, Pictures, compose, make_book
from planbook.booklet.choices import choices_of
from planbook.booklet.editions import Units
from planbook.drawing.marks import Pen, Picture, Stroke, Words
from planbook.model import Choice, Expr, Named, Stock, Supply, with_choice
from planbook.takeoff import (
    PieceRow,
)
from planbook.units import parse_formula

from .conftest import HERE, SIZE, book, design, lists, timeline


def test_pieces_that_differ_by_their_number_share_a_row_with_the_places_of_all() -> None:
    def row(number: int, name: str) -> PieceRow:
        return PieceRow(number, name, SIZE, SIZE, ("walnut",), 1, (2,), "joined", "hull", True, Fraction(0), None)

    rows = (row(1, "hull"), *(row(1 + k, f"plug {k}") for k in range(1, 5)), row(6, "peg 1"), row(7, "peg 2"))
    shown = make_book(timeline(), replace(lists(), pieces=rows), Pictures(), (), Edition()).pieces
    assert [piece.name for piece in shown] == ["hull", "4 × plug (1 to 4)", "2 × peg (1, 2)"]
    assert (shown[1].anchor, shown[1].others) == ("piece-2", ("piece-3", "piece-4", "piece-5"))


def test_thousandths_among_fractions_are_told_why() -> None:
    def told(figures: tuple[str, ...], units: Units) -> bool:
        marks = tuple(Words((9.0, 9.0), text, 2.2) for text in figures)
        sheets = ((("rail",), Picture(80.0, 40.0, marks, "Rail.")),)
        made = make_book(timeline(), lists(), Pictures(sheets=sheets), (), Edition("letter", units))
        assert made.closely == ("Three decimals stand where" in compose(made))
        return made.closely

    assert told(("7 7/8", "A: R 3.701"), "in")
    assert not told(("7 7/8", "3 11/16"), "in")
    assert not told(("7.875", "3.701"), "in-decimal")
    assert not told(("94.125",), "mm")


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


def test_a_wood_on_several_lines_of_the_list_has_the_sum_of_what_they_print() -> None:
    given = lists()
    # Two lines that print 1.75 make 3.50, not the 3.51 of 2 x 1.754.
    boards = tuple(replace(row, board_feet=Fraction("1.754")) for row in given.boards * 2)
    found = make_book(timeline(), replace(given, boards=boards), Pictures(), (), Edition())
    assert found.lumber == (Fact("Walnut", "3.50 board ft"),)


def test_sheet_goods_are_measured_by_their_area() -> None:
    given = lists()
    sheet = replace(given.boards[0], board_feet=None, board_feet_nominal=None, square_metres=Fraction(1, 2))
    given = replace(given, boards=(sheet,))
    rows = [make_book(timeline(), given, Pictures(), (), e).boards for e in (Edition(), Edition(units="mm"))]
    assert [row[0].volume for row in rows] == ["5.38 ft²", "0.500 m²"]  # 1 ft² = 0.09290304 m²
