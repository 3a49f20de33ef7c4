"""Panels cut from one sheet, renamed, turned up, tried dry, glued by tongues in slots, and measured; and their pictures."""

import math
from dataclasses import replace

import pytest

from planbook.solids import Solid
from planbook.solids.solid import block
from planbook.workshop.joints import travel
from planbook.workshop.pieces import turned

from .conftest import Run, running

DESIGN = """
title = "Bench"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock.sheet]
wood = "birch plywood"
size = ["400 mm", "100 mm", "10 mm"]
grain = "x"
[stock.trough]
wood = "birch plywood"
size = ["200 mm", "60 mm", "30 mm"]
at = ["0 mm", "200 mm", "0 mm"]
grain = "x"
[stock.tongue]
wood = "birch plywood"
size = ["100 mm", "19.5 mm", "40 mm"]
at = ["50 mm", "220.25 mm", "20 mm"]
grain = "x"
[tools.saw]
kind = "table saw"
kerf = "2 mm"
[tools.bit]
kind = "router"
diameter = "12 mm"
[fits.play]
kind = "gap"
between = ["tongue", "trough"]
along = "y"
least = "0.25 mm"
most = "0.25 mm"
"""
MILL = '```mill\nboards = ["sheet"]\n```\n'
CUT = (
    '```crosscut\npiece = "sheet"\nface = "right"\nlength = "150 mm"\nblade = "saw"\n'
    'makes = "panel"\noffcut = "* rest"\n```\n'
)

run = running(DESIGN)


def turn(body: str) -> str:
    return f'```turn\npiece = "panel"\n{body}\n```\n'


def test_a_straight_cut_can_rename_what_it_keeps(run: Run) -> None:
    timeline = run(MILL, CUT)
    assert {t.kind for t in timeline.troubles} <= {"piece-unknown"}, "only the fit, whose pieces are not made here"
    panel, rest = timeline.events[-1].made
    assert (panel.name, rest.name) == ("panel", "sheet rest")
    assert panel.sources == ("sheet",)
    assert panel.solid.extent == pytest.approx((150, 100, 10))
    assert rest.solid.extent == pytest.approx((248, 100, 10))
    again = run(MILL, CUT, MILL.replace("mill\nboards", "discard\npieces"))
    assert any(t.kind == "piece-already-used" for t in again.troubles)


@pytest.mark.parametrize(
    ("axis", "angle", "size"),
    [("y", 270, (10, 100, 150)), ("x", 90, (150, 10, 100)), ("z", 90, (100, 150, 10)), ("x", 180, (150, 100, 10))],
)
def test_a_turned_piece_stands_where_it_is_put(run: Run, axis: str, angle: int, size: tuple[float, ...]) -> None:
    to = (7.0, -3.0, 20.0)
    timeline = run(MILL, CUT, turn(f'axis = "{axis}"\nangle = "{angle} deg"\nto = ["7 mm", "-3 mm", "20 mm"]'))
    panel = timeline.pieces["panel"]
    low, high = panel.solid.bounds
    assert low == pytest.approx(to, abs=1e-9)
    assert [b - a for a, b in zip(low, high, strict=True)] == pytest.approx(size, abs=1e-9)
    assert timeline.events[-1].lost == ()


def test_a_turn_takes_grain_and_sawn_faces_along(run: Run) -> None:
    """A quarter left round about y, taken three times: what looked right looks up, and the grain stands upright."""
    timeline = run(MILL, CUT, turn('axis = "y"\nangle = "270 deg"'))
    panel = timeline.pieces["panel"]
    assert [abs(g) for g in panel.members[0].grain] == pytest.approx([0, 0, 1])
    assert [t.face for t in panel.treated if t.how == "sawn"] == ["top"]
    slanting = run(MILL, CUT, turn('axis = "y"\nangle = "30 deg"')).pieces["panel"]
    assert [t.face for t in slanting.treated] == []


def test_a_turn_without_a_place_turns_about_the_middle(run: Run) -> None:
    before = run(MILL, CUT).pieces["panel"]
    after = run(MILL, CUT, turn('axis = "z"\nangle = "90 deg"')).pieces["panel"]
    assert after.solid.middle == pytest.approx(before.solid.middle)


def test_play_along_an_axis_ignores_what_only_skims_a_surface(run: Run) -> None:
    """The tongue stands on the floor of its groove: rays along that floor used to run to the far side of the trough."""
    timeline = run(
        '```mill\nboards = ["trough", "tongue"]\n```\n',
        '```groove\npiece = "trough"\nface = "top"\nedge = "front"\nat = "20 mm"\nwidth = "20 mm"\ndepth = "10 mm"\n'
        'tool = "bit"\n```\n',
        '```assemble\npieces = ["trough", "tongue"]\n```\n',
    )
    (play,) = timeline.fits
    assert (play.least, play.most) == (pytest.approx(0.25, abs=1e-6), pytest.approx(0.25, abs=1e-6))


def slotted() -> Solid:
    """A panel 10 mm thick with a slot 20.2 x 40.2 mm right through."""
    return block((0, 0, 0), (10, 100, 100)).minus(block((-1, 29.9, 29.9), (11, 50.1, 70.1)))


def rail(at: float) -> Solid:
    """A rail with shoulders at `at` and a tongue 20 x 40 mm that reaches 11 mm into the panel."""
    return block((at, 20, 20), (at + 200, 60, 80)).plus(block((at - 11, 30, 30), (at + 1, 50, 70)))


@pytest.mark.parametrize("far", [0.0, 1e-9, 0.5, 30.0])
def test_a_tongue_goes_into_its_slot_up_to_the_shoulders(far: float) -> None:
    assert travel(rail(10 + far), slotted(), (-1.0, 0.0, 0.0)) == pytest.approx(far, abs=1e-6)


def test_pieces_of_one_layer_are_drawn_apart_in_it(run: Run) -> None:
    cuts = [
        f'```crosscut\npiece = "{a}"\nface = "right"\nlength = "90 mm"\nblade = "saw"\nmakes = "{b}"\noffcut = "{c}"\n```\n'
        for a, b, c in (("sheet", "one", "x"), ("x", "two", "y"), ("y", "three", "four"))
    ]
    fit = '```dry fit\npieces = ["one", "two", "three", "four"]\n```\n'
    show = run(MILL, *cuts, fit).events[-1].show
    assert show is not None
    moves = [shown.apart for shown in show.pieces]
    # The largest is the last: it stays, and the others leave it along the sheet, the farther the more.
    assert moves[3] == (0.0, 0.0, 0.0)
    assert moves[0][0] < moves[1][0] < moves[2][0] < 0
    assert all(y == 0 and z == 0 for _, y, z in moves)


def test_what_lies_beyond_the_largest_moves_off_together(run: Run) -> None:
    standing = '```mill\nboards = ["sheet", "tongue"]\n```\n'
    timeline = run(
        standing,
        '```dry fit\npieces = ["sheet", "tongue"]\nmoves = { tongue = ["0 mm", "-180 mm", "-9 mm"] }\n```\n'.replace(
            "-9 mm", "-10 mm"
        ),
    )
    show = timeline.events[-1].show
    assert show is not None
    sheet, tongue = show.pieces
    assert sheet.apart == (0.0, 0.0, 0.0)
    assert tongue.apart[:2] == (0.0, 0.0)
    assert tongue.apart[2] > 20


def test_a_turn_about_a_place_swings_the_piece_round_it(run: Run) -> None:
    """The panel lies from 0 to 150 mm in x and 0 to 10 mm in z; a quarter left round about y lays it below, by hand."""
    about = turn('axis = "y"\nangle = "90 deg"\nabout = ["-20 mm", "0 mm", "5 mm"]')
    low, high = run(MILL, CUT, about).pieces["panel"].solid.bounds
    assert (low[0], high[0]) == pytest.approx((-25, -15))
    assert (low[2], high[2]) == pytest.approx((5 - 170, 5 - 20))


def test_boards_side_by_side_along_the_axis_stay_told_apart_when_turned_aslant(run: Run) -> None:
    """Two boards of 20 and 40 mm along y; a sixth of a turn about y changes nothing in y, and the box of the first is
    as wide as its diagonal reaches, by hand: 150 cos 60 + 10 sin 60.
    """
    panel = run(MILL, CUT).pieces["panel"]
    low, high = panel.solid.bounds
    halves = [((low[0], low[1], low[2]), (high[0], 20.0, high[2])), ((low[0], 20.0, low[2]), (high[0], 60.0, high[2]))]
    members = tuple(replace(panel.members[0], region=block(*box), box=box) for box in halves)
    one, two = turned(replace(panel, members=members), (0.0, 1.0, 0.0), 60.0, (0.0, 0.0, 0.0)).members
    assert (one.box[0][1], one.box[1][1]) == pytest.approx((low[1], 20.0))
    assert (two.box[0][1], two.box[1][1]) == pytest.approx((20.0, 60.0))
    assert one.box[1][0] - one.box[0][0] == pytest.approx(
        (high[0] - low[0]) / 2 + (high[2] - low[2]) * math.sqrt(3) / 2
    )


def test_a_part_of_a_panel_keeps_the_box_of_the_whole_when_it_is_turned_by_quarters(run: Run) -> None:
    """What is left and right of a sawn line swells as one board, also when it was turned over to be sanded.

    By hand: left round about z, (x, y) comes to (-y, x). Turned aslant the box ends where the wood does.
    """
    panel = run(MILL, CUT).pieces["panel"]
    half = replace(panel, solid=block((0.0, 0.0, 0.0), (50.0, 40.0, 10.0)))
    half = replace(half, members=(replace(panel.members[0], box=((0.0, 0.0, 0.0), (150.0, 60.0, 10.0))),))
    over = turned(half, (0.0, 0.0, 1.0), 90.0, (0.0, 0.0, 0.0))
    assert over.members[0].box[0] == pytest.approx((-60.0, 0.0, 0.0))
    assert over.members[0].box[1] == pytest.approx((0.0, 150.0, 10.0))
    back = turned(over, (0.0, 0.0, 1.0), -90.0, (0.0, 0.0, 0.0))
    assert back.members[0].box[1] == pytest.approx((150.0, 60.0, 10.0))
    aslant = turned(half, (0.0, 0.0, 1.0), 45.0, (0.0, 0.0, 0.0))
    assert aslant.members[0].box[1][0] == pytest.approx(aslant.solid.bounds[1][0]) == pytest.approx(50 / math.sqrt(2))
