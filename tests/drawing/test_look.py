"""What is seen of pieces: areas of faces, woods and shades, worked out by hand."""

import math

import pytest
from shapely.geometry import Polygon

from planbook.drawing.ink import DIM, FULL, LEVELS, OFFSET, base, level_light, light, painted, tone
from planbook.drawing.look import flat_all, hidden_lines, look, plain_look
from planbook.drawing.paint import SHADOW
from planbook.drawing.surfaces import wood_surfaces
from planbook.drawing.views import HOME
from planbook.handbook import BUILT_IN
from planbook.solids import FACE_FRAMES, Area
from planbook.solids.solid import block, prism
from planbook.solids.visible import isometric, orthographic

STILL = (0.0, 0.0, 0.0)
WOODS = ("black walnut", "sugar maple", "black cherry")


def _area(polygons) -> float:
    def ring(points):
        turns = zip(points, (*points[1:], points[0]), strict=True)
        return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in turns)) / 2

    return sum(ring(outer) - sum(ring(hole) for hole in holes) for outer, holes in polygons)


def test_each_wood_has_its_share_of_a_face(bench):
    blank = bench.layered("blank", block((0, 0, 0), (80, 60, 40)), (0, 10, 15, 40), WOODS)
    seen = look(((blank, STILL),), orthographic("front"))
    assert [(f.wood, round(f.area)) for f in seen.faces] == [("black cherry", 3200)]
    assert {f.wood: round(_area(f.polygons)) for f in seen.inlays} == {"black walnut": 800, "sugar maple": 400}
    seams = [line.points for line in seen.lines if line.kind == "seam"]
    assert sorted(round(p[1]) for points in seams for p in (points[0], points[-1])) == [10, 10, 15, 15]


def test_each_wood_has_its_share_of_a_curved_surface(bench):
    drum = bench.layered("drum", bench.drum(60), (0, 20, 50, 60), WOODS)
    seen = look(((drum, STILL),), orthographic("front"))
    shares = {f.wood: _area(f.polygons) for f in seen.inlays}
    # An ellipse 130 mm wide, seen from the side.
    assert shares["black walnut"] == pytest.approx(130 * 20, rel=1e-3)
    assert shares["black cherry"] == pytest.approx(130 * 10, rel=1e-3)


def test_a_wood_that_stands_out_keeps_its_side(bench):
    """Two boards glued face to face, one taller: its bare side is one face, the buried part is not seen."""
    low, tall = block((0, 0, 0), (50, 50, 20)), block((50, 0, 0), (100, 50, 60))
    piece = bench.piece("step", low.plus(tall))
    members = tuple(
        type(piece.members[0])(w, w, (1.0, 0.0, 0.0), s, s.bounds)
        for w, s in (("sugar maple", low), ("black walnut", tall))
    )
    step = type(piece)("step", low.plus(tall), members, piece.at)
    seen = look(((step, STILL),), orthographic("left"))
    assert sorted((f.wood, round(f.area)) for f in seen.faces) == [("black walnut", 2000), ("sugar maple", 1000)]
    assert seen.inlays == ()


def test_joints_inside_lie_on_no_surface(bench):
    blank = bench.layered("blank", block((0, 0, 0), (80, 60, 40)), (0, 10, 15, 40), WOODS)
    woods = wood_surfaces(blank)
    assert woods.names[0] == "black cherry"
    on = {k: {int(wood) for wood in woods.wood[woods.surface == k]} for k in range(6)}
    assert sorted(len(others) for others in on.values()) == [0, 1, 2, 2, 2, 2]


def test_one_wood_in_several_boards_has_no_seams(bench):
    blank = bench.layered("blank", block((0, 0, 0), (80, 60, 40)), (0, 10, 15, 40), ("white oak",) * 3)
    assert not [line for line in look(((blank, STILL),), HOME).lines if line.kind == "seam"]


def test_shades_cover_a_curved_surface_without_overlap(bench):
    drum = bench.piece("drum", bench.drum())
    seen = look(((drum, STILL),), HOME)
    side = next(f for f in seen.faces if f.curved)
    assert sum(_area(s.polygons) for s in seen.shades) == pytest.approx(side.area, rel=1e-4)
    assert len({s.level for s in seen.shades}) >= 3


def test_a_piece_of_no_known_wood_is_drawn_all_the_same(bench):
    plain = bench.piece("thing", block((0, 0, 0), (9, 9, 9)), "unobtainium")
    bare = type(plain)("bare", plain.solid, (), plain.at)
    seen = look(((plain, STILL), (bare, (30.0, 0.0, 0.0))), HOME)
    assert {f.wood for f in seen.faces} == {"unobtainium", ""}


def test_moved_pieces_are_seen_where_they_lie(bench):
    cube = bench.piece("cube", block((0, 0, 0), (10, 10, 10)))
    left, _, right, _ = look(((cube, STILL), (cube, (90.0, 0.0, 0.0))), orthographic("front")).bounds
    assert (left, right) == pytest.approx((0, 100))


def test_faces_know_the_plane_they_lie_in(bench):
    cube = bench.piece("cube", block((0, 0, 0), (10, 20, 30)))
    (face,) = look(((cube, (0.0, -5.0, 0.0)),), orthographic("front")).faces
    assert face.lies_on((3.0, -5.0, 7.0), (0.0, -1.0, 0.0))
    assert not face.lies_on((3.0, 0.0, 7.0), (0.0, -1.0, 0.0))
    assert not face.lies_on((3.0, -5.0, 7.0), (0.0, 1.0, 0.0))


def test_a_plain_look_sees_the_same_area(bench):
    placed = ((bench.piece("ring", bench.ring()), STILL),)
    # The front half of the outer wall, 25 mm high, and what shows of the inner wall above the rim's edge.
    assert plain_look(placed, orthographic("top")).area_of(0) == pytest.approx(math.pi * (50**2 - 34**2), rel=2e-3)
    assert plain_look(placed, HOME).area_of(0) == pytest.approx(look(placed, HOME).area_of(0))


def test_hidden_lines_are_those_of_the_piece_behind(bench):
    core = bench.piece("core", block((10, 10, 10), (50, 50, 50)))
    shell = bench.piece("shell", block((0, 0, 0), (60, 60, 60)).minus(block((9, 9, 9), (51, 51, 51))))
    lines = hidden_lines(((core, STILL), (shell, STILL)), orthographic("front"), 0)
    points = [p for line in lines for p in line.points]
    assert (min(p[0] for p in points), max(p[0] for p in points)) == pytest.approx((10, 50))


def test_sides_of_an_upright_box_lie_far_from_where_two_tones_meet():
    """So the flat part of a rounded side keeps to one tone, though its normals waver a little at the rounding."""
    view = isometric()
    for normal in ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)):
        amount = (min(max(light(normal, view), DIM), FULL) - DIM) / (FULL - DIM)
        step = amount * LEVELS + OFFSET
        assert 0.15 < step % 1.0 < 0.85
        # And a tone is that of a flat side in the same light, to less than a hundredth.
        assert tone(level_light(int(step)), "colour") == pytest.approx(tone(light(normal, view), "colour"), abs=0.015)


@pytest.mark.parametrize("wood", ["black walnut", "sugar maple", "black cherry", "white oak"])
def test_a_curved_surface_has_the_colour_of_a_flat_one_in_the_same_light(wood):
    """The fill and the shade over it, as a reader mixes them (normal blending), beside the colour of a flat side."""
    row = BUILT_IN.wood(wood)
    assert row is not None
    own, dark = base(row.tint, "worked", "colour"), [int(SHADOW[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    for factor in (0.8, 0.9):
        flat = [int(painted(own, factor, "colour")[k : k + 2], 16) / 255 for k in (1, 3, 5)]
        shaded = [factor * c + (1 - factor) * d for c, d in zip(own, dark, strict=True)]
        assert shaded == pytest.approx(flat, abs=0.017)


@pytest.mark.parametrize("normal", [(0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)])
def test_sides_that_share_a_rounding_have_one_tone_up_to_it(bench, normal):
    """A block rounded around its top, where the roundings of two sides meet in a crease: the sides themselves are flat."""
    turns = [math.pi / 2 * k / 10 for k in range(11)]
    right = [(92 + 8 * math.sin(t), 22 + 8 * math.cos(t)) for t in reversed(turns)]
    profile = [(0.0, 0.0), (100.0, 0.0), *right, *((100 - u, v) for u, v in reversed(right))]
    across, along = (prism(Area.of(profile), FACE_FRAMES[face].at((0, 0, 0)), -100, 100) for face in ("front", "right"))
    view = HOME
    seen = look(((bench.piece("base", across.meet(along)), STILL),), view)
    (x, y, z), (u, v, w) = (4, 4, 4), (96, 96, 18)
    corners = {
        (0.0, -1.0, 0.0): ((x, 0, z), (u, 0, z), (u, 0, w), (x, 0, w)),
        (1.0, 0.0, 0.0): ((100, y, z), (100, v, z), (100, v, w), (100, y, w)),
        (0.0, 0.0, 1.0): ((12, 12, 30), (88, 12, 30), (88, 88, 30), (12, 88, 30)),
    }[normal]
    side = Polygon(flat_all(view, corners))
    amount = (min(max(light(normal, view), DIM), FULL) - DIM) / (FULL - DIM)
    own = int(amount * LEVELS + OFFSET)
    areas = {own: 0.0}
    for shade in seen.shades:
        for outer, holes in shade.polygons:
            areas[shade.level] = areas.get(shade.level, 0.0) + Polygon(outer, holes).intersection(side).area
    assert areas[own] > 0.99 * side.area
