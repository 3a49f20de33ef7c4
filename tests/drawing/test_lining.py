"""The tone of a lined floor: as much of it as geometry says is seen, and no wood's."""

import math

import pytest
from shapely.geometry import Polygon

from planbook.drawing.marks import Fill
from planbook.drawing.scene import step_picture, step_scale
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown


def lined(bench, high: float):
    """A tray of 100 x 60 mm with walls of 10 mm that rise so high over the floor."""
    tray = block((0, 0, 0), (100, 60, 8 + high)).minus(block((10, 10, 8), (90, 50, 99)))
    ring = ((10.0, 10.0, 8.0), (90.0, 10.0, 8.0), (90.0, 50.0, 8.0), (10.0, 50.0, 8.0))
    return bench.event(
        "line", "top", [Shown(bench.piece("tray", tray), "worked")], [Cue("lining", ring, "tray", "top")]
    )


@pytest.mark.parametrize("high", [5.0, 20.0])
def test_it_covers_what_is_seen_of_the_floor(bench, high):
    event = lined(bench, high)
    scale = step_scale(bench.timeline(), event, 110.0, 80.0)
    picture = step_picture(bench.timeline(), event, 110.0, 80.0)
    (fill,) = [mark for mark in picture.of_layer("lining") if isinstance(mark, Fill)]
    # The eye looks along (-1, 1, -1), so that walls hide as much behind them as they are high; level areas are drawn
    # at 1 / sqrt(3) of their size in an isometric view (ISO 5456-3).
    assert scale is not None
    seen = (80 - high) * (40 - high) / math.sqrt(3) * scale**2
    assert sum(Polygon(ring).area for ring in fill.rings) == pytest.approx(seen, rel=0.02)
    assert not picture.missing


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_no_face_has_its_tone(bench, ink):
    picture = step_picture(bench.timeline(), lined(bench, 10.0), 110.0, 80.0, ink)
    (fill,) = [mark for mark in picture.of_layer("lining") if isinstance(mark, Fill)]
    assert fill.colour not in {mark.colour for mark in picture.of_layer("face") if isinstance(mark, Fill)}
    assert "where it is lined" in picture.alt


def test_a_floor_that_nobody_sees_is_told(bench):
    """A box as deep as this shows nothing of its floor."""
    picture = step_picture(bench.timeline(), lined(bench, 90.0), 110.0, 80.0)
    assert not picture.of_layer("lining")
    assert picture.missing == ("where `tray` is lined",)
