"""Screws of a step are shown where its pieces are put together, through the wood that they are driven through."""

from dataclasses import replace

import pytest

from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop import Cue, Shown


def rail_and_shelf(bench, apart=(0.0, 90.0, 0.0), lies=True, more=()):
    """A rail under a shelf 16 mm thick, a screw through the shelf into the rail's top, at z = 100; events of the step."""
    rail = bench.piece("rail", block((0, 0, 60), (300, 20, 100)))
    low = 100 if lies else 140
    hole = cylinder(FACE_FRAMES["top"], (150, 10), 2.5, low - 1, low + 17)
    shelf = bench.piece("shelf", block((0, 0, low), (300, 160, low + 16)).minus(hole))
    cues = [
        Cue("drill axis", ((150.0, 10.0, 118.0), (150.0, 10.0, 94.0)), "rail"),
        Cue("note", ((150.0, 10.0, 100.0),), "rail", "screws"),
    ]
    fitted = bench.event("fit hardware", "top", [Shown(rail, "worked")], cues)
    shown = [Shown(shelf, "worked"), Shown(rail, "worked", apart)]
    together = bench.event("assemble", "back", [*shown, *(Shown(piece, "worked") for piece in more)])
    return [replace(fitted, made=(rail,)), together]


def test_a_screw_is_driven_from_above_the_wood_that_it_goes_through(bench):
    axis, note = drawn_event(rail_and_shelf(bench)).show.cues
    assert (axis.kind, axis.piece, note.text, note.piece) == ("drill axis", "", "screws", "")
    assert axis.points[0] == pytest.approx((150, 10, 118 + 16))
    # The rail comes apart along the screw, by 8 mm and three quarters of its height of 40 mm.
    assert axis.points[-1] == pytest.approx((150, 10, 94 - 38))
    assert note.points[0] == pytest.approx((150, 10, 116))


def test_what_a_screw_joins_comes_apart_along_it(bench):
    show = drawn_event(rail_and_shelf(bench)).show
    assert [s.apart for s in show.pieces] == [(0, 0, 0), pytest.approx((0, 0, -38))]
    assert show.face == "", "it did come out behind, and was looked at from there"


def test_what_lies_over_the_piece_that_stays_is_lifted_off_it_and_set_down_again(bench):
    fitted, together = rail_and_shelf(bench, apart=(0.0, 0.0, 0.0))
    shelf, rail = together.show.pieces
    push = Cue("push", ((150.0, -90.0, 108.0), (150.0, 0.0, 108.0)), "shelf")
    show = replace(together.show, pieces=(replace(shelf, apart=(0.0, -90.0, 0.0)), rail), cues=(push,))
    found = drawn_event([fitted, replace(together, show=show)]).show
    by = 0.08 * 300  # a share of what stays, since the shelf is thin
    assert [s.apart for s in found.pieces] == [pytest.approx((0, 0, by)), (0, 0, 0)]
    down, axis = (cue for cue in found.cues if cue.kind in ("push", "drill axis"))
    assert down.points[0][2] > down.points[-1][2] == pytest.approx(116)
    assert (axis.points[0][2], axis.points[-1][2]) == (pytest.approx(118 + 16 + by), pytest.approx(94))


def test_what_cannot_come_apart_along_a_screw_has_its_own_part_of_the_axis(bench):
    floor = bench.piece("floor", block((0, 0, 30), (300, 160, 55)))
    show = drawn_event(rail_and_shelf(bench, more=[floor])).show
    through, into = (cue for cue in show.cues if cue.kind == "drill axis")
    assert show.pieces[1].apart == (0, 90, 0)
    assert (through.piece, through.points[0], through.points[-1]) == ("", (150, 10, 134), (150, 10, 100))
    assert (into.piece, into.points[-1]) == ("rail", (150, 10, 94)), "drawn with the rail, where that is"


def test_what_goes_into_one_piece_alone_stays_with_it(bench):
    axis, note = drawn_event(rail_and_shelf(bench, lies=False)).show.cues
    assert (axis.piece, note.piece) == ("rail", "rail")
    assert axis.points[0] == (150.0, 10.0, 118.0)


def test_nothing_is_driven_into_what_has_moved_since(bench):
    fitted, together = rail_and_shelf(bench)
    moved = replace(fitted, made=(bench.piece("rail", block((0, 0, 0), (300, 20, 40))),))
    assert drawn_event([moved, together]).show.cues == ()


def test_the_picture_draws_axis_and_name(bench):
    event = drawn_event(rail_and_shelf(bench))
    pieces = [s.piece for s in event.show.pieces]
    picture = step_picture(bench.timeline(*pieces), event, 120.0, 90.0)
    assert picture.of_layer("drill axis")
    assert "screws" in bench.texts(picture)


def knob_and_box(bench, far=60.0, bored=(-4.0, 20.0)):
    """A box with a hole in its front at (50, 30), and a knob pulled out of it by `far` mm; events of the step."""
    hole = cylinder(FACE_FRAMES["front"], (50, 30), 6, bored[0] - 6, 1)
    box = bench.piece("box", block((0, 0, 0), (100, 80, 60)).minus(hole))
    knob = bench.piece("knob", cylinder(FACE_FRAMES["front"], (50, 30), 6, -10, 14))
    axis = Cue("drill axis", ((50.0, -18.0, 30.0), (50.0, 6.0, 30.0)), "box")
    made = replace(bench.event("bore", "front", [Shown(box, "worked")], [axis]), made=(box,))
    shown = [Shown(box, "worked"), Shown(knob, "worked", (0.0, -far, 0.0))]
    return [made, bench.event("plug", "front", shown, [Cue("push", ((50, -99, 30), (50, -20, 30)), "knob")])]


@pytest.mark.parametrize("far", [30.0, 60.0])
def test_the_hole_of_a_knob_has_its_axis_between_the_two(bench, far):
    event = drawn_event(knob_and_box(bench, far))
    (axis,) = [cue for cue in event.show.cues if cue.kind == "drill axis"]
    foot = 10 - far  # the knob goes 10 mm into the box, whose front is at y = 0
    assert axis.points[-1] == pytest.approx((50, 0, 30))
    assert axis.points[0] == pytest.approx((50, 0.6 * foot, 30))
    picture = step_picture(bench.timeline(*(s.piece for s in event.show.pieces)), event, 120.0, 90.0)
    assert len(picture.of_layer("drill axis")) == 1, "a centre line, and no cross where the hole is bored"


def test_a_hole_whose_piece_has_changed_since_has_no_axis(bench):
    bored, plugged = knob_and_box(bench)
    before = replace(bored, made=(bench.piece("box", block((0, 0, 0), (100, 80, 70))),))
    assert [cue.kind for cue in drawn_event([before, plugged]).show.cues] == ["push"]
