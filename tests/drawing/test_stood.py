"""Parts that are stood up in one another are drawn apart, so that a reader sees how each of them stands."""

import itertools
from dataclasses import replace
from pathlib import Path

import pytest

import planbook
from planbook.drawing.scene import step_picture, unseen
from planbook.drawing.side_by_side import MOST
from planbook.drawing.stage import stages
from planbook.drawing.steps import HIGHER, MANY, drawn_event, step_pictures
from planbook.model import Step
from planbook.reader import read_design
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder, joined
from planbook.text import Place
from planbook.workshop import Cue, Shown
from planbook.workshop.run import build


def turned(bench, *solids):
    return [
        bench.event("turn", "front", [Shown(bench.piece(f"part {k}", solid), "worked")])
        for k, solid in enumerate(solids)
    ]


def stool():
    """Two sides with slots, a rail with shoulders that ends in the slots, and a top over the tongues of the sides."""
    slot = block((-1, 95, 40), (301, 105, 90))
    rail = joined((block((20, 90, 30), (280, 110, 95)), block((0, 95, 40), (300, 105, 90))))
    tongues = [block((x, 60, 99), (x + 20, 140, 115)) for x in (0, 280)]
    sides = [joined((block((x, 20, 0), (x + 20, 180, 100)), tongues[k])).minus(slot) for k, x in enumerate((0, 280))]
    return *sides, rail, block((-10, 0, 100), (310, 200, 115)).minus(*tongues)


def test_what_stands_in_one_another_is_drawn_apart(bench):
    event = drawn_event(turned(bench, *stool()))
    solids = [s.piece.solid.moved(s.apart) for s in event.show.pieces]
    assert all(one.gap(two, 10.0) > 5.0 for one, two in itertools.combinations(solids, 2))
    left, right, rail, top = (s.apart for s in event.show.pieces)
    assert all(top[2] > other[2] for other in (left, right, rail))
    assert right[0] - rail[0] > 0 > left[0] - rail[0]
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    assert unseen(picture) == ()
    (stage,) = stages(event)
    assert all(stage.look.area_of(n) > 0 for n in stage.matters)


def test_what_stands_by_itself_stays_where_it_is(bench):
    event = drawn_event(turned(bench, block((0, 0, 0), (50, 50, 50)), block((100, 0, 0), (150, 50, 50))))
    assert [s.apart for s in event.show.pieces] == [(0, 0, 0), (0, 0, 0)]
    event = drawn_event(turned(bench, block((0, 0, 0), (50, 50, 50))))
    assert [s.apart for s in event.show.pieces] == [(0, 0, 0)]


def of_tray(words):
    timeline = build(read_design(Path(planbook.__file__).parent / "starters" / "tray").design)
    (step,) = (step for step in timeline.design.steps if words in step.title)
    return drawn_event(timeline.of_step(step))


def as_drawn(event):
    return [s.piece.solid.moved(s.apart) for s in event.show.pieces]


def test_mitres_are_drawn_apart():
    event = of_tray("mitres")
    assert event.operation.kind == "mitre"
    solids = as_drawn(event)
    assert len(solids) == 4
    assert all(one.gap(two, 10.0) > 5.0 for one, two in itertools.combinations(solids, 2))


def test_boards_that_are_cut_to_their_joint_later_do_not_stand_through_one_another(bench):
    """Four boards of a frame, grooved inside and out, whose corners stand through one another until they are mitred."""
    long = [block((0, y, 0), (300, y + 12, 60)) for y in (0, 188)]
    short = [block((x, 0, 0), (x + 12, 200, 60)) for x in (0, 288)]
    assert all(one.meet(two).volume > 1000 for one, two in itertools.product(long, short))
    shown = [Shown(bench.piece(f"board {k}", solid), "worked") for k, solid in enumerate((*long, *short))]
    event = drawn_event([bench.event("groove", "top", shown)])
    assert all(one.meet(two).volume < 1e-6 for one, two in itertools.combinations(as_drawn(event), 2))


def test_grooved_boards_of_a_frame_do_not_stand_through_one_another():
    event = of_tray("grooves")
    assert len(event.show.pieces) == 4
    assert all(one.meet(two).volume < 1e-6 for one, two in itertools.combinations(as_drawn(event), 2))


def oiled(bench, *solids):
    pieces = [bench.piece(f"part {k}", solid) for k, solid in enumerate(solids)]
    return drawn_event([bench.event("finish", "", [Shown(piece, "worked") for piece in pieces])])


def test_what_is_finished_apart_is_drawn_out_on_a_way_that_it_can_take(bench):
    """A shelf that only comes out at the back, for it stands in grooves that stop before the front."""
    groove = block((10, 50, 80), (290, 201, 100))
    case = block((0, 0, 0), (300, 200, 200)).minus(block((20, -1, 20), (280, 201, 180)), groove)
    shelf = block((10, 50, 80), (290, 200, 100))
    event = oiled(bench, case, shelf, block((500, 0, 0), (560, 60, 60)))
    moves = {s.piece.name: s.apart for s in event.show.pieces}
    assert moves["part 0"] == moves["part 2"] == (0, 0, 0)
    assert moves["part 1"][1] >= 158, "clear of the case, out of which it reaches 150 mm"
    assert moves["part 1"][::2] == (0, 0)
    assert event.show.face == "back"
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    assert picture.missing == unseen(picture) == ()
    assert not picture.of_layer("push")


def test_what_is_finished_and_stands_by_itself_stays_where_it_is(bench):
    event = oiled(bench, block((0, 0, 0), (50, 50, 50)), block((100, 0, 0), (150, 50, 50)))
    assert [s.apart for s in event.show.pieces] == [(0, 0, 0), (0, 0, 0)]
    assert event.show.face == ""


def test_what_is_finished_and_cannot_come_out_stays_in_its_place(bench):
    """A slide behind a window smaller than it is, and a drawer under it that comes out at the front."""
    room = block((20, 10, 60), (180, 90, 90))
    case = block((0, 0, 0), (200, 100, 100)).minus(room, block((40, -1, 65), (160, 11, 85)))
    case = case.minus(block((20, -1, 10), (180, 90, 50)))
    event = oiled(bench, case, block((20, 20, 62), (100, 80, 88)), block((20, 0, 10), (180, 90, 50)))
    moves = {s.piece.name: s.apart for s in event.show.pieces}
    assert moves["part 0"] == moves["part 1"] == (0, 0, 0)
    assert moves["part 2"][1] < -60


@pytest.mark.parametrize("kind", ["round over", "chamfer"])
def test_a_drawer_is_drawn_out_where_its_front_is_worked_and_the_edges_of_the_box_as_well(bench, kind):
    """Pushed home, the line around its front would run beside the edges of the opening, which nobody works."""
    opening = block((20, -1, 10), (180, 90, 50))
    case = bench.piece("case", block((0, 0, 0), (200, 100, 100)).minus(opening))
    drawer = bench.piece("drawer", block((21, 0, 11), (179, 88, 49)))
    rim = tuple((x, 0.0, z) for x, z in ((21, 11), (179, 11), (179, 49), (21, 49), (21, 11)))
    one = bench.event(kind, "front", [Shown(case, "worked")])
    two = bench.event(kind, "front", [Shown(drawer, "worked")], [Cue("cut line", rim, "drawer")])
    event = drawn_event([one, two])
    assert {s.piece.name: s.apart for s in event.show.pieces} == {"case": (0, 0, 0), "drawer": (0, -96, 0)}
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    assert picture.missing == ()
    assert picture.of_layer("cut line")


def locked(count=3):
    """Squares in a row, each with a round tab in the next, 12 mm thick."""
    front = FACE_FRAMES["front"]
    squares = [block((60 * k, 0, 0), (60 * k + 59.5, 12, 200)) for k in range(count)]
    holes = [s.minus(cylinder(front, (60 * k + 4, 100), 8.5, -13, 1)) if k else s for k, s in enumerate(squares)]
    tabs = [cylinder(front, (60 * k + 64, 100), 8, -12, 0) for k in range(count - 1)]
    return [*(h.plus(t) for h, t in zip(holes, tabs, strict=False)), holes[-1]]


@pytest.mark.parametrize("kind", ["round over", "peel"])
def test_pieces_that_lock_one_another_lie_apart_where_each_is_worked(bench, kind):
    shown = [Shown(bench.piece(f"part {k}", solid), "worked") for k, solid in enumerate(locked())]
    solids = as_drawn(drawn_event([bench.event(kind, "front", shown)]))
    assert all(one.gap(two, 5.0) >= 1.0 for one, two in itertools.combinations(solids, 2))
    assert [s.bounds[0][1] for s in solids] == [0.0] * 3, "in their plane"
    assert [s.middle[0] for s in solids] == sorted(s.middle[0] for s in solids)


def test_what_is_oiled_lies_off_its_base_as_well(bench):
    base = block((-20, -14, -20), (200, 26, 12)).minus(*locked())
    event = oiled(bench, base, *locked())
    first, *others = as_drawn(event)
    assert all(solid.bounds[0][2] > first.bounds[1][2] for solid in others)
    assert all(one.gap(two, 5.0) > 1.0 for one, two in itertools.combinations(others, 2))


def test_a_picture_of_many_pieces_may_be_higher(bench):
    """Parts one above the other, each with its name: ten of them would be drawn a third smaller than nine."""
    few, many = (
        [Shown(bench.piece(f"part {k}", block((0, 0, 60 * k), (40, 40, 60 * k + 50))), "worked") for k in range(count)]
        for count in (MANY - 1, MANY)
    )
    for shown, most in ((few, 64.0), (many, 64.0 * HIGHER)):
        (picture,) = drawn_steps(bench, shown).values()
        assert picture.height <= most
        assert picture.height > most - 8.0


def test_many_pieces_put_together_are_not_drawn_as_small_as_they_are_pulled_apart(bench):
    """Apart they are 1.4 times as high, which neighbours of few pieces would share as one scale."""
    apart, together = (
        [
            Shown(bench.piece(f"part {k}", block((0, 0, pitch * k), (40, 40, pitch * k + 50))), "worked")
            for k in range(MANY)
        ]
        for pitch in (73, 52)
    )
    pictures = drawn_steps(bench, apart, together)
    assert all(picture.height > 64.0 * HIGHER - 8.0 for picture in pictures.values())
    assert len(pictures) == 2


def drawn_steps(bench, *each):
    events, steps = [], []
    for number, shown in enumerate(each, start=3):
        event = bench.event("assemble", "front", shown)
        events.append(replace(event, at=replace(event.at, step=number)))
        steps.append(Step(number, "Put it up", (), Place("steps.md")))
    timeline = replace(bench.timeline(*(s.piece for s in each[0])), events=tuple(events))
    return step_pictures(replace(timeline, design=replace(timeline.design, steps=tuple(steps))), 98.0, 64.0)


@pytest.mark.parametrize("kind", ["sand face", "sand flush"])
def test_slices_that_lie_on_one_another_are_drawn_apart_where_the_faces_between_are_sanded(bench, kind):
    events = [
        bench.event(
            kind, "front", [Shown(bench.piece(f"slice {k}", block((0, 20 * k, 0), (100, 20 * k + 19, 60))), "worked")]
        )
        for k in range(MOST + 1)
    ]
    solids = [s.piece.solid.moved(s.apart) for s in drawn_event(events).show.pieces]
    assert all(one.gap(two, 10.0) >= 6.0 for one, two in itertools.combinations(solids, 2))
