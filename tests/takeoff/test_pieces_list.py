"""The list of pieces: what ends in the object, what was joined into it, sizes, weights, leftovers."""

from dataclasses import replace
from fractions import Fraction

import pytest

from planbook.solids import AXES
from planbook.solids.solid import block
from planbook.takeoff.pieces import kilograms, leftovers, piece_rows
from planbook.workshop import Member


@pytest.fixture
def box(bench, make_piece):
    """A blank sawn into a rim and a core; the rim is sanded, a knob is glued into it."""
    blank = make_piece("blank", (300, 100, 40))
    rim = make_piece("rim", (300, 100, 40), sources=("blank",))
    core = make_piece("core", (200, 60, 40), sources=("blank",))
    sanded = make_piece("rim", (299, 99, 40), sources=("blank",))
    knob = make_piece("knob", (12, 12, 30), wood="black walnut", grain="z")
    both = make_piece("rim", (299, 99, 55), sources=("rim", "knob"))
    bench.step("Mill")
    bench.do("mill", made=[blank, knob])
    bench.step("Saw")
    bench.do("saw", [blank], [rim, core])
    bench.step("Sand")
    bench.do("sand face", [rim], [sanded])
    bench.step("Fit the knob")
    bench.do("plug", [sanded, knob], [both])
    bench.ends("part", both)
    bench.ends("discarded", core)
    return bench.timeline()


def test_pieces_are_those_that_end_in_the_object_and_those_joined_into_them(box):
    rows = piece_rows(box)
    assert [(r.number, r.name, r.ending, r.part_of) for r in rows] == [
        (1, "knob", "joined", "rim"),
        (2, "rim", "part", ""),
    ]


def test_a_piece_has_its_size_when_made_and_at_the_end(box):
    _, rim = piece_rows(box)
    assert (rim.made.length, rim.made.width, rim.made.thickness) == (300, 100, 40)
    assert (rim.final.length, rim.final.width, rim.final.thickness) == (299, 99, 55)


def test_a_piece_knows_its_steps(box):
    knob, rim = piece_rows(box)
    assert (rim.made_in, rim.used_in) == (2, (3, 4))
    assert (knob.made_in, knob.used_in) == (1, (4,))


def test_a_sawn_up_blank_is_no_piece_of_the_object(box):
    assert "blank" not in {row.name for row in piece_rows(box)}


def test_a_strip_in_a_cut_of_what_is_sliced_later_is_listed_and_has_no_drawing_of_its_own(bench, make_piece):
    blank, strip = make_piece("blank", (300, 100, 40)), make_piece("strip", (100, 20, 1))
    closed = make_piece("blank", (300, 100, 40), sources=("blank", "strip"))
    face, rest = (make_piece(name, (300, 100, 19), sources=("blank",)) for name in ("face", "rest"))
    bench.step("Mill")
    bench.do("mill", made=[blank, strip])
    bench.step("Close the cut")
    bench.do("shim", [blank, strip], [closed])
    bench.step("Slice")
    bench.do("slice", [closed], [face, rest])
    bench.ends("part", face)
    rows = piece_rows(bench.timeline())
    assert [(r.name, r.ending, r.part_of, r.used_in, r.single) for r in rows] == [
        ("strip", "joined", "blank", (2,), False),
        ("face", "part", "", (), True),
    ]


def test_pieces_glued_up_are_listed_with_what_they_went_into(bench, make_piece):
    left, right = make_piece("left", (100, 50, 20)), make_piece("right", (100, 50, 20))
    top = make_piece("top", (100, 100, 20), sources=("left", "right"))
    flush = replace(top, solid=block((0, 0, 0), (100, 100, 19)))
    bench.step("Glue")
    bench.do("mill", made=[left, right])
    bench.do("glue up", [left, right], [top])
    bench.do("sand flush", [top], [flush])
    bench.ends("kept", flush)
    rows = piece_rows(bench.timeline())
    assert [(r.name, r.ending, r.part_of) for r in rows] == [
        ("left", "joined", "top"),
        ("right", "joined", "top"),
        ("top", "kept", ""),
    ]


def test_a_piece_is_single_unless_it_came_to_be_by_gluing_others(bench, make_piece):
    left, right = make_piece("left", (100, 50, 20)), make_piece("right", (100, 50, 20))
    knob, spare = make_piece("knob", (10, 10, 10)), make_piece("spare", (10, 10, 10))
    top = make_piece("top", (100, 100, 20), sources=("left", "right"))
    lid = make_piece("lid", (100, 30, 20))
    fitted = replace(lid, sources=("lid", "knob"))
    bench.step("Glue")
    bench.do("mill", made=[left, right, knob, lid, spare])
    bench.do("glue up", [left, right], [top])
    bench.do("plug", [lid, knob], [fitted])
    bench.ends("part", top, fitted)
    bench.ends("kept", spare)
    single = {row.name: row.single for row in piece_rows(bench.timeline())}
    assert single == {"left": True, "right": True, "knob": True, "lid": True, "top": False, "spare": False}


def test_a_lid_assembled_with_a_box_stays_a_piece_of_its_own(bench, make_piece):
    lid, body = make_piece("lid", (100, 100, 10)), make_piece("body", (100, 100, 50))
    bench.step("Assemble")
    bench.do("mill", made=[lid, body])
    bench.do("assemble", [lid, body], [lid, body])
    bench.ends("part", lid, body)
    assert [(r.name, r.ending) for r in piece_rows(bench.timeline())] == [("lid", "part"), ("body", "part")]


def test_a_board_that_no_step_made_is_listed_as_bought(bench, make_piece):
    shelf = make_piece("shelf", (600, 200, 18))
    bench.step("Assemble")
    bench.ends("part", shelf)
    (row,) = piece_rows(bench.timeline())
    assert (row.made_in, row.used_in, row.made) == (0, (), row.final)


def test_sizes_are_free_of_the_noise_of_the_solver(bench, make_piece):
    lath = make_piece("lath", (0.1 + 0.2, 25.4, 100.0))
    bench.ends("part", lath)
    (row,) = piece_rows(bench.timeline())
    assert row.final.length == Fraction(3, 10)
    assert row.final.width == 100
    assert row.final.thickness == Fraction("25.4")


def test_a_turned_piece_is_measured_along_its_grain(bench, make_piece):
    stick = make_piece("stick", (100, 20, 10))
    solid = stick.solid.turned(AXES["z"], 30.0)
    grain = (3**0.5 / 2, 0.5, 0.0)
    turned = replace(stick, solid=solid, members=(Member("stick", "cherry", grain, solid, solid.bounds),))
    bench.ends("part", turned)
    (row,) = piece_rows(bench.timeline())
    assert [float(x) for x in (row.final.length, row.final.width, row.final.thickness)] == pytest.approx([100, 20, 10])


def test_a_laminated_piece_is_measured_along_the_grain_it_has_most_of(bench, make_piece):
    body = make_piece("panel", (100, 200, 30), grain="x")
    core, strip = block((0, 0, 0), (100, 180, 30)), block((0, 180, 0), (100, 200, 30))
    members = (
        Member("a", "cherry", AXES["x"], core, core.bounds),
        Member("b", "black walnut", AXES["y"], strip, strip.bounds),
    )
    laminated = replace(body, members=members)
    bench.ends("part", laminated)
    (row,) = piece_rows(bench.timeline())
    assert (row.final.length, row.final.width) == (100, 200)
    assert row.woods == ("cherry", "black walnut")


def test_a_piece_is_listed_as_it_is_cut_without_the_knob_that_was_glued_into_it(bench, make_piece):
    lid, knob = make_piece("lid", (100, 30, 20)), make_piece("knob", block((40, 10, 15), (60, 20, 45)), wood="maple")
    own, its = block((0, 0, 0), (100, 30, 20)).minus(knob.solid), knob.solid
    members = (replace(lid.members[0], region=own), replace(knob.members[0], region=its, box=its.bounds, added="knob"))
    fitted = replace(lid, solid=own.plus(its), members=members, sources=("lid", "knob"))
    bench.do("mill", made=[lid, knob])
    bench.do("plug", [lid, knob], [fitted])
    bench.ends("part", fitted)
    row = next(row for row in piece_rows(bench.timeline()) if row.name == "lid")
    assert (row.final.length, row.final.width, row.final.thickness) == (100, 30, 20)
    assert row.woods == ("cherry",)
    assert float(row.cubic_metres) * 1e9 == pytest.approx(100 * 30 * 20 - 20 * 10 * 5, rel=1e-4)


def test_a_box_put_together_is_measured_without_the_knob_that_was_set_later(bench, make_piece):
    """Its weight and its woods are those of all of it."""
    front, body = make_piece("front", (100, 10, 20)), make_piece("body", block((0, 10, 0), (100, 50, 20)))
    knob = make_piece("knob", block((40, -15, 5), (60, 5, 15)), wood="maple")
    whole = front.solid.plus(body.solid)
    parts = (front.members[0], body.members[0])
    drawer = replace(make_piece("drawer", whole, sources=("front", "body")), members=parts)
    cut = tuple(replace(m, region=m.region.minus(knob.solid)) for m in parts)
    its = replace(knob.members[0], region=knob.solid, box=knob.solid.bounds, added="knob")
    fitted = replace(drawer, solid=whole.plus(knob.solid), members=(*cut, its), sources=("drawer", "knob"))
    bench.do("mill", made=[front, body, knob])
    bench.do("glue up", [front, body], [drawer])
    bench.do("plug", [drawer, knob], [fitted])
    bench.ends("part", fitted)
    row = next(row for row in piece_rows(bench.timeline()) if row.name == "drawer")
    assert not row.single
    assert sorted(map(float, (row.final.length, row.final.width, row.final.thickness))) == [20, 50, 100]
    assert set(row.woods) == {"cherry", "maple"}
    assert float(row.cubic_metres) * 1e9 == pytest.approx(100 * 50 * 20 + 15 * 20 * 10, rel=1e-4)


def test_a_laminated_piece_weighs_each_wood_by_its_own_density(make_piece):
    half = make_piece("panel", (1000, 100, 10))
    left, right = block((0, 0, 0), (500, 100, 10)), block((500, 0, 0), (1000, 100, 10))
    members = (
        Member("a", "cherry", AXES["x"], left, left.bounds),
        Member("b", "black walnut", AXES["x"], right, right.bounds),
    )
    # Wood Handbook, Table 5-3b and Eq. 4-14: cherry 0.50, black walnut 0.55, each x 1.12 at 12 %
    assert kilograms(replace(half, members=members)) == pytest.approx(0.0005 * 560 + 0.0005 * 616)


def test_a_piece_of_unknown_wood_is_not_weighed(make_piece):
    assert kilograms(make_piece("peg", (10, 10, 10), wood="driftwood")) is None


@pytest.mark.parametrize(
    ("size", "keep"),
    [((101, 26, 5), True), ((100, 26, 5), False), ((101, 25, 25), False), ((5, 26, 101), True)],
)
def test_offcuts_worth_keeping(bench, make_piece, size, keep):
    # common practice: longer than 100 mm and wider than 25 mm
    bench.ends("left over", make_piece("offcut", size))
    (row,) = leftovers(bench.timeline())
    assert row.worth_keeping is keep


def test_the_frame_round_a_sawn_out_shape_is_not_worth_keeping(bench, make_piece):
    frame = block((0, 0, 0), (160, 64, 45)).minus(block((2, 2, 0), (158, 62, 45)))
    bench.ends("left over", make_piece("frame", frame))
    (row,) = leftovers(bench.timeline())
    assert not row.worth_keeping


def test_leftovers_come_largest_first_with_how_they_ended(box):
    (core,) = leftovers(box)
    assert (core.name, core.ending, core.made_in, core.woods) == ("core", "discarded", 2, ("cherry",))
    assert (core.size.length, core.size.width, core.size.thickness) == (200, 60, 40)


def test_what_is_kept_is_used_where_words_say_so(bench, make_piece):
    board, rest = make_piece("board", (300, 100, 20)), make_piece("offcut", (150, 50, 20))
    bench.step("Saw", "Keep the offcut.")
    bench.do("saw", [board], [board, rest])
    bench.step("Look", "Look at the board.")
    bench.step("Oil", "Try the oil on the offcut.")
    bench.ends("part", board)
    bench.ends("kept", rest)
    rows = {row.name: row for row in piece_rows(bench.timeline())}
    assert (rows["offcut"].made_in, rows["offcut"].used_in) == (1, (3,))
    assert rows["board"].used_in == ()


def test_what_is_kept_stands_behind_the_pieces_of_the_object_and_no_step_twice(bench, make_piece):
    rest, back = make_piece("rest", (100, 50, 20)), make_piece("back", (100, 50, 20))
    bench.step("Saw")
    bench.do("mill", made=[rest, back])
    bench.do("saw", [rest, back], [rest, back])
    bench.step("Put it together")
    bench.do("assemble", [back], [back])
    bench.ends("kept", rest)
    bench.ends("part", back)
    rows = [(r.number, r.name, r.made_in, r.used_in) for r in piece_rows(bench.timeline())]
    assert rows == [(1, "back", 1, (2,)), (2, "rest", 1, ())]
