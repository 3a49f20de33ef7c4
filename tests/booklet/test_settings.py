"""The tools and settings beside a step: what all cuts share stands once, and of the rest a reader knows what is whose."""

from dataclasses import replace
from fractions import Fraction

from planbook.booklet.editions import Edition
from planbook.booklet.step_settings import passing_of, remarks_of, settings_of, with_sheets
from planbook.model import Node, Operation
from planbook.solids.solid import block
from planbook.takeoff.records import CutRow, Setting
from planbook.text import Place
from planbook.units import Quantity
from planbook.workshop import At, Event, Piece

HERE = Place("steps.md")


def cut(piece: str, **settings: str) -> CutRow:
    return CutRow(
        1, 1, "mitre", (piece,), ("table saw",), tuple(Setting(key.replace("_", " "), v) for key, v in settings.items())
    )


def told(*cuts: CutRow) -> dict[str, str]:
    facts = settings_of(cuts, Edition("a4", "mm"))
    assert len({fact.label for fact in facts}) == len(facts)
    return {fact.label: fact.value for fact in facts}


def test_what_all_share_stands_once() -> None:
    assert told(cut("front", end="left"), cut("front", end="left")) == {"Tool": "table saw", "End": "left"}


def test_one_label_that_differs_has_its_values_side_by_side() -> None:
    assert told(cut("front", end="left"), cut("back", end="right"))["End"] == "left, right"


def test_both_ends_of_a_piece_stand_in_one_line() -> None:
    both = [
        cut(piece, angle="45", end=end, whole_side=piece) for piece in ("front", "back") for end in ("left", "right")
    ]
    assert told(*both) == {
        "Tool": "table saw",
        "Angle": "45",
        "Front": "end left, right; whole side front",
        "Back": "end left, right; whole side back",
    }


def test_cuts_that_differ_in_two_things_keep_their_lines_apart() -> None:
    cuts = (
        cut("front", end="left", to="3 mm"),
        cut("front", end="right", to="4 mm"),
        cut("back", end="left", to="5 mm"),
    )
    found = settings_of(cuts, Edition("a4", "mm"))
    assert [(fact.label, fact.value) for fact in found[1:]] == [
        ("Front, end left", "to 3 mm"),
        ("Front, end right", "to 4 mm"),
        ("Back", "end left; to 5 mm"),
    ]


def test_what_the_drawings_leave_square_is_a_remark_and_nothing_to_be_set() -> None:
    square = "The drawings still show the edges worked in this step square."
    cuts = [cut("front", radius="3 mm", recorded=square), cut("back", radius="3 mm", recorded=square)]
    assert told(*cuts) == {"Tool": "table saw", "Radius": "3 mm"}
    assert remarks_of(cuts) == (square,)
    assert remarks_of([cut("front", radius="3 mm")]) == ()
    assert remarks_of([*cuts, cut("lid", radius="1 mm")]) == (f"Front, back: {square.replace('The', 'the', 1)}",)


def screws(piece: str, face: str, count: int, hardware: str = "screws") -> CutRow:
    found = cut(piece, hardware=hardware, face=face)
    return replace(found, settings=(*found.settings, Setting("count", Quantity(Fraction(count)))))


def test_what_is_fitted_on_two_sides_is_counted_together() -> None:
    assert told(screws("carcase", "left", 4), screws("carcase", "right", 4)) == {
        "Tool": "table saw",
        "Hardware": "screws",
        "Face": "left, right",
        "Count": "8",
    }


def test_two_kinds_of_hardware_are_counted_apart() -> None:
    found = told(screws("lid", "back", 2, "hinges"), screws("box", "back", 4))
    assert (found["Lid"], found["Box"]) == ("hardware hinges; count\u00a02", "hardware screws; count\u00a04")


def test_equal_numbers_of_holes_are_told_of_each_cut() -> None:
    one = on("eye drill", cut("panel", stencil="heron", diameter="6 mm", bore="1 hole"))
    two = on("start drill", cut("panel", stencil="heron", diameter="4 mm", bore="1 hole"))
    assert told(one, two) == {
        "Tool": "eye drill, start drill",
        "Stencil": "heron",
        "Eye drill": "diameter 6 mm; bore 1 hole",
        "Start drill": "diameter 4 mm; bore 1 hole",
    }
    pair = (cut("left side", diameter="6 mm", bore="8 holes"), cut("right side", diameter="6 mm", bore="8 holes"))
    assert told(*pair)["Left side, right side"] == "bore 8 holes"
    assert told(one)["Bore"] == "1 hole"


def on(tool: str, one: CutRow) -> CutRow:
    return replace(one, tools=(tool,))


def test_a_piece_that_only_passes_through_the_step_is_told_by_what_it_was_made_from() -> None:
    cuts = (cut("block", lines="top", kerf="1 mm"), cut("low block", lines="hollow", kerf="2 mm"))
    facts = settings_of(cuts, Edition("a4", "mm"), {"low block": "block"})
    assert [(fact.label, fact.value) for fact in facts] == [
        ("Tool", "table saw"),
        ("Block", "lines top; kerf 1 mm"),
        ("Block, then", "lines hollow; kerf 2 mm"),
    ]


def test_a_passing_piece_that_is_cut_as_its_source_is_has_no_line_of_its_own() -> None:
    cuts = (cut("strip", stop="300 mm"), cut("half", stop="300 mm"), cut("board", stop="200 mm", side="left"))
    found = [fact.label for fact in settings_of(cuts, Edition("a4", "mm"), {"half": "strip"})]
    assert found == ["Tool", "Strip", "Board"]


def test_where_it_has_a_tool_of_its_own_the_tools_tell_the_cuts_apart() -> None:
    cuts = (cut("block", face="front", fence="20 mm"), on("plug cutter", cut("slab", diameter="12 mm")))
    facts = settings_of(cuts, Edition("a4", "mm"), {"slab": "block"})
    assert [(fact.label, fact.value) for fact in facts[1:]] == [
        ("Table saw", "face front; fence 20 mm"),
        ("Plug cutter", "diameter 12 mm"),
    ]


def test_the_source_of_a_passing_piece_is_one_that_the_reader_knows() -> None:
    def made(number: int, taken: str, *names: str) -> Event:
        pieces = [Piece(name, block((0, 0, 0), (1, 1, 1)), (), At(1, number, HERE)) for name in (taken, *names)]
        work = Operation("saw", Node({}, HERE), 1, number, HERE)
        return Event(work, At(1, number, HERE), (pieces[0],), tuple(pieces[1:]), (), (), None, {}, 1.0, 0.0, 0.0)

    events = [made(1, "block", "low"), made(2, "low", "slab"), made(3, "slab", "slab"), made(4, "slab", "tray")]
    assert passing_of(events, ()) == {"low": "block", "slab": "block"}
    assert passing_of(events, ("Saw the {low}.",)) == {"slab": "low"}


def test_rows_of_the_same_pieces_are_told_apart_by_where_they_are() -> None:
    cuts = [cut("side", depth=f"{n} mm", distance=far) for n, far in ((7, "40 mm"), (8, "440 mm"))]
    assert told(*cuts) == {"Tool": "table saw", "At 40 mm": "depth 7 mm", "At 440 mm": "depth 8 mm"}


def test_a_row_is_not_left_empty_for_the_sake_of_its_heading() -> None:
    cuts = (cut("box", faces="front", take="1 mm"), cut("box", faces="back"))
    facts = settings_of(cuts, Edition("a4", "mm"))
    assert [(fact.label, fact.value) for fact in facts[1:]] == [
        ("Box", "faces front; take 1 mm"),
        ("Box", "faces back"),
    ]


def test_a_stencil_has_the_number_that_its_sheet_carries() -> None:
    cuts = [cut("end block", stencil="end hollow", keep="outside")]
    (numbered,) = with_sheets(cuts, {"end hollow": (5,)}, 6)
    assert told(numbered)["Stencil"] == "end hollow (5 of 6)"
    assert told(numbered)["Keep"] == "outside"


def test_a_stencil_on_several_sheets_names_them_all_and_one_sheet_alone_needs_no_number() -> None:
    cuts = [cut("side", stencil="side")]
    (several,), (alone,) = (tuple(with_sheets(cuts, {"side": on}, total)) for on, total in (((1, 2), 3), ((1,), 1)))
    assert told(several)["Stencil"] == "side (1 and 2 of 3)"
    assert alone == cuts[0]
