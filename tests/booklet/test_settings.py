"""The tools and settings beside a step: what all cuts share stands once, and of the rest a reader knows what is whose."""

from dataclasses import replace
from fractions import Fraction

from planbook.booklet.editions import Edition
from planbook.booklet.steps import remarks_of, settings_of, with_sheets
from planbook.takeoff.records import CutRow, Setting
from planbook.units import Quantity


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
        ("Front", "end left; to 3 mm"),
        ("Front", "end right; to 4 mm"),
        ("Back", "end left; to 5 mm"),
    ]


def test_what_the_drawings_leave_square_is_a_remark_and_nothing_to_be_set() -> None:
    square = "The drawings still show the edges worked in this step square."
    cuts = [cut("front", radius="3 mm", recorded=square), cut("back", radius="3 mm", recorded=square)]
    assert told(*cuts) == {"Tool": "table saw", "Radius": "3 mm"}
    assert remarks_of(cuts) == (square,)
    assert remarks_of([cut("front", radius="3 mm")]) == ()


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


def test_a_piece_that_only_passes_through_the_step_has_no_name_there() -> None:
    cuts = (cut("block", lines="top", kerf="1 mm"), cut("low block", lines="hollow", kerf="2 mm"))
    facts = settings_of(cuts, Edition("a4", "mm"), {"low block"})
    assert [(fact.label, fact.value) for fact in facts] == [
        ("Tool", "table saw"),
        ("Block", "lines top; kerf 1 mm"),
        ("Then", "lines hollow; kerf 2 mm"),
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
