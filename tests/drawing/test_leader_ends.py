"""Where leaders end that name tiny pieces: at their edge, since a dot would hide them."""

import pytest

from planbook.drawing.names import Label, Layout, dot_of, wanted
from planbook.drawing.paper import Paper
from planbook.drawing.words import SHORT, named, to_edges


def layout(wide: float, high: float, islands: int = 1) -> Layout:
    """A name right of rectangles of this size, mm of paper, with its leader running level to the middle of the first."""
    ring = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    face = tuple((tuple((u, v + 9.0 * k) for u, v in ring), ()) for k in range(islands))
    name = wanted("plug", [face])
    dot = (wide / 2, -high / 2)
    box = (20.0, dot[1] - 1.5, 26.0, dot[1] + 1.5)
    return Layout(Paper(1.0, 0.0, 0.0), 40.0, 20.0, 3.0, (Label(name, ("plug",), "right", box, dot),))


@pytest.mark.parametrize("islands", [1, 3])
def test_the_leader_of_a_tiny_piece_stops_at_its_edge_without_a_dot(islands):
    (label,) = to_edges(layout(1.0, 1.2, islands)).labels
    assert label.dot == pytest.approx((1.0 + SHORT, -0.6))
    marks = named([label], 3.0)
    assert not [mark for mark in marks if mark.layer == "dot"]
    assert [mark.points[-1] for mark in marks if mark.layer == "leader"] == [label.dot]


@pytest.mark.parametrize(("wide", "high"), [(2.0, 2.0), (1.0, 8.0)])
def test_what_is_seen_beside_a_dot_keeps_it(wide, high):
    before = layout(wide, high)
    assert to_edges(before) == before
    assert [mark for mark in named(before.labels, 3.0) if mark.layer == "dot"]


def test_what_a_smaller_dot_leaves_in_sight_keeps_it():
    before = layout(1.0, 1.2)
    assert to_edges(before, 0.28) == before


@pytest.mark.parametrize(("gap", "on_face"), [(0.0, True), (9.0, False)])
def test_a_leader_ends_on_a_face_rather_than_on_the_thin_edge_before_it(gap, on_face):
    """A side and its edge, 2 mm wide, nearer to the name by `gap` and that; longer ways are not worth it."""
    side, edge = (
        (((left, 0.0), (right, 0.0), (right, 20.0), (left, 20.0)), ())
        for left, right in ((-20.0, 0.0), (gap, gap + 2.0))
    )
    name = wanted("left side", [(side,), (edge,)])
    box = (gap + 10.0, -11.5, gap + 26.0, -8.5)
    x, _ = dot_of(Label(name, ("left side",), "right", box, (0.0, 0.0)), Paper(1.0, 0.0, 0.0))
    assert (x < 0.0) == on_face
