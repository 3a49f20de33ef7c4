"""What is glued: boards, shims and plugs, against volumes and areas worked out by hand."""

import math

import pytest

from planbook.workshop.pieces import as_cut, member_solids, woods

from .conftest import BOARDS, MILL, STICK, Run, block, clean, lost, made, running

TWO_CUTS = """
[shapes.left]
kind = "circle"
at = ["25 mm", "30 mm"]
radius = "10 mm"
[shapes.right]
kind = "circle"
at = ["75 mm", "30 mm"]
radius = "10 mm"
[shapes."way left"]
kind = "line"
from = ["25 mm", "-5 mm"]
to = ["25 mm", "20 mm"]
[shapes."way right"]
kind = "line"
from = ["75 mm", "-5 mm"]
to = ["75 mm", "20 mm"]
[stencils.pair]
title = "Pair"
face = "front"
lines = { left = "left", right = "right", "way left" = "way left", "way right" = "way right" }
"""
run = running(BOARDS)
shimming = running(BOARDS + TWO_CUTS)


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
    # The cut runs up from below at x = 50: a clamp presses it together from the left and from the right.
    tips = sorted(cue.points[-1] for cue in events[4].show.cues if cue.kind == "clamp")
    assert [x for x, _, _ in tips] == pytest.approx([0, 100])
    assert len({(y, z) for _, y, z in tips}) == 1


def test_what_needs_no_clamps_shows_none(run: Run) -> None:
    cut = 'piece = "maple"\nface = "back"\nthickness = "5 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }'
    glue = 'pieces = ["b", "a"]\nalong = "y"\nglue = "glue"\nmakes = "board"'
    held, loose = (
        clean(run(MILL, block("slice", cut), block("glue", f"{glue}{more}")))[-1] for more in ("", '\nclamp = "0 min"')
    )
    assert [sum(cue.kind == "clamp" for cue in event.show.cues) for event in (held, loose)] == [2, 0]


def shim(side: str) -> str:
    return block(
        "shim", f'piece = "maple"\nstencil = "pair"\nline = "way {side}"\nshim = "{side} strip"\nglue = "glue"'
    )


def sawn_twice() -> tuple[str, ...]:
    """A board with two discs sawn out of it, and two strips as thick as the kerfs of their ways in, 1 mm."""
    saw = 'piece = "maple"\nstencil = "pair"\nblade = "saw"\nlines = ["{0}"]\nentry = ["way {0}"]\n'
    makes = 'makes = {{ "{0} disc" = "inside", maple = "outside" }}'
    strip = 'piece = "cherry"\nface = "back"\nthickness = "1 mm"\nblade = "saw"\n'
    strips = 'makes = {{ "{0} strip" = "layer", cherry = "rest" }}'
    return (
        block("mill", 'boards = ["maple", "cherry"]'),
        block("stick", 'piece = "maple"\nstencil = "pair"'),
        *(block("saw", (saw + makes).format(side)) for side in ("left", "right")),
        *(block("slice", (strip + strips).format(side)) for side in ("left", "right")),
    )


def test_shims_of_one_step_are_glued_in_one_go(shimming: Run) -> None:
    before = sawn_twice()
    events = clean(shimming(*before, shim("left") + shim("right")))
    # Each cut is 1 mm wide, in wood of 20 mm, from the edge to the outside of the kerf: 30 - 10 - 1 mm long.
    gains = [made(event)["maple"] - event.taken[0].solid.volume for event in events[-2:]]
    assert gains == [pytest.approx(1 * 20 * 19, rel=0.02)] * 2
    whole = events[-1].made[0].solid
    assert (whole.genus, len(whole.parts)) == (2, 1)
    # The board dries with the glue that was put on last, and whatever does not glue waits for all of it.
    assert events[-1].made[0].wet == pytest.approx(events[-1].start - events[-2].start + events[-2].made[0].wet)


def test_a_shim_of_a_later_step_waits_for_the_first(shimming: Run) -> None:
    (trouble,) = shimming(*sawn_twice(), shim("left"), shim("right")).troubles
    assert (trouble.kind, trouble.facts["piece"], trouble.step) == ("glue-still-wet", "maple", 8)
    clean(shimming(*sawn_twice(), shim("left"), block("wait", 'dry = ["maple"]'), shim("right")))


def test_what_is_no_gluing_waits_within_the_step_too(shimming: Run) -> None:
    bore = block("bore", 'piece = "maple"\nface = "top"\nat = [["50 mm", "10 mm"]]\ndepth = "5 mm"\ndrill = "drill"')
    (trouble,) = shimming(*sawn_twice(), shim("left") + bore).troubles
    assert (trouble.kind, trouble.step) == ("glue-still-wet", 7)


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
    told = dict(events[1].settings)
    assert (told["at"], told["measured from"]) == (((20.0, 30.0),), "the lower left corner")
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
    # Its glue goes around it as far as it goes in: 5 mm, from the floor of the hole.
    foot, mouth = next(cue.points for cue in events[3].show.cues if cue.kind == "glue face" and cue.piece == "knob")
    assert (foot, mouth) == (pytest.approx((50, 10, 55), abs=1e-3), pytest.approx((50, 10, 60), abs=1e-3))


def test_plugs_are_measured_from_the_corner_that_is_there(run: Run) -> None:
    cut = (
        'piece = "cherry"\nface = "front"\nat = [["-20 mm", "30 mm"]]\norigin = "lower right"\ndiameter = "10 mm"\n'
        'cutter = "cutter"\nmakes = ["knob"]\nrest = ["scrap"]'
    )
    milled, event = clean(run(block("mill", 'boards = ["maple", "cherry"]'), block("cut plugs", cut)))
    knob = next(piece for piece in event.made if piece.name == "knob").solid
    cherry = next(piece for piece in milled.made if piece.name == "cherry").solid
    assert cherry.bounds[1][0] - knob.middle[0] == pytest.approx(20, abs=1e-3)
    assert dict(event.settings)["measured from"] == "the lower right corner"


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
    # A plug sits in its hole by itself: no clamps hold it, but its glue has to dry.
    assert events[5].wait == 0
    assert events[5].made[0].wet > events[5].start + events[5].hands_on
