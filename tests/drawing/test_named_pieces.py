"""Which pieces and notes a picture names, also those out of sight, and where their leaders end."""

import pytest

from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.scene import unseen
from planbook.drawing.svg import svg
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown

from .conftest import WIDE, holds, picture_of


def test_every_piece_that_matters_is_named_once(bench):
    assert sorted(bench.texts(picture_of(bench, bench.sawn()))) == ["drum", "rim"]


def test_a_piece_that_stands_by_is_named_while_there_are_few(bench):
    def shown(count):
        beside = [
            bench.piece(f"foot {k}", block((0, 30 * k, 0), (20 + 0.1 * k, 30 * k + 20, 20))) for k in range(count)
        ]
        return [Shown(bench.piece("top", block((0, 0, 30), (300, 300, 40))), "worked", (0, 0, 90.0))] + [
            Shown(b, "context") for b in beside
        ]

    assert "foot 0" in bench.texts(picture_of(bench, bench.event("bore", "top", shown(4))))
    assert bench.texts(picture_of(bench, bench.event("bore", "top", shown(9)))) == ["top"]


def test_leaders_end_on_the_piece_they_name(bench):
    """The dot lies on a face in the colour of that piece's wood."""
    pieces = [Shown(bench.piece("pale", block((0, 0, 0), (60, 60, 60)), "sugar maple"), "worked")]
    pieces += [Shown(bench.piece("dark", block((90, 0, 0), (150, 60, 60)), "black walnut"), "worked")]
    picture = picture_of(bench, bench.event("finish", "top", pieces))
    brightness = {}
    for name, (_, dot) in zip(bench.texts(picture), bench.leaders(picture), strict=True):
        fills = [f for f in picture.of_layer("face") if isinstance(f, Fill) and holds(f, dot)]
        assert len(fills) == 1
        brightness[name] = int(fills[0].colour[1:3], 16)
    assert brightness["pale"] > brightness["dark"] + 40


def test_a_note_points_at_the_first_of_its_places_that_is_in_sight(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))

    def end_of(*points):
        note = Cue("note", points, "cube", "felt")
        picture = picture_of(bench, bench.event("line", "top", [Shown(cube, "worked")], [note]))
        return {m.points for m in picture.of_layer("leader")}

    hidden, seen = (30.0, 30.0, 30.0), (30.0, 30.0, 60.0)
    assert end_of(hidden, seen) == end_of(seen)
    assert end_of(hidden) != end_of(seen)


def test_a_note_that_points_at_nothing_in_sight_gives_way_to_its_like(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))

    def told(*points):
        notes = [Cue("note", (at,), "cube", "screws") for at in points]
        return bench.texts(picture_of(bench, bench.event("fit hardware", "right", [Shown(cube, "worked")], notes)))

    left, right, front = (0.0, 30.0, 30.0), (60.0, 30.0, 30.0), (30.0, 0.0, 30.0)
    assert sorted(told(left, right)) == ["cube", "screws"]
    assert sorted(told(right, front)) == ["cube", "screws", "screws"]
    assert sorted(told(left)) == ["cube", "screws"]


def test_a_note_is_set_with_the_names(bench):
    cube = bench.piece("cube", block((0, 0, 0), (60, 60, 60)))
    note = Cue("note", ((30, 0, 30),), "cube", "felt")
    picture = picture_of(bench, bench.event("line", "top", [Shown(cube, "worked")], [note]))
    assert sorted(bench.texts(picture)) == ["cube", "felt"]


def test_many_pieces_are_numbered_and_listed_in_a_key(bench):
    picture = picture_of(bench, bench.slatted(40))
    numbers, keyed = bench.texts(picture), bench.texts(picture, "key")
    assert len(numbers) == len(set(numbers)) == 42
    assert all(text.isdigit() for text in numbers)
    assert keyed[-2:] == ["42", "back rail"]
    assert len(keyed) == 84


def test_a_hidden_piece_is_drawn_in_dashes_and_reported(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)), "black walnut")
    shell = block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51)))
    shown = [Shown(core, "new"), Shown(bench.piece("shell", shell), "context")]
    picture = picture_of(bench, bench.event("assemble", "top", shown))
    assert unseen(picture) == ("core",)
    dashes = [m for m in picture.marks if m.layer.startswith("unseen") and isinstance(m, Stroke)]
    assert dashes
    assert all(m.pen.dashes for m in dashes)
    assert "core" in bench.texts(picture)
    assert unseen(picture_of(bench, bench.sawn())) == ()


def test_a_piece_that_is_neither_seen_nor_needed_has_no_name(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)), "black walnut")
    shell = block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51)))
    shown = [Shown(core, "waste"), Shown(bench.piece("shell", shell), "worked")]
    picture = picture_of(bench, bench.event("assemble", "top", shown))
    assert bench.texts(picture) == ["shell"]
    assert unseen(picture) == ()


def test_a_thin_veneer_is_seen_and_named(bench):
    veneer = bench.piece("veneer", block((0, 0, 0), (200, 80, 0.2)), "black walnut")
    rest = bench.piece("block", block((0, 0, -30), (200, 80, -1.5)), "black walnut")
    shown = [Shown(veneer, "new", (0, 0, 30)), Shown(rest, "worked")]
    picture = picture_of(bench, bench.event("slice", "top", shown))
    assert sorted(bench.texts(picture)) == ["block", "veneer"]
    assert unseen(picture) == ()


@pytest.mark.parametrize(
    "name",
    [
        "",
        "   ",
        "<b>&\"'",
        "木の引き出し",
        "מגירה שמאלית",
        "درج",
        "x" * 400,
        "a\x00b\x1b\ud800",
        "e\u0301" * 30,
        "🪵🪚",
        "\u202edrawer",
    ],
)
def test_no_name_breaks_a_picture(bench, name):
    piece = bench.piece(name, block((0, 0, 0), (60, 60, 60)))
    other = bench.piece("other", block((0, 0, 60), (60, 60, 70)))
    picture = picture_of(bench, bench.event("saw", "top", [Shown(piece, "worked"), Shown(other, "new", (0, 0, 30))]))
    left, top, right, bottom = bench.extent(picture)
    assert left >= 0
    assert top >= 0
    assert right <= WIDE
    assert bottom <= picture.height
    assert all(len(text) <= 40 for text in bench.texts(picture))
    assert "other" in bench.texts(picture)
    svg(picture).encode("utf-8")
