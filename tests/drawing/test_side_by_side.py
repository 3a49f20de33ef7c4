"""Pairs of pieces in one picture: laid in a row, turned so that the worked faces are seen, or left as they are."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from planbook.drawing.side_by_side import TURNED
from planbook.drawing.steps import drawn_event
from planbook.model import Node
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import Cue, Event, Shown

PLACE = Place("steps.md")


def boards(bench):
    """Two sides of a case, far apart, one behind the other as seen from the side."""
    left = bench.piece("left side", block((0, 0, 0), (20, 180, 500)))
    return left, bench.piece("right side", block((580, 0, 0), (600, 180, 500)))


def work(bench, kind, face, piece, spot) -> Event:
    return bench.event(kind, face, [Shown(piece, "worked")], [Cue("cut line", (spot,), piece.name)])


def test_a_mirrored_pair_is_turned_and_laid_side_by_side(bench):
    left, right = boards(bench)
    shown = drawn_event(
        [
            work(bench, "dado", "right", left, (20.0, 30.0, 40.0)),
            work(bench, "dado", "left", right, (580.0, 30.0, 40.0)),
        ]
    )
    first, second = shown.show.pieces
    assert dict(shown.settings)[TURNED] == ("right side",)
    assert (first.piece, first.apart) == (left, (0, 0, 0))
    (low, high) = second.piece.solid.bounds
    assert low[0] + second.apart[0] == pytest.approx(0)
    # u of a right face is y: the second begins 0.3 of a width beyond the first.
    assert low[1] + second.apart[1] == pytest.approx(180 * 1.3)
    # The cue was turned with the piece: it lies on what is now its right face, as far from the other edge.
    (spot,) = shown.show.cues[1].points
    assert (spot[0], spot[1] - low[1]) == (pytest.approx(high[0]), pytest.approx(150))


def frame_sides(bench):
    """The four boards around a tray, 400 x 300 mm, where they stand."""
    front, back = (bench.piece(name, block((0, y, 0), (400, y + 15, 60))) for name, y in (("front", 0), ("back", 285)))
    left, right = (bench.piece(name, block((x, 0, 0), (x + 15, 300, 60))) for name, x in (("left", 0), ("right", 385)))
    return front, back, left, right


def test_what_is_worked_on_the_inside_all_round_is_turned_to_one_side(bench):
    """Grooves of four sides look at each other in pairs: no view shows more than two of them where they stand."""
    front, back, left, right = frame_sides(bench)
    spots = (("back", front, (0, 15, 8)), ("front", back, (0, 285, 8)))
    spots += (("right", left, (15, 0, 8)), ("left", right, (385, 0, 8)))
    shown = drawn_event([work(bench, "groove", face, piece, spot) for face, piece, spot in spots])
    assert dict(shown.settings)[TURNED] == ("back", "left", "right")
    boxes = [[np.add(c, s.apart) for c in s.piece.solid.bounds] for s in shown.show.pieces]
    assert [np.subtract(high, low).round(6).tolist() for low, high in boxes] == [[400, 15, 60]] * 2 + [
        [300, 15, 60]
    ] * 2
    # All have their worked face level, one below the other, and the middles of the short ones below that of the first.
    assert [high[1] for _, high in boxes] == pytest.approx([15.0] * 4)
    assert [(low[0] + high[0]) / 2 for low, high in boxes] == pytest.approx([200.0] * 4)
    assert all(low[2] > high[2] for (low, _), (_, high) in itertools.pairwise(boxes))
    for cue, each in zip(shown.show.cues, shown.show.pieces, strict=True):
        assert cue.points[0][1] == pytest.approx(each.piece.solid.bounds[1][1])
        assert cue.points[0][2] == pytest.approx(8.0)


def test_faces_that_one_view_shows_are_not_turned(bench):
    front, _, left, _ = frame_sides(bench)
    events = [
        work(bench, "groove", "front", front, (0.0, 0.0, 8.0)),
        work(bench, "groove", "right", left, (15.0, 0.0, 8.0)),
    ]
    assert TURNED not in dict(drawn_event(events).settings)


def test_faces_that_a_sign_names_are_turned_with_their_piece(bench):
    left, right = boards(bench)
    one = work(bench, "round over", "right", left, (20.0, 30.0, 40.0))
    two = work(bench, "round over", "left", right, (580.0, 30.0, 40.0))
    named = [
        replace(each, show=replace(each.show, cues=(*each.show.cues, *(Cue("rounded", (), name, t) for t in faces))))
        for each, name, faces in ((one, "left side", ("right",)), (two, "right side", ("left", "left back", "top")))
    ]
    told = [cue.text for cue in drawn_event(named).show.cues if cue.kind == "rounded"]
    assert told == ["right", "right", "right front", "top"]


def test_several_pieces_of_one_block_are_laid_in_a_row(bench):
    pieces = boards(bench)
    fields = {"pieces": Node((), PLACE)}
    event = bench.event("stick", "left", [Shown(piece, "worked") for piece in pieces], fields=fields)
    first, second = drawn_event([event]).show.pieces
    assert (first.piece, second.piece) == pieces
    assert second.apart == pytest.approx((-580, -180 * 1.3, 0))


def test_what_lies_in_another_piece_is_laid_beside_it_with_all_that_is_worked_alike(bench):
    """Two drawers in their box: each is behind a part of the box, and neither behind the other."""
    case = block((0, 0, 0), (200, 80, 60))
    drawers = [block((x, 0, 10), (x + 60, 70, 40)) for x in (20, 120)]
    pieces = [bench.piece(f"piece {n}", solid) for n, solid in enumerate([*drawers, case])]
    shown = drawn_event([bench.event("line", "top", [Shown(piece, "worked")]) for piece in pieces]).show.pieces
    boxes = [
        [tuple(c + a for c, a in zip(corner, s.apart, strict=True)) for corner in s.piece.solid.bounds] for s in shown
    ]
    fronts = sorted((low[1], high[1]) for low, high in boxes)
    assert all(high < low for (_, high), (low, _) in itertools.pairwise(fronts))


def test_wide_pieces_are_laid_below_one_another(bench):
    shelves = [bench.piece(f"shelf {k}", block((0, 0, 200 * k), (500, 150, 200 * k + 18))) for k in (1, 2)]
    event = bench.event("chamfer", "top", [Shown(piece, "worked") for piece in shelves])
    assert drawn_event([event]).show.pieces[1].apart == pytest.approx((0, -150 * 1.3, -200))


def test_what_does_not_hide_one_another_stays(bench):
    rails = [bench.piece(f"rail {k}", block((0, 0, 200 * k), (500, 18, 200 * k + 90))) for k in (1, 2)]
    event = bench.event("countersink", "front", [Shown(piece, "worked") for piece in rails])
    assert drawn_event([event]) is event


def test_slices_of_one_block_stay_in_their_order(bench):
    left, right = boards(bench)
    one = work(bench, "slice", "left", left, (0.0, 0.0, 0.0))
    two = work(bench, "slice", "left", right, (580.0, 0.0, 0.0))
    object.__setattr__(one, "made", (left, right))
    object.__setattr__(two, "taken", (right,))
    assert [shown.apart for shown in drawn_event([one, two]).show.pieces] == [(0, 0, 0)] * len(
        drawn_event([one, two]).show.pieces
    )


def test_what_is_let_in_one_after_the_other_stands_equally_far_out(bench):
    """Only pieces that were cut off move further away, so that they do not hide the later ones."""
    carcase = bench.piece("carcase", block((0, 0, 0), (400, 100, 100)))
    strips = [bench.piece(name, block((x, 0, 0), (x + 2, 100, 20))) for name, x in (("first", 10), ("second", 300))]
    events = [
        bench.event("shim", "front", [Shown(carcase, "worked"), Shown(strip, "new", (0.0, -110.0, 0.0))])
        for strip in strips
    ]
    for event, strip in zip(events, strips, strict=True):
        object.__setattr__(event, "taken", (carcase, strip))
        object.__setattr__(event, "made", (carcase,))
    shown = {each.piece.name: each.apart for each in drawn_event(events).show.pieces}
    assert shown["first"] == shown["second"] == (0.0, -110.0, 0.0)
