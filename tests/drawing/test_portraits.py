"""The cover, the small pictures of pieces, and the exploded view."""

import itertools
import math
from dataclasses import replace
from types import SimpleNamespace

import pytest
from shapely.geometry import LineString, Point

from planbook.drawing.exploded import exploded_picture
from planbook.drawing.marks import Fill, Stroke
from planbook.drawing.portraits import SHUT, cover_picture, piece_picture
from planbook.drawing.pulled_apart import spread
from planbook.drawing.svg import svg
from planbook.drawing.way_back import SHOWN
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop.timeline import Fitted, Way

CASE = block((0, 0, 0), (100, 100, 80)).minus(block((5, -1, 5), (95, 90, 75)))
DRAWER = block((6, 0, 6), (94, 89, 74)).minus(block((12, 6, 12), (88, 83, 75)))
KNOB = cylinder(FACE_FRAMES["front"], (50, 40), 6, 0, 15)
LID = block((-5, -5, 80), (105, 105, 90))
EDGES = ("outline", "crease")
SOLIDS = [CASE, DRAWER, KNOB, LID]


def build(bench):
    names = ("case", "drawer", "knob", "lid")
    return bench.timeline(*(bench.piece(n, s) for n, s in zip(names, SOLIDS, strict=True)))


def exploded(timeline, width, height, ink="colour"):
    numbers = {piece.name: number for number, piece in enumerate(timeline.object, start=1)}
    return exploded_picture(timeline, numbers, width, height, ink)


def boxes_of(solids, moves):
    return [
        tuple(tuple(c + m for c, m in zip(corner, move, strict=True)) for corner in solid.bounds)
        for solid, move in zip(solids, moves, strict=True)
    ]


def test_pieces_come_apart_along_the_axes_and_do_not_meet():
    moves = spread(SOLIDS)
    assert all(sum(1 for c in move if c) <= 1 for move in moves)
    for (lo, hi), (low, high) in itertools.combinations(boxes_of(SOLIDS, moves), 2):
        assert any(hi[a] <= low[a] or high[a] <= lo[a] for a in range(3))


def test_each_piece_goes_the_way_it_is_free():
    case, drawer, knob, lid = spread(SOLIDS)
    assert case == (0, 0, 0)
    assert drawer[1] < -80  # out of the front
    assert knob[1] < drawer[1]  # before the drawer it sits on
    assert lid[2] > 0
    assert lid[:2] == (0, 0)


def test_pieces_that_cannot_come_apart_are_still_laid_out():
    shell = block((0, 0, 0), (60, 60, 60)).minus(block((10, 10, 10), (50, 50, 50)))
    core = block((11, 11, 11), (49, 49, 49))
    move = spread([shell, core])[1]
    assert 11 + move[2] >= 60


def test_what_is_joined_comes_out_as_a_whole():
    case, drawer, knob, lid = spread(SOLIDS, ["case", "drawer", "drawer", "lid"])
    tray = block((12, 6, 12), (88, 83, 75))
    *_, below = spread([*SOLIDS, tray], ["case", "drawer", "drawer", "lid", "drawer"])
    assert case == (0, 0, 0)
    assert drawer[1] < -80
    assert knob[1] < drawer[1]
    assert lid[:2] == (0, 0)
    assert below[1] < -80  # before the case, though its way out of the drawer is up


def test_what_covers_goes_first():
    core, sides = block((0, 0, 0), (80, 60, 50)), [block((0, y, 0), (80, y + 8, 50)) for y in (-16, -8, 60, 68)]
    moves = spread([core, *sides], ["box"] * 5)
    assert all(move[0] == move[2] == 0 for move in moves)
    assert moves[1][1] < moves[2][1] < 0 < moves[3][1] < moves[4][1]


def test_nothing_and_one_piece_need_no_moves():
    assert spread([]) == ()
    assert spread([CASE]) == ((0.0, 0.0, 0.0),)


def test_the_exploded_view_numbers_every_piece(bench, crossings):
    picture = exploded(build(bench), 120, 110)
    assert sorted(bench.texts(picture)) == ["1", "2", "3", "4"]
    assert len([m for m in picture.of_layer("balloon") if isinstance(m, Fill)]) == 4
    assert crossings(bench.leaders(picture)) == []


def test_the_way_of_a_piece_is_drawn_where_it_is_seen(bench):
    (way,) = exploded(build(bench), 120, 110).of_layer("way")  # of the knob; what the case hides has none
    assert math.dist(*way.points) > SHOWN
    pin = block((50, 2, 2), (93, 4, 4))
    pieces = [bench.piece("post", block((0, 0, 0), (90, 6, 6)).minus(pin)), bench.piece("pin", pin)]
    for width, drawn in ((160, 1), (60, 0)):  # one dash of it is a speck, and no way
        ways = exploded(bench.timeline(*pieces), width, 140).of_layer("way")
        assert len(ways) == drawn
        assert all(isinstance(m, Stroke) and m.pen.dashes for m in ways)


def test_plugs_on_both_sides_of_a_board_have_chain_lines_that_end_at_their_holes(bench):
    """In front of the board that they come out of, and behind it; and so has a shelf that is set against its end."""
    plugs = [cylinder(FACE_FRAMES["front"], (at, 35), 3, *y) for at, y in ((20, (-6, 4)), (72, (-16, -8)))]
    board = block((0, 0, 0), (80, 12, 40)).minus(*plugs)
    shelf = block((-160, 2, 18), (0, 10, 22))
    pieces = [
        bench.piece(name, solid)
        for name, solid in zip(("board", "near", "far", "shelf"), (board, *plugs, shelf), strict=True)
    ]
    picture = exploded(bench.timeline(*pieces), 160, 140)
    ways = picture.of_layer("way")
    assert len(ways) == 3
    edges = [LineString(m.points) for m in picture.marks if isinstance(m, Stroke) and m.layer in EDGES]
    for way in ways:
        assert all(min(Point(end).distance(edge) for edge in edges) < 2.0 for end in way.points), "it ends in the air"
    assert list(picture.marks).index(ways[0]) > max(n for n, m in enumerate(picture.marks) if m.layer == "face")


@pytest.mark.parametrize("deep", [20.0, 10.0, 4.0])
def test_the_way_of_a_knob_leads_to_its_hole_however_little_of_it_is_inside(bench, deep):
    knob = cylinder(FACE_FRAMES["front"], (120, 60), 8, -deep, 30 - deep)
    board = block((0, 0, 0), (240, 30, 120)).minus(knob)
    picture = exploded(bench.timeline(bench.piece("board", board), bench.piece("knob", knob)), 160, 140)
    (way,) = picture.of_layer("way")
    (bed,) = picture.of_layer("way bed")
    assert bed.points == way.points
    assert bed.pen.width > way.pen.width


def test_nothing_leads_to_where_a_hollow_piece_has_no_wood(bench):
    """The middle of the box around an arch is below it: drawn to there, its way would end amid the block."""
    arch = block((0, 0, 40), (120, 40, 100)).minus(cylinder(FACE_FRAMES["front"], (60, 40), 50, -41, 1))
    picture = exploded(
        bench.timeline(bench.piece("block", block((0, 0, 0), (120, 60, 50))), bench.piece("arch", arch)), 160, 140
    )
    assert not picture.of_layer("way")


def test_a_knob_beside_its_drawer_is_not_on_it_as_well(bench):
    board, knob = block((0, 0, 0), (80, 10, 50)), cylinder(FACE_FRAMES["front"], (40, 25), 6, -8, 15)
    whole = replace(bench.piece("board", board.plus(knob)), sources=("board", "knob"))
    timeline = bench.timeline(whole, bench.piece("knob", knob))
    event = SimpleNamespace(made=(whole,), taken=(), show=None)
    numbers = {"board": 1, "knob": 2}
    joined = exploded_picture(replace(timeline, events=(event,)), numbers, 120, 110)
    bored = exploded_picture(
        bench.timeline(bench.piece("board", board.minus(knob)), bench.piece("knob", knob)), numbers, 120, 110
    )
    assert bench.extent(joined)[0::2] == pytest.approx(bench.extent(bored)[0::2], abs=0.5)
    assert len(joined.of_layer("face")) == len(bored.of_layer("face"))


@pytest.mark.parametrize("ink", ["colour", "black"])
@pytest.mark.parametrize("draw", [cover_picture, exploded])
def test_pictures_of_the_object_stay_inside_their_paper(bench, overlaps, draw, ink):
    picture = draw(build(bench), 90, 100, ink)
    left, top, right, bottom = bench.extent(picture)
    assert left >= 0
    assert top >= 0
    assert right <= 90
    assert bottom <= picture.height <= 100
    assert overlaps([*bench.boxes(picture), *bench.boxes(picture, "key")]) == []
    assert "Whimbrel tray" in picture.alt
    assert "drawer" in picture.alt
    assert draw(build(bench), 90, 100, ink) == picture


def test_the_cover_stands_on_its_shadow_and_has_no_words(bench):
    picture = cover_picture(build(bench), 150, 120)
    assert picture.marks[0].layer == "ground"
    assert bench.texts(picture) == []
    assert bench.leaders(picture) == []


def test_beside_what_moves_the_cover_shows_it_opened(bench):
    built = build(bench)
    out = Fitted("drawer slides", "slide", 1.0, None, way=Way("drawer", (0.0, -80.0, 0.0)))
    shut, both = cover_picture(built, 150, 120), cover_picture(replace(built, fits=(out,)), 150, 120)
    halves = [
        [mark for mark in both.marks if mark.layer == "face" and (mark.rings[0][0][0] > SHUT * 150) is second]
        for second in (False, True)
    ]
    assert len(halves[0]) == len(shut.of_layer("face"))
    assert sum(len(mark.rings) for mark in halves[1]) > sum(len(mark.rings) for mark in halves[0])
    assert len(both.of_layer("ground")) == 2
    assert max(y for mark in both.of_layer("ground") for ring in mark.rings for _, y in ring) <= both.height <= 120
    assert both.alt == f"{shut.alt} Beside it the same, opened: drawer."


def test_a_build_without_an_object_has_empty_pictures(bench):
    assert cover_picture(bench.timeline(), 90, 90).marks == ()
    assert exploded(bench.timeline(), 90, 90).marks == ()
    assert exploded_picture(build(bench), {"no such piece": 3}, 90, 90).marks == ()


def test_a_small_picture_fits_and_is_slim(bench):
    for name, solid in (("ring", bench.ring()), ("rail", bench.bored()), ("stick", block((0, 0, 0), (900, 5, 5)))):
        picture = piece_picture(bench.piece(name, solid), 28, 20)
        left, top, right, bottom = bench.extent(picture)
        assert left >= 0
        assert top >= 0
        assert right <= 28
        assert bottom <= picture.height <= 20
        assert len(svg(picture)) < 6000
        assert name in picture.alt


def test_a_small_piece_is_not_blown_up(bench):
    picture = piece_picture(bench.piece("pin", block((0, 0, 0), (3, 3, 3))), 28, 20)
    xs = [p[0] for m in picture.of_layer("face") for ring in m.rings for p in ring]
    assert max(xs) - min(xs) < 4.3  # 3 mm cube: sqrt(2) times its side across


def test_what_holds_everything_comes_off_first_though_it_is_large():
    legs = [block((x, 0, 0), (x + 20, 100, 180)).plus(block((x, 40, 180), (x + 20, 60, 200))) for x in (0, 230)]
    rail = block((10, 40, 100), (240, 60, 140))
    sides = [leg.minus(rail) for leg in legs]
    top = block((-20, -20, 180), (270, 120, 200)).minus(*legs)
    moves = spread([*sides, rail, top])
    assert moves[3][2] > 0
    assert moves[0][0] < moves[2][0] < moves[1][0]
    assert moves[0][1:] == moves[1][1:] == moves[2][1:] == (0, 0)
