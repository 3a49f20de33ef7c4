"""Every operation on a small design: what it takes, makes and loses, against volumes worked out by hand."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from planbook.reader import read_design
from planbook.workshop import Event, Timeline
from planbook.workshop.pieces import as_cut, member_solids, woods
from planbook.workshop.registry import operations
from planbook.workshop.run import build

DESIGN = """
title = "Test block"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[sizes]
long = "100 mm"
[stock.maple]
wood = "sugar maple"
size = ["long", "20 mm", "60 mm"]
grain = "x"
[stock.cherry]
wood = "black cherry"
size = ["long", "20 mm", "60 mm"]
at = ["0 mm", "20 mm", "0 mm"]
grain = "x"
[shapes.disc]
kind = "circle"
at = ["50 mm", "30 mm"]
radius = "20 mm"
[shapes.stray]
kind = "circle"
at = ["150 mm", "30 mm"]
radius = "20 mm"
[shapes.way]
kind = "line"
from = ["50 mm", "-5 mm"]
to = ["50 mm", "10 mm"]
[shapes.halves]
kind = "line"
from = ["60 mm", "-5 mm"]
to = ["60 mm", "65 mm"]
[stencils.round]
title = "Round"
face = "front"
lines = { disc = "disc", stray = "stray", way = "way", halves = "halves" }
holes = { hole = { at = ["20 mm", "30 mm"], diameter = "10 mm" } }
regions = { left = ["10 mm", "30 mm"], right = ["90 mm", "30 mm"] }
[tools.saw]
kind = "band saw"
kerf = "1 mm"
[tools."narrow drill"]
kind = "drill"
diameter = "3 mm"
[tools.drill]
kind = "drill"
diameter = "10 mm"
[tools.cutter]
kind = "drill"
diameter = "10 mm"
kerf = "2 mm"
[tools.board]
kind = "hand sanding"
[supplies.glue]
kind = "glue"
product = "PVA"
[supplies.oil]
kind = "finish"
product = "danish oil"
[supplies.felt]
kind = "lining"
product = "self-adhesive felt"
"""

MILL = '```mill\nboards = ["maple"]\n```\n'
STICK = '```stick\npiece = "maple"\nstencil = "round"\n```\n'

Run = Callable[..., Timeline]


@pytest.fixture
def run(tmp_path: Path) -> Run:
    """Build the test design with these blocks, one step each."""

    def build_blocks(*blocks: str) -> Timeline:
        (tmp_path / "design.toml").write_text(DESIGN)
        steps = "\n".join(f"## Step {n}\n\nDo it.\n\n{block}\n" for n, block in enumerate(blocks, 1))
        (tmp_path / "steps.md").write_text(steps)
        reading = read_design(tmp_path)
        assert reading.design is not None, reading.findings
        return build(reading.design)

    return build_blocks


def block(kind: str, body: str) -> str:
    return f"```{kind}\n{body}\n```\n"


def clean(timeline: Timeline) -> tuple[Event, ...]:
    assert timeline.troubles == ()
    return timeline.events


def made(event: Event) -> dict[str, float]:
    return {piece.name: piece.solid.volume for piece in event.made}


def lost(event: Event) -> float:
    return sum(loss.volume for loss in event.lost)


def test_the_registry_finds_every_operation_of_the_first_set() -> None:
    wanted = {
        "mill",
        "glue up",
        "square",
        "stick",
        "peel",
        "saw",
        "slice",
        "trim",
        "bore",
        "sand to line",
        "sand face",
        "sand flush",
        "glue",
        "cut plugs",
        "plug",
        "shim",
        "round over",
        "finish",
        "line",
        "wait",
        "assemble",
        "dry fit",
        "set aside",
        "discard",
    }
    assert wanted <= set(operations())
    assert all(kind.__doc__ for kind in operations().values())


def test_mill_brings_a_board_of_its_finished_size(run: Run) -> None:
    (event,) = clean(run(MILL))
    assert made(event) == {"maple": pytest.approx(100 * 20 * 60)}


def test_glue_up_keeps_the_woods_and_measures_the_joint(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
    )
    event = clean(timeline)[1]
    assert made(event)["blank"] == pytest.approx(100 * 40 * 60)
    assert dict(event.settings)["mating area"] == pytest.approx(100 * 60)
    assert sorted(woods(event.made[0])) == ["black cherry", "sugar maple"]
    assert event.made[0].wet > event.start + event.hands_on + event.wait


def test_square_takes_the_same_from_opposite_sides(run: Run) -> None:
    event = clean(run(MILL, block("square", 'piece = "maple"\nto = ["90 mm", "18 mm", "60 mm"]')))[1]
    assert made(event)["maple"] == pytest.approx(90 * 18 * 60)
    lower, upper = event.made[0].solid.bounds
    assert (lower, upper) == (pytest.approx((5, 1, 0)), pytest.approx((95, 19, 60)))
    assert lost(event) == pytest.approx(100 * 20 * 60 - 90 * 18 * 60)


@pytest.mark.parametrize(("side", "inner", "outer"), [("outside", 20, 21), ("inside", 19, 20), ("centre", 19.5, 20.5)])
def test_saw_takes_its_kerf_on_the_side_asked_for(run: Run, side: str, inner: float, outer: float) -> None:
    body = (
        f'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\nkerf_side = "{side}"\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    event = clean(run(MILL, STICK, block("saw", body)))[2]
    assert made(event)["disc"] == pytest.approx(math.pi * inner**2 * 20, rel=2e-3)
    # The entry cut is 1 mm wide and goes from the lower edge to the outside of the kerf.
    slit = (30 - outer) * 1 * 20
    rim = 100 * 60 * 20 - math.pi * outer**2 * 20 - slit
    assert made(event)["rim"] == pytest.approx(rim, rel=2e-3)
    assert sum(made(event).values()) + lost(event) == pytest.approx(100 * 60 * 20, rel=1e-9)


def test_saw_leaves_an_allowance(run: Run) -> None:
    body = (
        'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\nleave = "0.5 mm"\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    sand = 'piece = "disc"\nstencil = "round"\nlines = ["disc"]\ntool = "board"'
    events = clean(run(MILL, STICK, block("saw", body), block("sand to line", sand)))
    assert made(events[2])["disc"] == pytest.approx(math.pi * 20.5**2 * 20, rel=2e-3)
    assert made(events[3])["disc"] == pytest.approx(math.pi * 20**2 * 20, rel=2e-3)
    assert lost(events[3]) == pytest.approx(math.pi * (20.5**2 - 20**2) * 20, rel=2e-2)


@pytest.mark.parametrize(
    ("lines", "kind", "told"),
    [(["disc", "stray"], "nothing-to-sand", ("stray",)), (["disc", "halves"], "line-not-closed", ("halves",))],
)
def test_every_line_that_is_sanded_to_must_be_closed_and_in_the_wood(
    run: Run, lines: list[str], kind: str, told: tuple[str, ...]
) -> None:
    sand = f'piece = "maple"\nstencil = "round"\nlines = {lines}\nkeep = "outside"\ntool = "board"'.replace("'", '"')
    (trouble,) = run(MILL, STICK, block("sand to line", sand)).troubles
    assert trouble.kind == kind
    assert tuple(trouble.facts["lines"]) == told


def test_saw_along_an_open_line_names_the_halves(run: Run) -> None:
    body = (
        'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["halves"]\nkerf_side = "centre"\n'
        'makes = { one = "left", two = "right" }'
    )
    event = clean(run(MILL, STICK, block("saw", body)))[2]
    assert made(event) == {"one": pytest.approx(59.5 * 1200), "two": pytest.approx(39.5 * 1200)}


def test_slice_and_trim_take_a_kerf(run: Run) -> None:
    timeline = run(
        MILL,
        block(
            "slice",
            'piece = "maple"\nface = "back"\nthickness = "5 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }',
        ),
        block("trim", 'piece = "a"\nface = "left"\nblade = "saw"\ntake = "10 mm"\noffcut = "end"'),
        block("trim", 'piece = "b"\nface = "top"\nblade = "saw"\nto = "50 mm"'),
    )
    _, slice_, first, second = clean(timeline)
    assert made(slice_) == {"a": pytest.approx(5 * 6000), "b": pytest.approx(14 * 6000)}
    assert lost(slice_) == pytest.approx(6000)
    assert made(first) == {"a": pytest.approx(90 * 5 * 60), "end": pytest.approx(9 * 5 * 60)}
    assert made(second) == {"b": pytest.approx(100 * 14 * 50)}
    assert {loss.how for loss in second.lost} == {"kerf", "trim"}
    (line,) = second.show.cues
    assert (line.kind, line.piece) == ("cut line", "b")
    assert line.points[0] == line.points[-1]
    assert {round(z, 3) for _, _, z in line.points} == {50.0}
    assert [max(p[k] for p in line.points) - min(p[k] for p in line.points) for k in (0, 1)] == pytest.approx([100, 14])


def test_an_operation_may_act_on_several_pieces(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block(
            "slice",
            'pieces = ["maple", "cherry"]\nface = "top"\nthickness = "10 mm"\nblade = "saw"\n'
            'makes = { "* strip" = "layer", "* board" = "rest" }',
        ),
    )
    event = clean(timeline)[1]
    assert set(made(event)) == {"maple strip", "maple board", "cherry strip", "cherry board"}


def test_bore_takes_the_drill_s_volume(run: Run) -> None:
    through = block("bore", 'piece = "maple"\nstencil = "round"\ndrill = "drill"')
    blind = block("bore", 'piece = "maple"\nface = "top"\nat = [["80 mm", "10 mm"]]\ndepth = "15 mm"\ndrill = "drill"')
    events = clean(run(MILL, STICK, through, blind))
    assert lost(events[2]) == pytest.approx(math.pi * 25 * 20, rel=1e-2)
    assert lost(events[3]) == pytest.approx(math.pi * 25 * 15, rel=1e-2)
    assert events[3].made[0].solid.genus == 1


def test_a_hole_is_as_deep_as_it_says_where_the_drill_meets_the_wood(run: Run) -> None:
    chamfered = block("chamfer", 'piece = "maple"\nfaces = ["top"]\nsides = ["front"]\nwidth = "15 mm"\ntool = "board"')
    where = 'face = "top"\nat = [["50 mm", "7 mm"]]\ndepth = "15 mm"\ndrill = "drill"'
    events = clean(run(MILL, chamfered, block("bore", f'piece = "maple"\n{where}')))
    (high,) = events[1].made[0].solid.hits((50.0, 7.0, 100.0), (50.0, 7.0, 40.0))
    (floor,) = events[2].made[0].solid.hits((50.0, 7.0, 100.0), (50.0, 7.0, 35.0))
    assert 100.0 - high == pytest.approx(60 - (15 - 7))
    # The rim of the hole of 10 mm is highest 12 mm from the front; there a depth stop touches.
    assert 100.0 - floor == pytest.approx(60 - (15 - 12) - 15)


def test_sunk_holes_are_as_deep_as_they_say_where_their_drills_meet_the_wood(run: Run) -> None:
    chamfered = block("chamfer", 'piece = "maple"\nfaces = ["top"]\nsides = ["front"]\nwidth = "15 mm"\ntool = "board"')
    where = 'piece = "maple"\nface = "top"\nat = [["50 mm", "7 mm"]]\ndrill = "drill"'
    flat = clean(run(MILL, chamfered, block("counterbore", f'{where}\ndepth = "15 mm"')))[2]
    cone = clean(run(MILL, chamfered, block("countersink", f'{where}\ndiameter = "8 mm"\nangle = "60 deg"')))[2]
    # As for a bored hole: 12 mm from the front is the highest place of a rim of 10 mm, and 11 mm that of one of 8 mm.
    (floor,) = flat.made[0].solid.hits((50.0, 7.0, 100.0), (50.0, 7.0, 35.0))
    tip, *_ = cone.made[0].solid.hits((50.0, 7.0, 100.0), (50.0, 7.0, 35.0))
    assert 100.0 - floor == pytest.approx(60 - (15 - 12) - 15)
    assert 100.0 - tip == pytest.approx(60 - (15 - 11) - 4 * math.sqrt(3), abs=0.01)


def test_sand_face_and_sand_flush_take_what_they_say(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("sand face", 'piece = "cherry"\nfaces = ["top", "left"]\ntake = "0.5 mm"\ntool = "board"'),
        block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
        block("wait", 'dry = ["blank"]'),
        block("sand flush", 'piece = "blank"\nfaces = ["top", "left"]\ntool = "board"'),
    )
    events = clean(timeline)
    assert made(events[1])["cherry"] == pytest.approx(99.5 * 20 * 59.5)
    assert made(events[4])["blank"] == pytest.approx(99.5 * 40 * 59.5)


def test_glue_closes_the_kerf(run: Run) -> None:
    timeline = run(
        MILL,
        block(
            "slice",
            'piece = "maple"\nface = "back"\nthickness = "5 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }',
        ),
        block("glue", 'pieces = ["b", "a"]\nalong = "y"\nglue = "glue"\nmakes = "board"'),
    )
    event = clean(timeline)[2]
    assert event.made[0].solid.extent[1] == pytest.approx(19, abs=1e-5)
    assert dict(event.settings)["mating area"] == pytest.approx(6000, rel=1e-6)
    assert len(event.made[0].solid.parts) == 1


def test_clamps_press_on_wood_and_not_on_a_hole_in_the_middle(run: Run) -> None:
    cut = 'piece = "maple"\nface = "back"\nthickness = "5 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }'
    bored = block("bore", 'piece = "maple"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndrill = "drill"')
    glue = block("glue", 'pieces = ["b", "a"]\nalong = "y"\nglue = "glue"\nmakes = "board"')
    whole, holed = (clean(run(MILL, *before, block("slice", cut), glue))[-1] for before in ((), (bored,)))
    tips = [[cue.points[-1] for cue in event.show.cues if cue.kind == "clamp"] for event in (whole, holed)]
    assert [(x, z) for x, _, z in tips[0]] == [pytest.approx((50, 30))] * 2
    (x, _, z), (u, _, w) = tips[1]
    assert (x, z) == (u, w)
    assert 5 < math.dist((x, z), (50, 30)) < 50
    assert 0 < x < 100
    assert 0 < z < 60


def test_glue_goes_on_the_faces_that_meet(run: Run) -> None:
    cut = 'piece = "maple"\nface = "back"\nthickness = "5 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }'
    glue = block("glue", 'pieces = ["b", "a"]\nalong = "y"\nglue = "glue"\nmakes = "board"')
    show = clean(run(MILL, block("slice", cut), glue))[-1].show
    cues = [cue for cue in show.cues if cue.kind == "glue face"]
    assert sorted(cue.piece for cue in cues) == ["a", "b"]  # a picture shows that which is turned to the reader
    for ring in (cue.points for cue in cues):
        assert {round(y, 3) for _, y, _ in ring} == {14.0}
        assert [max(p[k] for p in ring) - min(p[k] for p in ring) for k in (0, 2)] == [
            pytest.approx(100),
            pytest.approx(60),
        ]


def test_a_shim_fills_the_entry_cut(run: Run) -> None:
    saw = (
        'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        STICK,
        block("saw", saw),
        block(
            "slice",
            'piece = "cherry"\nface = "back"\nthickness = "1 mm"\nblade = "saw"\nmakes = { strip = "layer", rest = "rest" }',
        ),
        block("shim", 'piece = "rim"\nstencil = "round"\nline = "way"\nshim = "strip"\nglue = "glue"'),
    )
    events = clean(timeline)
    gain = made(events[4])["rim"] - made(events[2])["rim"]
    assert gain == pytest.approx(1 * 20 * 9, rel=0.02)
    assert events[4].made[0].solid.genus == 1
    assert "black cherry" in woods(events[4].made[0])
    # It is shown before the mouth of its cut, wholly outside the wood.
    piece, strip = events[4].show.pieces
    assert strip.piece.solid.moved(strip.apart).meet(piece.piece.solid).empty
    assert strip.piece.solid.bounds[1][1] + strip.apart[1] < piece.piece.solid.bounds[0][1]
    # An arrow behind it points the way in.
    (tail, tip) = next(
        cue.points for cue in events[4].show.cues if cue.kind == "push" and cue.piece == strip.piece.name
    )
    assert tip[1] == pytest.approx(strip.piece.solid.bounds[0][1])
    assert (tail[0], tail[2]) == pytest.approx((tip[0], tip[2]))
    assert tail[1] < tip[1]
    # Glue goes on both of its sides, over their whole length: the cut is 20 mm long and the wood 9 mm thick.
    sides = [cue for cue in events[4].show.cues if cue.kind == "glue face"]
    assert {cue.piece for cue in sides} == {"strip"}
    areas = [math.dist(c.points[0], c.points[1]) * math.dist(c.points[1], c.points[2]) for c in sides]
    assert sum(areas) == pytest.approx(2 * 20 * 9, rel=0.06)


def test_plugs_are_cut_and_set(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block(
            "cut plugs",
            'piece = "cherry"\nface = "front"\nat = [["20 mm", "30 mm"]]\ndiameter = "10 mm"\ncutter = "cutter"\n'
            'makes = ["knob"]\nrest = ["scrap"]',
        ),
        block(
            "bore",
            'piece = "maple"\nface = "top"\nat = [["50 mm", "10 mm"]]\ndepth = "5 mm"\ndrill = "drill"',
        ),
        block("plug", 'piece = "maple"\nplug = "knob"\nface = "top"\nat = ["50 mm", "10 mm"]\nglue = "glue"'),
    )
    events = clean(timeline)
    assert made(events[1])["knob"] == pytest.approx(math.pi * 25 * 20, rel=1e-2)
    assert lost(events[1]) == pytest.approx(math.pi * (49 - 25) * 20, rel=1e-2)
    assert events[3].made[0].solid.extent[2] == pytest.approx(60 + 20 - 5, abs=1e-3)
    assert dict(events[3].settings)["mating area"] == pytest.approx(math.pi * 25 + math.pi * 10 * 5, rel=2e-2)
    assert {m.wood: m.grain for m, _ in member_solids(events[3].made[0])}["black cherry"][0] == pytest.approx(1)
    bored, plugged = events[3].taken[0].solid, events[3].made[0]
    assert as_cut(plugged, {"knob"}).solid.volume == pytest.approx(bored.volume, abs=2.5)  # a skin of 0.01 mm
    assert as_cut(plugged, {"knob"}).solid.extent == pytest.approx(bored.extent)
    assert woods(as_cut(plugged, {"knob"})) == ("sugar maple",)
    assert as_cut(plugged, set()) is plugged


def test_a_plug_rests_on_the_rim_of_a_screw_hole_and_its_neighbour_need_not_wait(run: Run) -> None:
    hole = 'piece = "maple"\nface = "top"\nat = [["30 mm", "10 mm"], ["70 mm", "10 mm"]]\n'
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block(
            "cut plugs",
            'piece = "cherry"\nface = "front"\nat = [["20 mm", "30 mm"], ["50 mm", "30 mm"]]\ndiameter = "10 mm"\n'
            'cutter = "cutter"\nmakes = ["first", "second"]\nrest = ["scrap"]',
        ),
        block("counterbore", f'{hole}depth = "6 mm"\ndrill = "drill"'),
        block("bore", f'{hole}depth = "40 mm"\ndrill = "narrow drill"'),
        block("plug", 'piece = "maple"\nplug = "first"\nface = "top"\nat = ["30 mm", "10 mm"]\nglue = "glue"')
        + block("plug", 'piece = "maple"\nplug = "second"\nface = "top"\nat = ["70 mm", "10 mm"]\nglue = "glue"'),
    )
    events = clean(timeline)
    assert events[5].made[0].solid.extent[2] == pytest.approx(60 + 20 - 6, abs=1e-3)
    assert len(events[5].made[0].solid.parts) == 1


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
    assert {t.how for t in events[5].made[0].treated} >= {"sawn", "sanded"}
    assert "finished" in {t.how for t in events[6].made[0].treated}
    assert events[6].uses[0].amount == pytest.approx(2 * events[6].made[0].solid.surface / 1e6)
    assert events[7].wait == 90


def test_a_wall_of_an_opening_is_lined_and_a_round_one_is_refused(run: Run) -> None:
    hole = block("bore", 'piece = "maple"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndepth = "10 mm"\ndrill = "drill"')
    line = 'piece = "maple"\nlining = "felt"\nopening = "front"\nwalls = ["{}"]'
    event = clean(run(MILL, hole, block("line", line.format("back"))))[2]
    assert dict(event.settings)["area"] == pytest.approx(math.pi * 25, rel=0.05)
    assert event.show is not None
    assert {cue.kind for cue in event.show.cues} == {"lining", "note"}
    for wall in ("bottom", "front"):
        (trouble,) = run(MILL, hole, block("line", line.format(wall))).troubles
        assert (trouble.kind, trouble.facts["wall"]) == ("no-hollow", wall)


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


def test_fates_tell_what_became_of_everything(run: Run) -> None:
    slice_ = 'piece = "maple"\nface = "top"\nthickness = "10 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }'
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("slice", slice_),
        block("discard", 'pieces = ["a"]'),
        block("set aside", 'pieces = ["b"]'),
        block("assemble", 'pieces = ["cherry"]\nmoves = { cherry = ["5 mm", "0 mm", "0 mm"] }'),
    )
    assert {name: fate.ending for name, fate in timeline.fates.items()} == {
        "cherry": "part",
        "a": "discarded",
        "b": "kept",
    }
    assert timeline.object[0].solid.bounds[0][0] == pytest.approx(5)


def test_a_measurement_is_taken_at_that_moment(run: Run) -> None:
    timeline = run(
        MILL,
        block("trim", 'piece = "maple"\nface = "left"\nblade = "saw"\ntake = "10 mm"'),
        block("trim", 'piece = "maple"\nface = "top"\nblade = "saw"\nto = \'width of "maple" / 2\''),
    )
    assert clean(timeline)[2].made[0].solid.extent == pytest.approx((90, 20, 45))


@pytest.mark.parametrize(
    ("blocks", "kinds"),
    [
        (
            (
                block(
                    "slice",
                    'piece = "maple"\nface = "top"\nthickness = "1 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }',
                ),
                MILL,
            ),
            ["piece-not-made-yet"],
        ),
        (
            (MILL, block("discard", 'pieces = ["maple"]'), block("discard", 'pieces = ["maple"]')),
            ["piece-already-used"],
        ),
        ((MILL, block("discard", 'pieces = ["mable"]')), ["piece-unknown"]),
        ((MILL, block("polish", "")), ["unknown-operation"]),
        (
            (MILL, block("trim", 'piece = "maple"\nface = "up"\nblade = "saw"\ntoo = "1 mm"')),
            ["unknown-field", "wrong-choice"],
        ),
        (
            (MILL, block("trim", 'piece = "maple"\nface = "top"\nblade = "saw"\nto = "long + 5 deg"')),
            ["bad-formula"],
        ),
        (
            (
                MILL,
                STICK,
                block(
                    "saw",
                    'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nmakes = { a = "inside", b = "outside" }',
                ),
            ),
            ["no-way-in"],
        ),
        (
            (
                MILL,
                STICK,
                block(
                    "saw",
                    'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["halves"]\nkerf_side = "centre"\nmakes = { a = "left" }',
                ),
            ),
            ["part-without-name"],
        ),
        (
            (
                MILL,
                block("saw", 'piece = "maple"\nstencil = "round"\nblade = "saw"\nmakes = { a = "inside" }'),
            ),
            ["stencil-not-stuck"],
        ),
        (
            (
                MILL,
                STICK,
                block("sand face", 'piece = "maple"\nfaces = ["front"]\ntake = "1 mm"\ntool = "board"'),
                block("saw", 'piece = "maple"\nstencil = "round"\nblade = "saw"\nmakes = { a = "inside" }'),
            ),
            ["stencil-face-gone"],
        ),
        (
            (
                block("mill", 'boards = ["maple", "cherry"]'),
                block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
                block("discard", 'pieces = ["blank"]'),
                block("mill", 'boards = ["maple"]'),
            ),
            ["piece-made-twice"],
        ),
        (
            (
                block("mill", 'boards = ["maple", "cherry"]'),
                block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
                block("square", 'piece = "blank"\nto = ["10 mm", "10 mm", "10 mm"]'),
            ),
            ["glue-still-wet"],
        ),
        (
            (
                MILL,
                block("bore", 'piece = "maple"\nface = "front"\nat = [["500 mm", "0 mm"]]\ndrill = "drill"'),
            ),
            ["hole-misses"],
        ),
        (
            (
                MILL,
                block("bore", 'piece = "maple"\nface = "front"\nat = [["2 mm", "30 mm"]]\ndrill = "drill"'),
            ),
            ["hole-breaks-out"],
        ),
        (
            (
                MILL,
                block(
                    "bore",
                    'piece = "maple"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndepth = "25 mm"\ndrill = "drill"',
                ),
            ),
            ["hole-too-deep"],
        ),
    ],
)
def test_what_cannot_be_done_is_a_trouble(run: Run, blocks: tuple[str, ...], kinds: list[str]) -> None:
    assert sorted(trouble.kind for trouble in run(*blocks).troubles) == sorted(kinds)


def test_a_broken_piece_causes_no_cascade(run: Run) -> None:
    timeline = run(
        MILL,
        block(
            "slice",
            'piece = "maple"\nface = "top"\nthickness = "70 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }',
        ),
        block("discard", 'pieces = ["a"]'),
        block("sand face", 'piece = "b"\nfaces = ["top"]\ntake = "1 mm"\ntool = "board"'),
        block("discard", 'pieces = ["maple"]'),
    )
    assert [trouble.kind for trouble in timeline.troubles] == ["cut-misses"]


def test_the_same_design_builds_the_same_way_twice(run: Run) -> None:
    one, two = (
        run(MILL, STICK, block("bore", 'piece = "maple"\nstencil = "round"\ndrill = "drill"')) for _ in range(2)
    )
    assert one.events[2].made[0].solid.mesh[0].tobytes() == two.events[2].made[0].solid.mesh[0].tobytes()
