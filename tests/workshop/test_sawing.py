"""Sawing along lines, slicing, trimming and boring, against volumes worked out by hand."""

import itertools
import math

import pytest

from planbook.workshop import Cue
from planbook.workshop.timeline import MIDDLE, WASTE_LEFT, WASTE_RIGHT

from .conftest import BOARDS, MILL, STICK, Run, block, clean, lost, made, running

run = running(BOARDS)
OWN_HOLE = BOARDS.replace('at = ["20 mm", "30 mm"], diameter', 'at = ["50 mm", "30 mm"], diameter')
from_hole = running(OWN_HOLE.replace('from = ["50 mm", "-5 mm"]', 'from = ["50 mm", "30 mm"]'))
"""The hole stands in the middle of the disc, and the way in leads from there to its line."""


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


@pytest.mark.parametrize(("side", "inner", "outer"), [("outside", 20, 21), ("inside", 19, 20)])
def test_the_blade_comes_from_a_hole_within_and_spares_what_is_around(
    from_hole: Run, side: str, inner: float, outer: float
) -> None:
    bore = 'piece = "maple"\nstencil = "round"\ndrill = "drill"'
    body = (
        f'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\nkerf_side = "{side}"\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    event = clean(from_hole(MILL, STICK, block("bore", bore), block("saw", body)))[3]
    # The slit is 1 mm wide and goes from the hole, 5 mm from the middle, to the kerf.
    disc = math.pi * (inner**2 - 5**2) * 20 - (inner - 5) * 1 * 20
    assert made(event)["disc"] == pytest.approx(disc, rel=2e-3)
    assert made(event)["rim"] == pytest.approx(100 * 60 * 20 - math.pi * outer**2 * 20, rel=2e-3)


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
    (line,) = (cue for cue in events[3].show.cues if cue.kind == "cut line")
    assert sides_of_waste(line) == {True}


def sides_of_waste(cue: Cue) -> set[bool]:
    """Whether the waste of a line around (50, 30) on the front lies outside, all along."""
    found = set()
    for (ax, _, az), (bx, _, bz) in itertools.pairwise(cue.points):
        right = (bz - az, ax - bx)  # across the way on, as seen from the front: x to the right, z up
        out = ((ax + bx) / 2 - 50) * right[0] + ((az + bz) / 2 - 30) * right[1] > 0
        found.add(out == (cue.text == WASTE_RIGHT))
    assert cue.text in (WASTE_LEFT, WASTE_RIGHT)
    return found


def test_of_a_hole_that_is_sanded_to_its_line_the_waste_lies_within(run: Run) -> None:
    body = (
        'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nleave = "0.5 mm"\n'
        'kerf_side = "inside"\nmakes = { disc = "inside", rim = "outside" }'
    )
    start = block("bore", 'piece = "maple"\nface = "front"\nat = [["32.2 mm", "30 mm"]]\ndrill = "narrow drill"')
    sand = 'piece = "rim"\nstencil = "round"\nlines = ["disc"]\nkeep = "outside"\ntool = "board"'
    events = clean(run(MILL, start, STICK, block("saw", body), block("sand to line", sand)))
    (line,) = (cue for cue in events[4].show.cues if cue.kind == "cut line")
    assert sides_of_waste(line) == {False}


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


@pytest.mark.parametrize(("side", "holder"), [("inside", "rim"), ("outside", "disc")])
def test_a_closed_line_stays_on_the_other_side_of_the_kerf(run: Run, side: str, holder: str) -> None:
    body = (
        f'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\nkerf_side = "{side}"\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    event = clean(run(MILL, STICK, block("saw", body)))[-1]
    assert {cue.piece for cue in event.show.cues if cue.kind == "cut line" and not cue.text} == {holder}


@pytest.mark.parametrize(
    ("side", "holder", "text"), [("left", "two", ""), ("right", "one", ""), ("centre", "one", MIDDLE)]
)
def test_an_open_line_stays_on_the_part_that_the_blade_does_not_touch(
    run: Run, side: str, holder: str, text: str
) -> None:
    """Upward at 60 mm of 100: left of it the larger part; with the line in the middle of its kerf both lose as much."""
    body = (
        f'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["halves"]\nkerf_side = "{side}"\n'
        'makes = { one = "left", two = "right" }'
    )
    (cue,) = clean(run(MILL, STICK, block("saw", body)))[2].show.cues
    assert (cue.piece, cue.text) == (holder, text)
