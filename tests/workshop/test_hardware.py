"""Counterbored and countersunk holes, and hardware that is fitted, against volumes worked out by hand."""

import math

import pytest

from planbook.handbook import BUILT_IN
from planbook.solids import FACE_FRAMES

from .conftest import JOINTS, MILL_ALL, Run, block, disc, lost, running, worked

run = running(JOINTS, MILL_ALL)


def test_counterbore_and_hole_are_two_cylinders(run: Run) -> None:
    body = 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"], ["70 mm", "30 mm"]]\ndrill = "wide drill"\ndepth = "8 mm"\nhole = "drill"'
    (event,) = worked(run(block("counterbore", body)))
    assert lost(event) == pytest.approx(2 * (disc(5) * 8 + disc(2) * 12), rel=1e-2)
    assert event.made[0].solid.genus == 2


def test_a_countersink_is_a_cone(run: Run) -> None:
    tip = 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"]]\ndrill = "sink"\ndiameter = "12 mm"'
    stub = 'piece = "rail"\nface = "front"\nat = [["70 mm", "30 mm"]]\ndrill = "sink"\ndiameter = "8 mm"\nangle = "82 deg"\nhole = "drill"'
    first, second = worked(run(block("countersink", tip), block("countersink", stub)))
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
    event = worked(run(stick, bore, sink))[2]
    # What lies outside the hole: a blunt cone 2 mm deep less the hole in it.
    assert lost(event) == pytest.approx(math.pi / 3 * 2 * (16 + 8 + 4) - disc(2) * 2, rel=2e-2)


def test_hardware_is_counted_and_its_holes_are_bored(run: Run) -> None:
    body = (
        'piece = "rail"\nface = "top"\nat = [["20 mm", "10 mm"], ["40 mm", "10 mm"]]\nhardware = "hinge"\ncount = 1\n'
        'screws = "screw"\ndrill = "drill"\ndepth = "15 mm"'
    )
    plain = 'piece = "post"\nface = "bottom"\nat = [["10 mm", "10 mm"]]\nhardware = "screw"'
    first, second = worked(run(block("fit hardware", body), block("fit hardware", plain)))
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
    (event,) = worked(run(block("fit hardware", body)))
    # The recess runs out of the front edge by 1 mm; the holes are bored from its floor.
    assert lost(event) == pytest.approx(2 * 20 * 9 * 2 + 4 * disc(2) * 9, rel=1e-3)
    assert {use.name: use.amount for use in event.uses} == {"hinge": 2, "screw": 4, "drill": 4, "bit": 2}
    # Each of the two is worked twice: its recess, and its screws.
    assert event.hands_on - event.set_up == 4 * BUILT_IN.rate("fit hardware").unit_minutes


def test_the_screw_holes_of_a_mirrored_hinge_are_mirrored(run: Run) -> None:
    body = (
        'piece = "rail"\nface = "top"\nat = [["25 mm", "10 mm"]]\nhardware = "hinge"\ndrill = "drill"\n'
        'depth = "9 mm"\nscrew_holes = [["-8 mm", "1 mm"], ["5 mm", "1 mm"]]\nmirror = { across = "x" }'
    )
    (event,) = worked(run(block("fit hardware", body)))
    solid = event.made[0].solid
    down = [solid.hits((x, 11, 70), (x, 11, -10))[0] for x in (17, 30, 100 - 17, 100 - 30)]
    assert down == pytest.approx([70 - 60 + 9] * 4)


def test_hardware_may_sit_in_a_hole_that_is_there_already(run: Run) -> None:
    at = 'piece = "rail"\nface = "top"\nat = [["20 mm", "10 mm"]]\n'
    worked(run(block("bore", at + 'drill = "drill"'), block("fit hardware", at + 'hardware = "screw"')))
    beside = 'piece = "rail"\nface = "top"\nat = [["20 mm", "21 mm"]]\nhardware = "screw"'
    assert [trouble.kind for trouble in run(block("fit hardware", beside)).troubles] == ["hole-misses"]


def test_hardware_may_lie_deeper_than_the_face_that_it_is_measured_on(run: Run) -> None:
    step = 'piece = "rail"\nface = "front"\nedges = ["top"]\nwidth = "30 mm"\ndepth = "8 mm"\ntool = "bit"'
    at = 'piece = "rail"\nface = "front"\nat = [["20 mm", "45 mm"]]\n'
    screw = at + 'hardware = "screw"'
    for before in ((), (block("bore", at + 'drill = "drill"'),)):  # also where a hole is there for it
        *_, event = worked(run(block("rabbet", step), *before, block("fit hardware", screw)))
        axis, note = event.show.cues
        assert note.points == (pytest.approx((20, 8, 45)),)
        assert axis.points == (pytest.approx((20, 8 - 18, 45)), pytest.approx((20, 8 + 6, 45)))
    beyond = screw.replace('"45 mm"', '"63 mm"')
    assert [t.kind for t in run(block("rabbet", step), block("fit hardware", beyond)).troubles] == ["hole-misses"]


def test_a_screw_through_a_sunk_hole_is_seen_to_come_in_by_its_mouth(run: Run) -> None:
    sunk = 'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"]]\ndrill = "wide drill"\ndepth = "8 mm"'
    screwed = (
        'piece = "rail"\nface = "front"\nat = [["30 mm", "30 mm"]]\nhardware = "screw"\ndrill = "drill"\ndepth = "5 mm"'
    )
    _, event = worked(run(block("counterbore", sunk), block("fit hardware", screwed)))
    assert lost(event) == pytest.approx(disc(2) * 5, rel=1e-2), "as deep from the floor, where its drill meets the wood"
    out, face = FACE_FRAMES["front"].n, event.made[0].solid.reach(FACE_FRAMES["front"].n)
    (axis,) = [cue for cue in event.show.cues if cue.kind == "drill axis"]
    assert [sum(a * b for a, b in zip(p, out, strict=True)) - face for p in axis.points] == pytest.approx([18, -6])
