"""The previous state as a thin outline: where wood went that nothing shows, and nowhere else."""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, MultiLineString, MultiPoint, Point, Polygon
from shapely.ops import unary_union

from planbook.booklet.legend import legend
from planbook.drawing import ghost
from planbook.drawing.ink import SERIES, USUAL
from planbook.drawing.marks import Stroke
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.steps import drawn_event
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop import Cue, Lost, Shown

ROOM = (98.0, 64.0)
BOARD = ((0.0, 0.0, 0.0), (300.0, 90.0, 30.0))


def worked(bench, kind, face, gone, how="trim", more=(), cues=(), apart=(0.0, 0.0, 0.0)):
    """A board of which some solids are taken away by one operation; `more` pieces lie beside it."""
    whole = bench.piece("board", block(*BOARD))
    made = replace(whole, solid=whole.solid.minus(*gone, *(s.piece.solid for s in more)))
    event = bench.event(kind, face, [Shown(made, "worked", apart), *more], cues)
    lost = tuple(Lost(how, solid, solid.volume) for solid in gone)
    return replace(event, taken=(whole,), made=(made, *(s.piece for s in more)), lost=lost)


def trimmed(bench, far=20.0, **more):
    return worked(bench, "trim", "right", [block((300 - far, 0, 0), BOARD[1])], **more)


def picture_of(bench, *events, **more):
    return step_picture(bench.timeline(), drawn_event(events), *ROOM, **more)


def lines(picture):
    return MultiLineString([m.points for m in picture.of_layer(ghost.LAYER)])


def silhouette(picture):
    """Everything that is filled today."""
    return unary_union([Polygon(r).buffer(0.01) for m in picture.of_layer("face") for r in m.rings if len(r) > 2])


def isometric(points, scale):
    """Points of the world in the home view: right and down on paper, from the textbook matrix (ISO 5456-3)."""
    x, y, z = np.asarray(points, dtype=float).T
    return scale * np.column_stack([(x + y) / math.sqrt(2), (x - y) / math.sqrt(6) - 2 * z / math.sqrt(6)])


def box_of(low, high):
    return [(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]


@pytest.mark.parametrize(
    ("face", "gone", "rest"),
    [
        ("left", ((0, 0, 0), (20, 90, 30)), ((20, 0, 0), (300, 90, 30))),
        ("right", ((280, 0, 0), (300, 90, 30)), ((0, 0, 0), (280, 90, 30))),
    ],
)
def test_the_end_that_was_sawn_off_stands_there_as_an_outline(bench, face, gone, rest):
    event = worked(bench, "trim", "top", [block(*gone)])
    picture, shown = picture_of(bench, event), drawn_event([event])
    scale = step_scale(bench.timeline(), shown, *ROOM)
    drawn, known = silhouette(picture).bounds, MultiPoint(isometric(box_of(*rest), scale)).bounds
    by = (drawn[0] - known[0], drawn[1] - known[1])
    before = MultiPoint(isometric(box_of(*BOARD), scale) + by).convex_hull
    today = MultiPoint(isometric(box_of(*rest), scale) + by).convex_hull
    missing = before.exterior.difference(today.buffer(0.6))
    assert missing.length > 8
    assert missing.difference(lines(picture).buffer(0.15)).length < 0.02 * missing.length
    assert lines(picture).difference(before.buffer(0.05)).length == pytest.approx(0, abs=0.01)
    if face == "left":  # no face of today looks there
        assert lines(picture).intersection(today.buffer(-0.3)).length == pytest.approx(0, abs=0.01)
    else:  # the three edges that meet at the near upper corner are seen, too
        near = Point(isometric([(300, 0, 30)], scale)[0] + by)
        assert sum(LineString(m.points).distance(near) < 0.15 for m in picture.of_layer(ghost.LAYER)) >= 2


def test_it_lies_under_the_lines_of_today_and_within_the_picture(bench):
    picture = picture_of(bench, trimmed(bench))
    layers = [mark.layer for mark in picture.marks]
    assert layers.index(ghost.LAYER) < layers.index("outline")
    left, top, right, bottom = lines(picture).bounds
    assert left >= 0
    assert top >= 0
    assert right <= picture.width
    assert bottom <= picture.height


def test_the_shoulders_of_a_tenon_keep_the_outline_of_the_whole_end(bench):
    around = [block((270, 0, 0), (300, 90, 8)), block((270, 0, 22), (300, 90, 30))]
    picture = picture_of(bench, worked(bench, "tenon", "right", around))
    inside = lines(picture).intersection(silhouette(picture).buffer(-0.3)).length
    # What is gone stood before the shoulder and the tongue, too.
    assert 3 < inside < lines(picture).length


@pytest.mark.parametrize(
    "why",
    ["too thin to tell from a thick line", "the offcut lies beside it", "a hole has no edges", "it would be too large"],
)
def test_it_is_left_out_where_it_does_not_help(bench, why):
    end = Shown(bench.piece("end", block((262, 0, 0), BOARD[1])), "new", (40.0, 0.0, 0.0))
    event = {
        "too thin to tell from a thick line": trimmed(bench, far=2.0),
        "the offcut lies beside it": worked(
            bench, "crosscut", "right", [block((260, 0, 0), (262, 90, 30))], "kerf", more=[end]
        ),
        "a hole has no edges": worked(
            bench, "bore", "top", [cylinder(FACE_FRAMES["top"], (150, 45), 15, -1, 31)], "hole"
        ),
        "it would be too large": trimmed(bench, far=200.0),
    }[why]
    picture = picture_of(bench, event)
    assert not picture.of_layer(ghost.LAYER)
    assert "thin line" not in picture.alt


def test_what_stands_before_it_hides_it(bench):
    free = lines(picture_of(bench, trimmed(bench))).length
    fence = bench.piece("fence", block((270, -40, -10), (310, -20, 60)), "black walnut")
    event = trimmed(bench)
    event = replace(event, show=replace(event.show, pieces=(*event.show.pieces, Shown(fence, "worked"))))
    picture = picture_of(bench, event)
    # Its faces are the only ones in walnut.
    plain = {m.colour for m in picture_of(bench, trimmed(bench)).of_layer("face")}
    dark = [m for m in picture.of_layer("face") if m.colour not in plain]
    covered = unary_union([Polygon(r) for m in dark for r in m.rings])
    assert covered.area > 50
    assert 0 < lines(picture).length < free
    assert lines(picture).intersection(covered.buffer(-0.3)).length == pytest.approx(0, abs=0.01)


def test_a_line_to_cut_where_the_old_edge_was_stands_for_it(bench):
    gone = block((0, 0, 15), (300, 30, 30))
    rim = Cue("cut line", ((0.0, 0.0, 30.0), (300.0, 0.0, 30.0)), "board")
    with_line = picture_of(bench, worked(bench, "rabbet", "top", [gone], cues=[rim]))
    without = picture_of(bench, worked(bench, "rabbet", "top", [gone]))
    (cut, *_) = with_line.of_layer("cut line")
    assert lines(without).length - lines(with_line).length > 0.9 * LineString(cut.points).length


def test_two_cuts_of_one_step_are_both_shown(bench):
    first = trimmed(bench)
    far = block((0, 0, 0), (20, 90, 30))
    (board,) = first.made
    again = replace(board, solid=board.solid.minus(far))
    show = replace(first.show, pieces=(Shown(again, "worked"),))
    second = replace(first, taken=(board,), made=(again,), lost=(Lost("trim", far, far.volume),), show=show)
    picture = picture_of(bench, first, second)
    found, today = lines(picture), silhouette(picture).bounds
    assert found.bounds[0] < today[0] - 2
    assert found.bounds[2] > today[2] + 2


def test_it_is_drawn_in_a_line_of_its_own_that_black_ink_shows(bench):
    for ink in ("colour", "black"):
        pens = {m.pen for m in picture_of(bench, trimmed(bench), ink=ink).of_layer(ghost.LAYER)}
        assert pens == {ghost.PEN}
    # ISO 128-2: long dash, gap, dot, gap, dot, gap; narrow is at most half of wide, and both are of the series.
    assert len(ghost.PEN.dashes) == 6
    assert ghost.PEN.dashes[0] > 10 * ghost.PEN.width > ghost.PEN.dashes[2]
    assert ghost.PEN.width in SERIES
    assert ghost.PEN.width <= USUAL.outline / 2
    for ink in ("colour", "black"):
        assert any(
            isinstance(mark, Stroke) and mark.pen == ghost.PEN
            for row in legend({ghost.LAYER}, (), ink)
            for mark in row.picture.marks
        )


def test_the_alternative_text_tells_it(bench):
    assert "A thin line shows what was there before." in picture_of(bench, trimmed(bench)).alt


def test_names_keep_clear_of_it(bench):
    for kind, face, gone in (
        ("trim", "right", block((270, 0, 0), BOARD[1])),
        ("trim", "left", block(BOARD[0], (30, 90, 30))),
    ):
        picture = picture_of(bench, worked(bench, kind, face, [gone]))
        assert picture.of_layer(ghost.LAYER)
        for left, top, right, bottom in bench.boxes(picture):
            words = Polygon([(left, top), (right, top), (right, bottom), (left, bottom)])
            assert not words.intersects(lines(picture))


def test_a_pair_that_is_turned_about_takes_its_gone_wood_along(bench):
    def side(name, x, out):
        whole = bench.piece(name, block((x, 0, 0), (x + 20, 180, 500)))
        gone = block((x, 0, 470), (x + 20, 180, 500))
        made = replace(whole, solid=whole.solid.minus(gone))
        event = bench.event("rabbet", out, [Shown(made, "worked")])
        return replace(event, taken=(whole,), made=(made,), lost=(Lost("trim", gone, gone.volume),))

    shown = drawn_event([side("left side", 0.0, "right"), side("right side", 580.0, "left")]).show.pieces
    for each in shown:
        (gone,) = each.gone
        assert each.piece.solid.plus(gone).extent == pytest.approx((20, 180, 500), abs=1e-6)
