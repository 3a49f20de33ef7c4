"""Edges that are rounded and chamfered, against volumes worked out by hand."""

import math

import numpy as np
import pytest
import trimesh

from planbook.solids import FACE_FRAMES

from .conftest import JOINTS, MILL_ALL, Run, block, lost, made, running, worked

run = running(JOINTS, MILL_ALL)

WHOLE = 100 * 20 * 60
TENON = 'piece = "rail"\nend = "right"\nlength = "15 mm"\nsize = ["8 mm", "40 mm"]\ntool = "saw"'


def quarter(radius: float) -> float:
    """The area between a corner and its rounding."""
    return radius**2 * (1 - math.pi / 4)


def lines(event):
    return [cue for cue in event.show.cues if cue.kind == "cut line"]


def test_straight_edges_are_rounded_and_chamfered(run: Run) -> None:
    rounded = 'piece = "rail"\nfaces = ["front"]\nsides = ["top", "bottom"]\nradius = "8 mm"\ntool = "bit"'
    chamfer = 'piece = "post"\nfaces = ["top"]\nsides = ["right"]\nwidth = "3 mm"\ntool = "bit"'
    first, second = worked(run(block("round over", rounded), block("chamfer", chamfer)))
    assert lost(first) == pytest.approx(2 * 100 * quarter(8), rel=3e-2)
    assert lost(second) == pytest.approx(20 * 3 * 3 / 2)
    assert dict(first.settings)["recorded"] == ""


def test_a_straight_edge_has_a_line_where_its_chamfer_begins_on_the_face(run: Run) -> None:
    notch = 'piece = "post"\nface = "top"\nedges = ["front"]\nwidth = "5 mm"\ndepth = "3 mm"\ntool = "saw"'
    chamfer = 'piece = "post"\nfaces = ["top"]\nsides = ["right"]\nwidth = "2 mm"\ntool = "bit"'
    first, second = worked(run(block("rabbet", notch), block("chamfer", chamfer)))
    (piece,) = first.made
    lo, hi = piece.solid.bounds
    ((one, two),) = ([np.round(point, 4) for point in cue.points] for cue in lines(second))
    # 2 mm in from the right side, on the face, and only where the rabbet has left any of it.
    assert [one[0], two[0]] == pytest.approx([hi[0] - 2] * 2, abs=1e-3)
    assert [one[2], two[2]] == pytest.approx([hi[2]] * 2, abs=1e-3)
    assert sorted((one[1], two[1])) == pytest.approx([lo[1] + 5, hi[1]], abs=0.01)


def test_a_whole_outline_is_chamfered(run: Run) -> None:
    body = 'piece = "rail"\nfaces = ["front"]\noutline = "outer"\nwidth = "3 mm"\ntool = "bit"'
    (event,) = worked(run(block("chamfer", body)))
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
    events = worked(timeline)
    # Pappus: the section goes round on the path of its centre of gravity, 0.2234 of the radius from the corner.
    path = 2 * math.pi * (20 - 0.2234 * 6)
    assert lost(events[2]) == pytest.approx(2 * quarter(6) * path, rel=3e-2)
    assert lost(events[4]) == pytest.approx(2 * 2 / 2 * 2 * math.pi * (5 + 2 / 3), rel=1e-2)
    assert all(dict(events[n].settings)["recorded"] == "" for n in (2, 4))


def test_edges_that_are_not_named_are_only_recorded(run: Run) -> None:
    body = 'piece = "rail"\nfaces = ["front"]\nradius = "2 mm"\nedges = "all around"\ntool = "bit"'
    (event,) = worked(run(block("round over", body)))
    assert made(event) == {"rail": pytest.approx(WHOLE)}
    assert "square" in str(dict(event.settings)["recorded"])
    assert event.uses[0].amount == pytest.approx(0.32)


def test_the_line_of_a_rounded_rim_lies_on_the_wood_and_runs_all_around(run: Run) -> None:
    body = 'piece = "rail"\nfaces = ["front"]\noutline = "outer"\nradius = "8 mm"\ntool = "bit"'
    (event,) = worked(run(block("round over", body)))
    ((cue,), solid) = lines(event), event.made[0].solid
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
    whole, stepped = worked(run(rounded))[0], worked(run(block("rabbet", step), rounded))[1]
    assert whole.uses[0].amount == pytest.approx(2 * (0.02 + 0.06))
    # The larger part of the end lies 5 mm deeper: three of its sides are edges, the fourth is the foot of the step.
    assert stepped.uses[0].amount == pytest.approx(0.02 + 2 * 0.045, abs=0.003)
    (cue,) = lines(stepped)
    assert min(z for _, _, z in cue.points) == pytest.approx(15, abs=1.5)
    assert cue.points[0] != cue.points[-1]


def test_one_of_several_rims_is_told_by_a_point_near_it(run: Run) -> None:
    bore = block(
        "bore", 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"], ["70 mm", "30 mm"]]\ndrill = "wide drill"'
    )
    body = 'piece = "rail"\nfaces = ["front", "back"]\noutline = "inner"\nwidth = "2 mm"\ntool = "bit"\n'
    both, one = (worked(run(bore, block("chamfer", body + rim)))[1] for rim in ("", 'rim = ["20 mm", "0 mm"]'))
    assert lost(one) == pytest.approx(lost(both) / 2, rel=1e-6)
    # To the right on the front is to the left on the back: the point names another hole there.
    assert {round(x) > 50 for cue in one.show.cues for x, _, _ in cue.points} == {True, False}
    square = 'piece = "rail"\nfaces = ["front"]\nwidth = "2 mm"\ntool = "bit"\nrim = ["0 mm", "30 mm"]'
    event = worked(run(bore, block("chamfer", square)))[1]
    assert event.uses[0].amount == pytest.approx(0.32)  # the outer rim alone, 100 by 60 mm, and no hole


def test_wood_that_stands_before_a_face_is_not_cut_along_its_rim(run: Run) -> None:
    step = 'piece = "rail"\nface = "right"\nedges = ["top"]\nwidth = "45 mm"\ndepth = "5 mm"\ntool = "saw"'
    body = 'piece = "rail"\nfaces = ["right"]\noutline = "outer"\nwidth = "2 mm"\ntool = "bit"'
    stepped, done = worked(run(block("rabbet", step), block("chamfer", body)))
    before, after = stepped.made[0].solid, done.made[0].solid
    frame = FACE_FRAMES["right"]
    for level in (95.5, 97.0, 99.0):  # the upper step, 15 mm high, stands on the lower one as it did
        assert after.section(frame, level).size == pytest.approx(20 * 15)
    # One side of 20 mm and two that end as far from the step as the chamfer is wide; two mitres of 2 by 2 mm.
    assert before.volume - after.volume == pytest.approx(2 * 2 / 2 * (20 + 2 * 43) - 2 * 2**3 / 3, rel=1e-3)
    assert dict(done.settings)["recorded"] == ""
    assert done.uses[0].amount == pytest.approx(0.02 + 2 * 0.045, abs=0.003)


def test_a_knob_in_front_of_a_face_leaves_its_rim_the_one_that_is_rounded(run: Run) -> None:
    tenon = block("tenon", TENON)
    event = worked(
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


def test_a_picture_learns_between_which_faces_the_edges_lie(run: Run) -> None:
    rounded = 'piece = "rail"\nfaces = ["front", "back"]\noutline = "outer"\nradius = "3 mm"\ntool = "bit"'
    chamfer = 'piece = "post"\nfaces = ["top"]\nsides = ["right", "left"]\nwidth = "3 mm"\ntool = "bit"'
    first, second = worked(run(block("round over", rounded), block("chamfer", chamfer)))
    told = [[c.text for c in e.show.cues if c.kind in ("rounded", "chamfered")] for e in (first, second)]
    assert told == [["front", "back"], ["top right", "top left"]]
