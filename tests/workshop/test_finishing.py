"""Finishes, linings and roundings that are only recorded."""

import math

import pytest

from planbook.solids import FACE_FRAMES, Area
from planbook.solids.plane import circle
from planbook.solids.solid import block as block_of
from planbook.solids.solid import prism
from planbook.workshop.operations.line import _along

from .conftest import BOARDS, MILL, STICK, Run, block, clean, running

run = running(BOARDS)


def test_finish_line_and_round_over_are_recorded(run: Run) -> None:
    hollow = block(
        "saw",
        'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\n'
        'makes = { disc = "inside", rim = "outside" }',
    )
    timeline = run(
        MILL,
        STICK,
        block(
            "bore",
            'piece = "maple"\nface = "top"\nat = [["80 mm", "10 mm"]]\ndepth = "15 mm"\ndrill = "drill"',
        ),
        block("line", 'piece = "maple"\nlining = "felt"'),
        hollow,
        block("round over", 'piece = "disc"\nfaces = ["front"]\nradius = "2 mm"\ntool = "board"'),
        block("finish", 'pieces = ["disc"]\nfinish = "oil"\ncoats = 2'),
        block("wait", 'time = "1 h 30 min"'),
    )
    events = clean(timeline)
    assert dict(events[3].settings)["area"] == pytest.approx(math.pi * 25, rel=1e-2)
    assert dict(events[3].settings)["cut to"] == pytest.approx((10, 10), rel=1e-2)
    assert {t.how for t in events[5].made[0].treated} >= {"sawn", "sanded"}
    assert "finished" in {t.how for t in events[6].made[0].treated}
    assert events[6].uses[0].amount == pytest.approx(2 * events[6].made[0].solid.surface / 1e6)
    assert events[7].wait == 90


def test_a_wall_of_an_opening_is_lined_and_a_round_one_is_refused(run: Run) -> None:
    hole = block("bore", 'piece = "maple"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndepth = "10 mm"\ndrill = "drill"')
    line = 'piece = "maple"\nlining = "felt"\nopening = "front"\nwalls = ["{}"]'
    event = clean(run(MILL, hole, block("line", line.format("back"))))[2]
    assert dict(event.settings)["area"] == pytest.approx(math.pi * 25, rel=0.05)
    assert dict(event.settings)["cut to"] == pytest.approx((10, 10), rel=0.05)
    assert event.show is not None
    assert {cue.kind for cue in event.show.cues} == {"lining", "note"}
    for wall in ("bottom", "front"):
        (trouble,) = run(MILL, hole, block("line", line.format(wall))).troubles
        assert (trouble.kind, trouble.facts["wall"]) == ("no-hollow", wall)


def test_linings_of_several_pieces_have_each_a_size_of_its_own(run: Run) -> None:
    bore = 'piece = "{}"\nface = "top"\nat = [["{} mm", "10 mm"]]\ndepth = "15 mm"\ndrill = "drill"'
    second = bore.format("cherry", 50).replace("]]", '], ["80 mm", "10 mm"]]')
    holes = (block("bore", bore.format("maple", 80)), block("bore", second))
    event = clean(
        run(
            block("mill", 'boards = ["maple", "cherry"]'),
            *holes,
            block("line", 'pieces = ["maple", "cherry"]\nlining = "felt"'),
        )
    )[-1]
    sizes = [value for key, value in event.settings if key == "cut to"]
    assert sizes == [pytest.approx((10, 10), rel=1e-2), pytest.approx((40, 10), rel=1e-2)]


def test_a_picture_points_at_the_lining_on_the_floor_and_not_on_what_is_only_a_little_lower(run: Run) -> None:
    hole = 'piece = "maple"\nface = "top"\nat = [["{} mm", "10 mm"]]\ndepth = "{} mm"\ndrill = "drill"'
    timeline = run(
        MILL,
        block("bore", hole.format(40, 4)),
        block("bore", hole.format(80, 15)),
        block("line", 'piece = "maple"\nlining = "felt"'),
    )
    event = clean(timeline)[3]
    assert event.show is not None
    (note,) = (cue for cue in event.show.cues if cue.kind == "note")
    top = event.made[0].solid.bounds[1][2]
    assert note.points
    assert all(point[2] == pytest.approx(top - 15) for point in note.points)


def test_a_lining_stays_with_its_piece_and_with_what_that_becomes_part_of(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("bore", 'piece = "maple"\nface = "top"\nat = [["80 mm", "10 mm"]]\ndepth = "15 mm"\ndrill = "drill"'),
        block("line", 'piece = "maple"\nlining = "felt"'),
        block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
        block("wait", 'dry = ["blank"]'),
        block("assemble", 'pieces = ["blank"]\nmoves = { blank = ["5 mm", "0 mm", "7 mm"] }'),
    )
    (lined,) = clean(timeline)[-1].made[0].lined
    (left, _, low), (right, _, _) = lined.layer.bounds
    assert (left, right) == (pytest.approx(80.0), pytest.approx(90.0))
    assert low == pytest.approx(60 - 15 + 7, abs=0.3)


def test_a_lining_is_measured_along_the_curve_that_it_covers() -> None:
    """A trough 40 mm wide: half a circle, which is 20 times pi long."""
    solid = block_of((-30, 0, -30), (30, 50, 0)).minus(
        prism(circle((0.0, 0.0), 20.0), FACE_FRAMES["front"], -51.0, 1.0)
    )
    floor = Area.of([(-20, 0), (20, 0), (20, 50), (-20, 50)])
    along = [_along(solid, floor, FACE_FRAMES["top"], ends) for ends in (((-20, 25), (20, 25)), ((0, 0), (0, 50)))]
    assert along == pytest.approx([20 * math.pi, 50], rel=0.01)
