"""Lines to cut on step pictures: along what is really sawn, and where a reader sees them."""

from pathlib import Path

import pytest
from shapely.geometry import LineString

from planbook.drawing.marks import Picture, Stroke
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_event
from planbook.reader import read_design
from planbook.workshop.run import build

SAMPLES = Path(__file__).parents[2] / "designs"


@pytest.fixture(scope="module")
def curlew():
    return build(read_design(SAMPLES / "curlew-box").design)


def picture_of(timeline, number: int) -> Picture:
    event = drawn_event(timeline.of_step(timeline.design.steps[number - 1]))
    return step_picture(timeline, event, 110.0, 80.0)


def cut(picture: Picture) -> float:
    """How long the line to cut is, mm on paper, without its bed."""
    strokes = [mark for mark in picture.of_layer("cut line") if isinstance(mark, Stroke)]
    return sum(LineString(mark.points).length for mark in strokes) / 2


@pytest.mark.parametrize("number", [4, 5, 6])
def test_no_line_runs_along_edges_where_nothing_comes_off(curlew, number):
    """The arch of the box stands on the lower edge of its blank and as wide: its stencil shows the arch alone."""
    picture = picture_of(curlew, number)
    lines = [mark for mark in picture.of_layer("cut line") if isinstance(mark, Stroke)]
    assert len({mark.points for mark in lines}) == 1
    assert not any(mark.closed for mark in lines)
    low = max(p[1] for mark in lines for p in mark.points)
    edges = [mark for mark in picture.marks if isinstance(mark, Stroke) and mark.layer == "outline"]
    assert low < max(p[1] for mark in edges for p in mark.points) - 5.0
