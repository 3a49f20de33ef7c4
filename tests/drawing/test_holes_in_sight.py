"""A picture shows the mouths of all holes of its step, from a second side where one hides some."""

import pytest

from planbook.drawing.holes_in_sight import with_all_holes
from planbook.drawing.mouths import mouth_of
from planbook.drawing.scene import step_picture
from planbook.drawing.sight import in_sight
from planbook.drawing.stage import stages
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown


def axis(x, way, piece="box"):
    """The axis of a hole in the side of a box at x, as operations draw it: 18 mm out of the wood and 6 mm into it."""
    return Cue("drill axis", ((x + 18.0 * way, 40.0, 30.0), (x - 6.0 * way, 40.0, 30.0)), piece)


def screwed(bench, *cues, apart=(0.0, 0.0, 0.0)):
    box = bench.piece("box", block((0, 0, 0), (200, 80, 60)))
    return bench.event("fit hardware", "left", [Shown(box, "worked", apart)], cues)


@pytest.mark.parametrize("apart", [(0.0, 0.0, 0.0), (0.0, 0.0, 75.0)])
def test_holes_in_opposite_sides_are_shown_in_two_views(bench, apart):
    event = screwed(bench, axis(0, -1), axis(200, 1), apart=apart)
    first, second = with_all_holes(stages(event))
    assert [cue.points[0][0] for cue in first.show.cues] == [-18]
    assert [cue.points[0][0] for cue in second.show.cues] == [218]
    for view, x in ((first, 0), (second, 200)):
        assert in_sight((x, 40 + apart[1], 30 + apart[2]), view.pieces, view.look.view)
    picture = step_picture(bench.timeline(event.show.pieces[0].piece), event, 120.0, 90.0)
    assert picture.of_layer("between views")
    assert picture.width > 120


def test_holes_that_one_view_shows_need_no_other(bench):
    assert len(with_all_holes(stages(screwed(bench, axis(0, -1), axis(0, -1))))) == 1


def test_a_hole_that_no_view_shows_stays_where_it_is(bench):
    inner = Cue("drill axis", ((120.0, 40.0, 30.0), (96.0, 40.0, 30.0)), "box")  # all within the wood
    (view,) = with_all_holes(stages(screwed(bench, axis(0, -1), inner)))
    assert inner in view.show.cues


def test_the_mouth_of_a_hole_lies_on_the_face():
    assert mouth_of(axis(200, 1).points)[0] == pytest.approx((200, 40, 30))
    assert mouth_of(axis(200, 1).points)[1] == pytest.approx((1, 0, 0))
    assert mouth_of(((0, 0, 6), (0, 0, -6)))[0] == pytest.approx((0, 0, 0)), "a hole on a stencil"


def test_each_of_two_views_names_what_goes_into_the_holes_that_it_shows(bench):
    on = ((0.0, 40.0, 30.0), (200.0, 40.0, 30.0))
    for notes in ([Cue("note", on, "box", "screws")], [Cue("note", (p,), "box", "screws") for p in on]):
        event = screwed(bench, axis(0, -1), axis(200, 1), *notes)
        views = with_all_holes(stages(event))
        named = [[cue.points for cue in view.show.cues if cue.kind == "note"] for view in views]
        assert named == [[(on[0],)], [(on[1],)]]
        picture = step_picture(bench.timeline(event.show.pieces[0].piece), event, 120.0, 90.0)
        assert bench.texts(picture).count("screws") == 2


def test_holes_that_both_views_show_have_their_axes_in_both(bench):
    front = Cue("drill axis", ((100.0, -18.0, 30.0), (100.0, 6.0, 30.0)), "box")
    note = Cue("note", ((100.0, 0.0, 30.0),), "box", "screws")
    first, second = with_all_holes(stages(screwed(bench, axis(0, -1), axis(200, 1), front, note)))
    assert front in first.show.cues
    assert front in second.show.cues
    assert note in first.show.cues
    assert note in second.show.cues
