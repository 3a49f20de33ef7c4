"""Straight cuts, joints, edges, templates, masks and hardware, against volumes worked out by hand."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import trimesh

from planbook.reader import read_design
from planbook.solids import FACE_FRAMES
from planbook.workshop import Event, Timeline
from planbook.workshop.run import build

DESIGN = """
title = "Joints"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock.rail]
wood = "sugar maple"
size = ["100 mm", "20 mm", "60 mm"]
grain = "x"
[stock.post]
wood = "black cherry"
size = ["20 mm", "20 mm", "60 mm"]
at = ["100 mm", "0 mm", "0 mm"]
grain = "z"
[stock.pattern]
wood = "birch plywood"
size = ["90 mm", "6 mm", "50 mm"]
at = ["5 mm", "40 mm", "5 mm"]
grain = "x"
[shapes.disc]
kind = "circle"
at = ["50 mm", "30 mm"]
radius = "20 mm"
[shapes.way]
kind = "line"
from = ["50 mm", "-5 mm"]
to = ["50 mm", "10 mm"]
[stencils.round]
title = "Round"
face = "front"
lines = { disc = "disc", way = "way" }
holes = { screw = { at = ["20 mm", "30 mm"], diameter = "4 mm" } }
[tools.saw]
kind = "table saw"
kerf = "2 mm"
[tools.blade]
kind = "band saw"
kerf = "1 mm"
[tools.bit]
kind = "router"
diameter = "6 mm"
[tools."wide drill"]
kind = "drill"
diameter = "10 mm"
[tools.drill]
kind = "drill"
diameter = "4 mm"
[tools.sink]
kind = "other"
[supplies.tape]
kind = "other"
[supplies.oil]
kind = "finish"
product = "danish oil"
[supplies.hinge]
kind = "hardware"
[supplies.screw]
kind = "hardware"
[supplies.peg]
kind = "hardware"
"""
WHOLE = 100 * 20 * 60
MILL = '```mill\nboards = ["rail", "post", "pattern"]\n```\n'

Run = Callable[..., Timeline]


@pytest.fixture
def run(tmp_path: Path) -> Run:
    """Mill the boards, then carry these blocks out, one step each."""

    def build_blocks(*blocks: str) -> Timeline:
        (tmp_path / "design.toml").write_text(DESIGN)
        steps = "\n".join(f"## Step {n}\n\nDo it.\n\n{block}\n" for n, block in enumerate((MILL, *blocks), 1))
        (tmp_path / "steps.md").write_text(steps)
        reading = read_design(tmp_path)
        assert reading.design is not None, reading.findings
        return build(reading.design)

    return build_blocks


def block(kind: str, body: str) -> str:
    return f"```{kind}\n{body}\n```\n"


def clean(timeline: Timeline) -> tuple[Event, ...]:
    assert timeline.troubles == ()
    assert all(event.show and event.show.pieces for event in timeline.events)
    assert all(event.hands_on > 0 for event in timeline.events)
    return timeline.events[1:]


def made(event: Event) -> dict[str, float]:
    return {piece.name: piece.solid.volume for piece in event.made}


def lost(event: Event) -> float:
    return sum(loss.volume for loss in event.lost)


def disc(radius: float) -> float:
    """The area of a round hole as it is cut: a polygon whose chords stay within 0.02 mm of the circle."""
    turn = min(math.pi / 8, 2 * math.acos(1 - 0.02 / radius))
    corners = 4 * math.ceil(math.pi / 2 / turn)
    return corners / 2 * radius**2 * math.sin(2 * math.pi / corners)


def test_rip_takes_a_kerf_beyond_the_fence(run: Run) -> None:
    (event,) = clean(
        run(block("rip", 'piece = "rail"\nface = "top"\nwidth = "40 mm"\nblade = "saw"\noffcut = "strip"'))
    )
    assert made(event) == {"rail": pytest.approx(100 * 20 * 40), "strip": pytest.approx(100 * 20 * 18)}
    assert lost(event) == pytest.approx(100 * 20 * 2)
    assert event.uses[0].amount == pytest.approx(0.1)


def test_crosscut_of_a_last_bit_narrower_than_the_kerf(run: Run) -> None:
    (event,) = clean(run(block("crosscut", 'piece = "rail"\nface = "left"\nlength = "99 mm"\nblade = "saw"')))
    assert made(event) == {"rail": pytest.approx(99 * 20 * 60)}
    assert lost(event) == pytest.approx(20 * 60)
    assert event.made[0].solid.bounds[0][0] == pytest.approx(1)


def test_the_wrong_way_of_the_grain_is_doubted_and_done(run: Run) -> None:
    timeline = run(
        block("rip", 'piece = "rail"\nface = "right"\nwidth = "50 mm"\nblade = "saw"'),
        block("crosscut", 'piece = "post"\nface = "right"\nlength = "10 mm"\nblade = "saw"'),
        block(
            "dado",
            'piece = "rail"\nface = "front"\nedge = "top"\nat = "9 mm"\nwidth = "6 mm"\ndepth = "5 mm"\ntool = "bit"',
        ),
    )
    assert [t.kind for t in timeline.troubles] == ["against-the-grain"] * 3
    assert [t.facts["grain"] for t in timeline.troubles] == ["x", "z", "x"]
    assert len(timeline.events) == 4


def test_a_mitre_keeps_its_long_side(run: Run) -> None:
    body = 'piece = "rail"\nend = "right"\nlong = "top"\nangle = "45 deg"\nblade = "saw"\noffcut = "corner"'
    (event,) = clean(run(block("mitre", body)))
    assert made(event)["rail"] == pytest.approx((100 * 60 - 60 * 60 / 2) * 20)
    # The kerf is 2 mm across the cut, 2√2 mm along the bottom: so much less is the side of the corner.
    side = 60 - 2 * math.sqrt(2)
    assert made(event)["corner"] == pytest.approx(side**2 / 2 * 20)
    assert event.made[0].solid.extent[0] == pytest.approx(100)


def test_a_mitre_to_a_length_and_a_bevel(run: Run) -> None:
    mitre = 'piece = "rail"\nend = "left"\nlong = "front"\nangle = "30 deg"\nto = "90 mm"\nblade = "saw"'
    bevel = 'piece = "post"\nedge = "right"\nwide = "back"\nangle = "45 deg"\nblade = "saw"'
    first, second = clean(run(block("mitre", mitre), block("bevel", bevel)))
    short = 90 - 20 * math.tan(math.radians(30))
    assert made(first)["rail"] == pytest.approx((90 + short) / 2 * 20 * 60)
    assert made(second)["post"] == pytest.approx(20 * 20 / 2 * 60)


def test_counterbore_and_hole_are_two_cylinders(run: Run) -> None:
    body = 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"], ["70 mm", "30 mm"]]\ndrill = "wide drill"\ndepth = "8 mm"\nhole = "drill"'
    (event,) = clean(run(block("counterbore", body)))
    assert lost(event) == pytest.approx(2 * (disc(5) * 8 + disc(2) * 12), rel=1e-2)
    assert event.made[0].solid.genus == 2


def test_a_countersink_is_a_cone(run: Run) -> None:
    tip = 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"]]\ndrill = "sink"\ndiameter = "12 mm"'
    stub = 'piece = "rail"\nface = "front"\nat = [["70 mm", "30 mm"]]\ndrill = "sink"\ndiameter = "8 mm"\nangle = "82 deg"\nhole = "drill"'
    first, second = clean(run(block("countersink", tip), block("countersink", stub)))
    assert lost(first) == pytest.approx(math.pi / 3 * 6**2 * 6, rel=1e-2)  # 90 degrees: as deep as its radius
    deep = (4 - 2) / math.tan(math.radians(41))
    cone = math.pi / 3 * deep * (4**2 + 4 * 2 + 2**2)
    assert lost(second) == pytest.approx(cone + disc(2) * (20 - deep), rel=1e-2)
    assert dict(second.settings)["depth"] == pytest.approx(deep)
    top = second.made[0].solid.face(FACE_FRAMES["front"])
    assert 6000 - top.size == pytest.approx(disc(6) + disc(4), rel=1e-2)


def test_a_stencil_s_hole_may_be_countersunk(run: Run) -> None:
    stick = block("stick", 'piece = "rail"\nstencil = "round"')
    bore = block("bore", 'piece = "rail"\nstencil = "round"\ndrill = "drill"')
    sink = block("countersink", 'piece = "rail"\nstencil = "round"\ndrill = "sink"\ndiameter = "8 mm"')
    event = clean(run(stick, bore, sink))[2]
    # What lies outside the hole: a blunt cone 2 mm deep less the hole in it.
    assert lost(event) == pytest.approx(math.pi / 3 * 2 * (16 + 8 + 4) - disc(2) * 2, rel=2e-2)


def test_grooves_dados_and_rabbets(run: Run) -> None:
    groove = (
        'piece = "rail"\nface = "front"\nedge = "bottom"\nat = "10 mm"\nwidth = "6 mm"\ndepth = "5 mm"\ntool = "bit"'
    )
    stopped = groove.replace("bottom", "top") + '\nstops = ["15 mm", "0 mm"]'
    dado = 'piece = "rail"\nface = "back"\nedge = "right"\nat = "20 mm"\nwidth = "8 mm"\ndepth = "4 mm"\ntool = "saw"'
    rabbet = 'piece = "pattern"\nface = "back"\nedges = ["left", "top"]\nwidth = "7 mm"\ndepth = "3 mm"\ntool = "bit"'
    events = clean(run(block("groove", groove), block("groove", stopped), block("dado", dado), block("rabbet", rabbet)))
    assert [lost(e) for e in events] == [
        pytest.approx(100 * 6 * 5),
        pytest.approx(85 * 6 * 5),
        pytest.approx(60 * 8 * 4),
        pytest.approx((90 * 7 + 50 * 7 - 7 * 7) * 3),
    ]
    solid = events[1].made[0].solid
    # Seen from the front the stop is on the left, and the groove lies 10 to 16 mm below the top.
    assert solid.hits((5, -10, 47), (5, 30, 47))[0] == pytest.approx(10)
    assert solid.hits((20, -10, 47), (20, 30, 47))[0] == pytest.approx(15)
    # Seen from the back, 20 mm from the right end of the world.
    assert events[2].made[0].solid.hits((76, 30, 30), (76, -10, 30))[0] == pytest.approx(14)


@pytest.mark.parametrize(("ends", "area"), [("square", 30 * 8), ("round", 22 * 8 + math.pi * 16)])
def test_mortises_are_pockets(run: Run, ends: str, area: float) -> None:
    body = (
        'piece = "rail"\nface = "front"\norigin = "middle"\nat = [["0 mm", "0 mm"]]\nlength = "30 mm"\nwidth = "8 mm"\n'
        f'tool = "bit"\nends = "{ends}"'
    )
    deep, through = clean(run(block("mortise", body + '\ndepth = "12 mm"'), block("mortise", body + '\nlie = "up"')))
    assert lost(deep) == pytest.approx(area * 12, rel=5e-3)
    assert deep.made[0].solid.genus == 0
    assert through.made[0].solid.genus == 1


def test_a_tenon_has_shoulders(run: Run) -> None:
    plain = 'piece = "rail"\nend = "right"\nlength = "15 mm"\nsize = ["8 mm", "40 mm"]\ntool = "saw"'
    bare = 'piece = "rail"\nend = "left"\nlength = "10 mm"\nsize = ["20 mm", "40 mm"]\nshift = ["0 mm", "5 mm"]\ntool = "saw"'
    round_ = 'piece = "post"\nend = "top"\nlength = "10 mm"\nsize = ["8 mm", "16 mm"]\ntool = "bit"\nends = "round"'
    first, second, third = clean(run(*(block("tenon", body) for body in (plain, bare, round_))))
    assert lost(first) == pytest.approx(15 * (20 * 60 - 8 * 40))
    assert lost(second) == pytest.approx(10 * 20 * 20)
    assert second.made[0].solid.hits((5, 10, 100), (5, 10, -10))[0] == pytest.approx(100 - 55)
    assert lost(third) == pytest.approx(10 * (400 - (8 * 8 + math.pi * 16)), rel=5e-3)


def test_dowel_holes_meet(run: Run) -> None:
    body = (
        'pieces = ["rail", "post"]\nface = "right"\nat = [["10 mm", "15 mm"], ["6 mm", "45 mm"]]\ndrill = "drill"\n'
        'depth = "18 mm"\nother_depth = "12 mm"\ndowels = "peg"'
    )
    (event,) = clean(run(block("dowel holes", body)))
    gone = made(event)
    assert gone["rail"] == pytest.approx(WHOLE - 2 * disc(2) * 18, rel=1e-4)
    assert gone["post"] == pytest.approx(20 * 20 * 60 - 2 * disc(2) * 12, rel=1e-4)
    rail, post = (piece.solid for piece in event.made)
    assert dict(event.settings)["at on the other"] == (pytest.approx((10, 15)), pytest.approx((14, 45)))
    assert len(rail.hits((60, 6, 45), (101, 6, 45))) == 1
    assert post.hits((99, 6, 45), (130, 6, 45)) == pytest.approx([13, 21])
    assert {use.name: use.amount for use in event.uses} == {"drill": 4, "peg": 2}


def test_dowel_holes_of_pieces_that_are_brought_together(run: Run) -> None:
    body = (
        'pieces = ["rail", "pattern"]\nface = "back"\nat = [["50 mm", "30 mm"]]\ndrill = "drill"\ndepth = "10 mm"\n'
        'other_depth = "4 mm"\nmoves = { pattern = ["10 mm", "-20 mm", "0 mm"] }\nother_at = [["55 mm", "25 mm"]]'
    )
    timeline = run(block("dowel holes", body))
    # The pattern comes to lie from x = 15 on: the middle of the rail is at 35 mm from its left.
    (trouble,) = timeline.troubles
    assert trouble.kind == "holes-do-not-meet"
    assert (trouble.facts["far"], trouble.facts["at"]) == (pytest.approx(20), pytest.approx((35, 25)))
    (event,) = clean(run(block("dowel holes", body.replace("55 mm", "35 mm"))))
    assert lost(event) == pytest.approx(disc(2) * 14, rel=1e-2)


def quarter(radius: float) -> float:
    """The area between a corner and its rounding."""
    return radius**2 * (1 - math.pi / 4)


def test_straight_edges_are_rounded_and_chamfered(run: Run) -> None:
    rounded = 'piece = "rail"\nfaces = ["front"]\nsides = ["top", "bottom"]\nradius = "8 mm"\ntool = "bit"'
    chamfer = 'piece = "post"\nfaces = ["top"]\nsides = ["right"]\nwidth = "3 mm"\ntool = "bit"'
    first, second = clean(run(block("round over", rounded), block("chamfer", chamfer)))
    assert lost(first) == pytest.approx(2 * 100 * quarter(8), rel=3e-2)
    assert lost(second) == pytest.approx(20 * 3 * 3 / 2)
    assert dict(first.settings)["recorded"] == ""


def test_a_whole_outline_is_chamfered(run: Run) -> None:
    body = 'piece = "rail"\nfaces = ["front"]\noutline = "outer"\nwidth = "3 mm"\ntool = "bit"'
    (event,) = clean(run(block("chamfer", body)))
    # A frustum: the face is smaller by 3 mm all round, 3 mm above the full section.
    full, small, middle = 100 * 60, 94 * 54, 97 * 57
    assert lost(event) == pytest.approx(3 * full - 3 / 6 * (full + 4 * middle + small), rel=1e-4)


def test_round_outlines_are_rounded_inside_and_out(run: Run) -> None:
    saw = (
        'piece = "rail"\nstencil = "round"\nlines = ["disc"]\nentry = ["way"]\nblade = "blade"\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    timeline = run(
        block("stick", 'piece = "rail"\nstencil = "round"'),
        block("saw", saw),
        block(
            "round over", 'piece = "disc"\nfaces = ["front", "back"]\noutline = "all"\nradius = "6 mm"\ntool = "bit"'
        ),
        block("bore", 'piece = "post"\nface = "front"\nat = [["10 mm", "30 mm"]]\ndrill = "wide drill"'),
        block("chamfer", 'piece = "post"\nfaces = ["front"]\noutline = "inner"\nwidth = "2 mm"\ntool = "bit"'),
    )
    events = clean(timeline)
    # Pappus: the section goes round on the path of its centre of gravity, 0.2234 of the radius from the corner.
    path = 2 * math.pi * (20 - 0.2234 * 6)
    assert lost(events[2]) == pytest.approx(2 * quarter(6) * path, rel=3e-2)
    assert lost(events[4]) == pytest.approx(2 * 2 / 2 * 2 * math.pi * (5 + 2 / 3), rel=1e-2)
    assert all(dict(events[n].settings)["recorded"] == "" for n in (2, 4))


def test_edges_that_are_not_named_are_only_recorded(run: Run) -> None:
    body = 'piece = "rail"\nfaces = ["front"]\nradius = "2 mm"\nedges = "all around"\ntool = "bit"'
    (event,) = clean(run(block("round over", body)))
    assert made(event) == {"rail": pytest.approx(WHOLE)}
    assert "square" in str(dict(event.settings)["recorded"])
    assert event.uses[0].amount == pytest.approx(0.32)


def test_the_line_of_a_rounded_rim_lies_on_the_wood_and_runs_all_around(run: Run) -> None:
    body = 'piece = "rail"\nfaces = ["front"]\noutline = "outer"\nradius = "8 mm"\ntool = "bit"'
    (event,) = clean(run(block("round over", body)))
    ((cue,), solid) = event.show.cues, event.made[0].solid
    assert cue.points[0] == cue.points[-1]
    mesh = trimesh.Trimesh(*solid.mesh, process=False)
    # An independent reading of the distance to the surface.
    _, far, _ = trimesh.proximity.closest_point_naive(mesh, np.array(cue.points))
    assert max(far) < 1e-6
    # An arc of 8 mm, a quarter of the way round: its tangent leans 22.5 degrees from the face.
    (low, _), turn = solid.bounds, math.radians(22.5)
    assert min(x for x, _, _ in cue.points) - low[0] == pytest.approx(8 * (1 - math.sin(turn)), abs=0.9)
    assert min(y for _, y, _ in cue.points) - low[1] == pytest.approx(8 * (1 - math.cos(turn)), abs=0.4)


def test_no_edge_is_marked_where_the_wood_goes_on_before_the_face(run: Run) -> None:
    step = 'piece = "rail"\nface = "right"\nedges = ["top"]\nwidth = "45 mm"\ndepth = "5 mm"\ntool = "saw"'
    rounded = block("round over", 'piece = "rail"\nfaces = ["right"]\nradius = "2 mm"\ntool = "bit"')
    whole, stepped = clean(run(rounded))[0], clean(run(block("rabbet", step), rounded))[1]
    assert whole.uses[0].amount == pytest.approx(2 * (0.02 + 0.06))
    # The larger part of the end lies 5 mm deeper: three of its sides are edges, the fourth is the foot of the step.
    assert stepped.uses[0].amount == pytest.approx(0.02 + 2 * 0.045, abs=0.003)
    (cue,) = stepped.show.cues
    assert min(z for _, _, z in cue.points) == pytest.approx(15, abs=1.5)
    assert cue.points[0] != cue.points[-1]


def test_one_of_several_rims_is_told_by_a_point_near_it(run: Run) -> None:
    bore = block(
        "bore", 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"], ["70 mm", "30 mm"]]\ndrill = "wide drill"'
    )
    body = 'piece = "rail"\nfaces = ["front", "back"]\noutline = "inner"\nwidth = "2 mm"\ntool = "bit"\n'
    both, one = (clean(run(bore, block("chamfer", body + rim)))[1] for rim in ("", 'rim = ["20 mm", "0 mm"]'))
    assert lost(one) == pytest.approx(lost(both) / 2, rel=1e-6)
    # To the right on the front is to the left on the back: the point names another hole there.
    assert {round(x) > 50 for cue in one.show.cues for x, _, _ in cue.points} == {True, False}
    square = 'piece = "rail"\nfaces = ["front"]\nwidth = "2 mm"\ntool = "bit"\nrim = ["0 mm", "30 mm"]'
    event = clean(run(bore, block("chamfer", square)))[1]
    assert event.uses[0].amount == pytest.approx(0.32)  # the outer rim alone, 100 by 60 mm, and no hole


def test_wood_that_stands_before_a_face_is_not_cut_along_its_rim(run: Run) -> None:
    step = 'piece = "rail"\nface = "right"\nedges = ["top"]\nwidth = "45 mm"\ndepth = "5 mm"\ntool = "saw"'
    body = 'piece = "rail"\nfaces = ["right"]\noutline = "outer"\nwidth = "2 mm"\ntool = "bit"'
    stepped, worked = clean(run(block("rabbet", step), block("chamfer", body)))
    before, after = stepped.made[0].solid, worked.made[0].solid
    frame = FACE_FRAMES["right"]
    for level in (95.5, 97.0, 99.0):  # the upper step, 15 mm high, stands on the lower one as it did
        assert after.section(frame, level).size == pytest.approx(20 * 15)
    # One side of 20 mm and two that end as far from the step as the chamfer is wide; two mitres of 2 by 2 mm.
    assert before.volume - after.volume == pytest.approx(2 * 2 / 2 * (20 + 2 * 43) - 2 * 2**3 / 3, rel=1e-3)
    assert dict(worked.settings)["recorded"] == ""
    assert worked.uses[0].amount == pytest.approx(0.02 + 2 * 0.045, abs=0.003)


def test_a_knob_in_front_of_a_face_leaves_its_rim_the_one_that_is_rounded(run: Run) -> None:
    tenon = block("tenon", TENON)
    event = clean(
        run(
            tenon,
            block("chamfer", 'piece = "rail"\nfaces = ["right"]\noutline = "outer"\nwidth = "2 mm"\ntool = "bit"'),
        )
    )[1]
    # The shoulders are the larger flat face: 20 by 60 mm, not the end of the tenon.
    full, small, middle = 20 * 60, 16 * 56, 18 * 58
    assert lost(event) == pytest.approx(2 * full - 2 / 6 * (full + 4 * middle + small), rel=1e-3)


def test_an_outline_too_tight_for_the_radius_is_only_recorded(run: Run) -> None:
    bore = block("bore", 'piece = "rail"\nface = "front"\nat = [["1 mm", "30 mm"]]\ndrill = "wide drill"')
    over = block("round over", 'piece = "rail"\nfaces = ["front"]\noutline = "outer"\nradius = "9 mm"\ntool = "bit"')
    timeline = run(bore, over)
    event = timeline.events[2]
    assert lost(event) == 0
    assert "too tightly" in str(dict(event.settings)["recorded"])


def test_a_template_is_copied_as_it_lies_or_aligned(run: Run) -> None:
    body = 'piece = "rail"\ntemplate = "pattern"\nface = "front"\ntool = "bit"'
    (event,) = clean(run(block("template copy", body)))
    assert made(event) == {"rail": pytest.approx(90 * 50 * 20)}
    assert event.made[0].solid.bounds[0] == pytest.approx((5, 0, 5))
    (aligned,) = clean(run(block("template copy", body + '\norigin = "lower right"')))
    assert aligned.made[0].solid.bounds[0] == pytest.approx((10, 0, 0))


def test_a_template_turned_over_makes_the_twin(run: Run) -> None:
    bevel = block("mitre", 'piece = "pattern"\nend = "right"\nlong = "bottom"\nangle = "30 deg"\nblade = "saw"')
    copy = 'piece = "rail"\ntemplate = "pattern"\nface = "front"\ntool = "bit"\nturned_over = true'
    event = clean(run(bevel, block("template copy", copy)))[1]
    slope = 50 * math.tan(math.radians(30))
    assert made(event)["rail"] == pytest.approx((90 * 50 - 50 * slope / 2) * 20)
    assert event.made[0].solid.hits((-10, 10, 54.9), (200, 10, 54.9))[0] == pytest.approx(15 + slope, abs=0.1)


def test_masked_faces_stay_bare(run: Run) -> None:
    mask = block("mask", 'piece = "rail"\nfaces = ["front", "top"]\ntape = "tape"')
    oil = block("finish", 'pieces = ["rail"]\nfinish = "oil"\ncoats = 1')
    off = block("unmask", 'piece = "rail"')
    first, second, third = clean(run(mask, oil, off))
    assert first.uses[0].amount == pytest.approx(2 * (160 + 120) / 1000)
    assert second.uses[0].amount == pytest.approx((2 * (6000 + 2000 + 1200) - 6000 - 2000) / 1e6)
    assert {t.face for t in second.made[0].treated if t.how == "finished"} == {"back", "left", "right", "bottom"}
    assert not any(t.how == "masked" for t in third.made[0].treated)


def test_hardware_is_counted_and_its_holes_are_bored(run: Run) -> None:
    body = (
        'piece = "rail"\nface = "top"\nat = [["20 mm", "10 mm"], ["40 mm", "10 mm"]]\nhardware = "hinge"\ncount = 1\n'
        'screws = "screw"\ndrill = "drill"\ndepth = "15 mm"'
    )
    plain = 'piece = "post"\nface = "bottom"\nat = [["10 mm", "10 mm"]]\nhardware = "screw"'
    first, second = clean(run(block("fit hardware", body), block("fit hardware", plain)))
    assert lost(first) == pytest.approx(2 * disc(2) * 15, rel=1e-2)
    assert {use.name: use.amount for use in first.uses} == {"hinge": 1, "screw": 2, "drill": 2}
    assert lost(second) == 0
    assert second.uses[0].amount == 1
    assert [cue.kind for cue in first.show.cues] == ["drill axis", "drill axis", "note"]
    assert [cue.kind for cue in second.show.cues] == ["drill axis", "note"]  # its place is marked, though not bored


def test_a_hinge_lies_in_its_recess_and_its_screws_in_holes(run: Run) -> None:
    body = (
        'piece = "rail"\nface = "top"\nat = [["25 mm", "4 mm"], ["65 mm", "4 mm"]]\nhardware = "hinge"\n'
        'screws = "screw"\ndrill = "drill"\ndepth = "9 mm"\nscrew_holes = [["-5 mm", "1 mm"], ["5 mm", "1 mm"]]\n'
        'recess = ["20 mm", "10 mm"]\nrecess_depth = "2 mm"\ntool = "bit"'
    )
    (event,) = clean(run(block("fit hardware", body)))
    # The recess runs out of the front edge by 1 mm; the holes are bored from its floor.
    assert lost(event) == pytest.approx(2 * 20 * 9 * 2 + 4 * disc(2) * 9, rel=1e-3)
    assert {use.name: use.amount for use in event.uses} == {"hinge": 2, "screw": 4, "drill": 4, "bit": 2}


def test_the_screw_holes_of_a_mirrored_hinge_are_mirrored(run: Run) -> None:
    body = (
        'piece = "rail"\nface = "top"\nat = [["25 mm", "10 mm"]]\nhardware = "hinge"\ndrill = "drill"\n'
        'depth = "9 mm"\nscrew_holes = [["-8 mm", "1 mm"], ["5 mm", "1 mm"]]\nmirror = { across = "x" }'
    )
    (event,) = clean(run(block("fit hardware", body)))
    solid = event.made[0].solid
    down = [solid.hits((x, 11, 70), (x, 11, -10))[0] for x in (17, 30, 100 - 17, 100 - 30)]
    assert down == pytest.approx([70 - 60 + 9] * 4)


def test_hardware_may_sit_in_a_hole_that_is_there_already(run: Run) -> None:
    at = 'piece = "rail"\nface = "top"\nat = [["20 mm", "10 mm"]]\n'
    clean(run(block("bore", at + 'drill = "drill"'), block("fit hardware", at + 'hardware = "screw"')))
    beside = 'piece = "rail"\nface = "top"\nat = [["20 mm", "21 mm"]]\nhardware = "screw"'
    assert [trouble.kind for trouble in run(block("fit hardware", beside)).troubles] == ["hole-misses"]


def test_hardware_may_lie_deeper_than_the_face_that_it_is_measured_on(run: Run) -> None:
    step = 'piece = "rail"\nface = "front"\nedges = ["top"]\nwidth = "30 mm"\ndepth = "8 mm"\ntool = "bit"'
    at = 'piece = "rail"\nface = "front"\nat = [["20 mm", "45 mm"]]\n'
    screw = at + 'hardware = "screw"'
    for before in ((), (block("bore", at + 'drill = "drill"'),)):  # also where a hole is there for it
        *_, event = clean(run(block("rabbet", step), *before, block("fit hardware", screw)))
        axis, note = event.show.cues
        assert note.points == (pytest.approx((20, 8, 45)),)
        assert axis.points == (pytest.approx((20, 8 - 18, 45)), pytest.approx((20, 8 + 6, 45)))
    beyond = screw.replace('"45 mm"', '"63 mm"')
    assert [t.kind for t in run(block("rabbet", step), block("fit hardware", beyond)).troubles] == ["hole-misses"]


def test_a_stopped_channel_says_which_side_it_stays_away_from(run: Run) -> None:
    (event,) = clean(run(block("groove", GROOVE + '\nstops = ["12 mm", "0 mm"]')))
    settings = dict(event.settings)
    assert settings["stop before the left"] == pytest.approx(12)
    assert "stop before the right" not in settings


@pytest.mark.parametrize(
    ("kind", "where", "tool", "width", "radius", "corners"),
    [
        ("dado", 'edge = "top"\nat = "20 mm"', "bit", 8, 3, 2),
        ("groove", 'edge = "back"\nat = "6 mm"', "bit", 6, 3, 2),
        ("rabbet", 'edges = ["back"]', "bit", 9, 3, 1),
        ("dado", 'edge = "top"\nat = "20 mm"', "sink", 8, 4, 2),
    ],
)
def test_a_stopped_end_may_be_as_round_as_the_cutter(
    run: Run, kind: str, where: str, tool: str, width: float, radius: float, corners: int
) -> None:
    """A corner of radius r that is not reached holds r * r - pi * r * r / 4 of wood, as plane geometry has it."""
    body = f'piece = "post"\nface = "right"\n{where}\nwidth = "{width} mm"\ndepth = "4 mm"\ntool = "{tool}"\n'
    stop = 'stops = ["5 mm", "0 mm"]\n'
    square, left, open_ended = (
        lost(*clean(run(block(kind, body + more)))) for more in (stop, stop + 'ends = "round"', 'ends = "round"')
    )
    assert square - left == pytest.approx(corners * (1 - math.pi / 4) * radius**2 * 4, rel=5e-2)  # chords for arcs
    assert open_ended - square == pytest.approx(5 * width * 4)


GROOVE = 'piece = "rail"\nface = "front"\nedge = "bottom"\nat = "10 mm"\nwidth = "6 mm"\ndepth = "5 mm"\ntool = "bit"'
TENON = 'piece = "rail"\nend = "right"\nlength = "15 mm"\nsize = ["8 mm", "40 mm"]\ntool = "saw"'
MORTISE = 'piece = "rail"\nface = "front"\nat = [["50 mm", "30 mm"]]\nlength = "30 mm"\nwidth = "8 mm"\ntool = "bit"'
MITRE = 'piece = "rail"\nend = "right"\nlong = "top"\nangle = "45 deg"\nblade = "saw"'
COPY = 'piece = "rail"\ntemplate = "pattern"\nface = "front"\ntool = "bit"'
DOWEL = 'pieces = ["rail", "post"]\nface = "right"\nat = [["10 mm", "15 mm"]]\ndrill = "drill"\ndepth = "18 mm"'
LEAF = '\nrecess = ["20 mm", "10 mm"]\nrecess_depth = "2 mm"\ntool = "bit"'
HINGE = 'piece = "rail"\nface = "top"\nat = [["20 mm", "10 mm"]]\nhardware = "hinge"'


@pytest.mark.parametrize(
    ("kind", "body", "trouble"),
    [
        ("rip", 'piece = "rail"\nface = "top"\nwidth = "60 mm"\nblade = "saw"', "cut-misses"),
        ("rip", 'piece = "rail"\nface = "top"\nwidth = "59 mm"\nblade = "saw"\noffcut = "bit"', "cut-misses"),
        ("rip", 'piece = "rail"\nface = "top"\nwidth = "50 mm"\nblade = "drill"', "tool-unfit"),
        ("mitre", MITRE.replace("45 deg", "90 deg"), "angle-too-steep"),
        ("mitre", MITRE.replace("45 deg", "45 mm"), "not-an-angle"),
        ("mitre", MITRE.replace("45 deg", "0 deg"), "not-positive"),
        ("mitre", MITRE.replace('"top"', '"left"'), "no-such-edge"),
        ("mitre", MITRE + '\nto = "120 mm"', "cut-misses"),
        ("groove", GROOVE.replace('depth = "5 mm"', 'depth = "20 mm"'), "cut-too-large"),
        ("groove", GROOVE.replace('at = "10 mm"', 'at = "56 mm"'), "cut-too-large"),
        ("groove", GROOVE + '\nstops = ["60 mm", "40 mm"]', "cut-too-large"),
        ("groove", GROOVE.replace('width = "6 mm"', 'width = "5 mm"'), "cutter-too-wide"),
        ("groove", GROOVE.replace('"bottom"', '"front"'), "no-such-edge"),
        ("tenon", TENON.replace("15 mm", "100 mm"), "cut-too-large"),
        ("tenon", TENON.replace("40 mm", "61 mm"), "cut-too-large"),
        ("tenon", TENON.replace('["8 mm", "40 mm"]', '["20 mm", "60 mm"]'), "cut-misses"),
        ("tenon", TENON.replace('["8 mm"', '["0 mm"'), "not-positive"),
        ("mortise", MORTISE.replace("8 mm", "5 mm"), "cutter-too-wide"),
        ("mortise", MORTISE + '\ndepth = "20 mm"', "cut-too-large"),
        ("mortise", MORTISE.replace('30 mm"]]', '300 mm"]]'), "hole-misses"),
        ("mortise", MORTISE.replace("50 mm", "10 mm"), "hole-breaks-out"),
        ("mortise", MORTISE + '\nstencil = "round"', "one-of-two"),
        ("template copy", COPY + '\norigin = "middle"', ""),
        ("template copy", COPY.replace('"pattern"', '"post"'), "template-off-piece"),
        ("template copy", COPY.replace('"pattern"', '"rail"'), "template-off-piece"),
        ("dowel holes", DOWEL.replace("18 mm", "25 mm"), "hole-too-deep"),
        ("dowel holes", DOWEL.replace("15 mm", "150 mm"), "hole-misses"),
        ("dowel holes", DOWEL.replace('"post"', '"rail"'), "wrong-field"),
        ("dowel holes", DOWEL + "\nother_at = []", "pairs-differ"),
        ("dowel holes", DOWEL + '\nmoves = { pattern = ["1 mm", "0 mm", "0 mm"] }', "move-of-another"),
        ("round over", 'piece = "rail"\nfaces = ["front"]\nradius = "20 mm"\ntool = "bit"', "cut-too-large"),
        (
            "chamfer",
            'piece = "rail"\nfaces = ["front"]\nsides = ["back"]\nwidth = "2 mm"\ntool = "bit"',
            "no-such-edge",
        ),
        ("unmask", 'piece = "rail"', "not-masked"),
        ("unmask", 'piece = "rail"\nfaces = ["top"]', "not-masked"),
        ("mask", 'piece = "rail"\nfaces = ["top"]\ntape = "oil"', "supply-unfit"),
        ("fit hardware", HINGE + '\ndrill = "drill"', "missing-field"),
        ("fit hardware", HINGE + '\nrecess = ["20 mm", "10 mm"]\nrecess_depth = "2 mm"', "missing-field"),
        ("fit hardware", HINGE + '\nscrew_holes = [["5 mm", "0 mm"]]', "missing-field"),
        ("fit hardware", HINGE + LEAF.replace("2 mm", "90 mm"), "hole-too-deep"),
        ("fit hardware", HINGE + LEAF.replace('"10 mm"', '"-10 mm"'), "not-positive"),
        ("fit hardware", HINGE + LEAF.replace('"10 mm"', '"1 mm"'), "cutter-too-wide"),
        ("fit hardware", HINGE + LEAF.replace('"bit"', '"drill"'), "tool-unfit"),
        ("fit hardware", HINGE + '\ndrill = "drill"\ndepth = "60 mm"', "hole-too-deep"),
        ("fit hardware", HINGE.replace("20 mm", "200 mm"), "hole-misses"),
        ("fit hardware", HINGE.replace('"hinge"', '"tape"'), "supply-unfit"),
        (
            "counterbore",
            'piece = "rail"\nface = "front"\nat = [["9 mm", "9 mm"]]\ndrill = "drill"\ndepth = "5 mm"\nhole = "wide drill"',
            "head-too-narrow",
        ),
        (
            "countersink",
            'piece = "rail"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndrill = "sink"\ndiameter = "42 mm"',
            "hole-too-deep",
        ),
    ],
)
def test_what_cannot_be_done_is_a_trouble(run: Run, kind: str, body: str, trouble: str) -> None:
    found = run(block(kind, body)).troubles
    assert [t.kind for t in found] == ([trouble] if trouble else [])
    assert all(t.place.line > 1 and t.step == 2 for t in found)


def test_a_groove_right_through_a_frame_takes_it_apart(run: Run) -> None:
    mortise = block("mortise", MORTISE.replace('30 mm"\nwidth', '90 mm"\nwidth') + '\ndepth = "15 mm"')
    groove = block(
        "groove",
        GROOVE.replace('depth = "5 mm"', 'depth = "10 mm"')
        .replace('"front"', '"back"')
        .replace('at = "10 mm"', 'at = "25 mm"')
        .replace('width = "6 mm"', 'width = "10 mm"'),
    )
    ends = [
        block("crosscut", f'piece = "rail"\nface = "{f}"\nlength = "{n} mm"\nblade = "saw"')
        for f, n in (("left", 94), ("right", 88))
    ]
    timeline = run(mortise, *ends, groove)
    assert [t.kind for t in timeline.troubles] == ["cut-splits"]


LINE = 'piece = "rail"\nstencil = "round"\nline = "disc"\ntool = "bit"'


def test_a_pattern_can_come_from_a_line_of_a_stencil(run: Run) -> None:
    stick = block("stick", 'piece = "rail"\nstencil = "round"')
    event = clean(run(stick, block("template copy", LINE)))[1]
    assert made(event)["rail"] == pytest.approx(disc(20) * 20, rel=1e-6)
    assert event.show is not None
    assert event.show.face == "front"


@pytest.mark.parametrize(
    ("body", "trouble"),
    [
        (LINE.replace('line = "disc"\n', ""), "missing-field"),
        (LINE.replace('"disc"', '"way"'), "line-not-closed"),
        (LINE.replace('"disc"', '"disk"'), "line-unknown"),
        (LINE + "\nturned_over = true", "one-of-two"),
        (LINE + '\ntemplate = "pattern"', "one-of-two"),
        ('piece = "rail"\ntemplate = "pattern"\ntool = "bit"', "missing-field"),
        ('piece = "rail"\ntool = "bit"', "one-of-two"),
    ],
)
def test_a_pattern_that_cannot_be_made_out_is_a_trouble(run: Run, body: str, trouble: str) -> None:
    stick = block("stick", 'piece = "rail"\nstencil = "round"')
    assert [t.kind for t in run(stick, block("template copy", body)).troubles] == [trouble]
