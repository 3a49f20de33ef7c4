"""Screws of a step are shown where its pieces are put together, through the wood that they are driven through."""

from dataclasses import replace

import pytest

from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop import Cue, Shown


def rail_and_shelf(bench, apart=(0.0, 90.0, 0.0), lies=True):
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
    together = bench.event("assemble", "back", [Shown(shelf, "worked"), Shown(rail, "worked", apart)])
    return [replace(fitted, made=(rail,)), together]


def test_a_screw_is_driven_from_above_the_wood_that_it_goes_through(bench):
    axis, note = drawn_event(rail_and_shelf(bench)).show.cues
    assert (axis.kind, axis.piece, note.text, note.piece) == ("drill axis", "", "screws", "")
    assert axis.points[0] == pytest.approx((150, 10, 118 + 16))
    assert axis.points[-1] == pytest.approx((150, 10, 94))
    assert note.points[0] == pytest.approx((150, 10, 116))


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
