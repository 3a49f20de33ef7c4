"""Hidden-line pictures whose lengths and areas can be worked out by hand."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import pytest
from manifold3d import Manifold

from planbook.solids.visible import Body, Seen, View, isometric, looking, orthographic, see

SHORT = math.sqrt(2 / 3)  # isometric foreshortening of an edge, descriptive geometry
CORNERS = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def prism(key: str, outline: Sequence[Sequence[float]], levels: Sequence[float], tagged: bool = False) -> Body:
    """A convex outline in x and y, drawn up through levels of z; `tagged`: each storey has its own tag."""
    count, storeys = len(outline), len(levels) - 1
    vertices = np.array([(x, y, z) for z in levels for x, y in outline], dtype=np.float64)
    triangles, tags = [], []
    for k in range(1, count - 1):
        triangles += [(0, k + 1, k), (storeys * count, storeys * count + k, storeys * count + k + 1)]
        tags += [0, storeys - 1]
    for storey in range(storeys):
        for k in range(count):
            a, b = storey * count + k, storey * count + (k + 1) % count
            triangles += [(a, b, b + count), (a, b + count, a + count)]
            tags += [storey, storey]
    return Body(key, vertices, np.array(triangles), np.array(tags) if tagged else None)


def block(key: str, corner: Sequence[float], size: Sequence[float]) -> Body:
    body = prism(key, CORNERS, (0.0, 1.0))
    return Body(key, body.vertices * np.array(size) + np.array(corner), body.triangles)


def circle(radius: float, count: int, middle: Sequence[float] = (0.0, 0.0)) -> list[tuple[float, float]]:
    turn = [2 * math.pi * k / count for k in range(count)]
    return [(middle[0] + radius * math.cos(t), middle[1] + radius * math.sin(t)) for t in turn]


def from_solid(key: str, solid: Manifold) -> Body:
    mesh = solid.to_mesh64()
    return Body(key, np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64))


def torus(key: str, large: float, small: float, around: int, across: int) -> Body:
    t, s = np.meshgrid(np.arange(around) * 2 * np.pi / around, np.arange(across) * 2 * np.pi / across, indexing="ij")
    reach = large + small * np.cos(s)
    vertices = np.stack([reach * np.cos(t), reach * np.sin(t), small * np.sin(s)], -1).reshape(-1, 3)
    i, j = (grid.reshape(-1) for grid in np.meshgrid(np.arange(around), np.arange(across), indexing="ij"))
    a, b = i * across + j, (i + 1) % around * across + j
    c, d = (i + 1) % around * across + (j + 1) % across, i * across + (j + 1) % across
    return Body(key, vertices, np.concatenate([np.stack([a, b, c], 1), np.stack([a, c, d], 1)]))


def length(seen: Seen, *kinds: str, body: str | None = None) -> float:
    """Length of the strokes of some kinds (all but hidden when none is named)."""
    wanted = kinds or ("outline", "crease", "seam")
    strokes = [s for s in seen.strokes if s.kind in wanted and body in (None, s.body)]
    return sum(math.dist(p, q) for s in strokes for p, q in zip(s.points, s.points[1:], strict=False))


def turned(body: Body, degrees: Sequence[float], single: bool = False) -> Body:
    """The body rotated about x, then y, then z; with `single`, its corners rounded to single precision."""
    a, b, c = np.radians(degrees)
    x = np.array([[1, 0, 0], [0, np.cos(a), -np.sin(a)], [0, np.sin(a), np.cos(a)]])
    y = np.array([[np.cos(b), 0, np.sin(b)], [0, 1, 0], [-np.sin(b), 0, np.cos(b)]])
    z = np.array([[np.cos(c), -np.sin(c), 0], [np.sin(c), np.cos(c), 0], [0, 0, 1]])
    vertices = body.vertices @ (z @ y @ x).T
    return Body(body.key, vertices.astype(np.float32).astype(np.float64) if single else vertices, body.triangles)


@pytest.mark.parametrize("view", [isometric(q, above) for q in range(4) for above in (True, False)])
def test_isometric_cube_is_a_hexagon_of_three_rhombi(view: View) -> None:
    seen = see([block("cube", (5, -7, 3), (100, 100, 100))], view)
    assert [p.area for p in seen.patches] == pytest.approx([100**2 / math.sqrt(3)] * 3, rel=1e-6)
    assert not any(p.curved for p in seen.patches)
    hexagon, *rest = seen.strokes
    assert (hexagon.kind, hexagon.points[0], len(hexagon.points)) == ("outline", hexagon.points[-1], 7)
    assert [(s.kind, len(s.points)) for s in rest] == [("crease", 2)] * 3
    sides = [math.dist(p, q) for s in seen.strokes for p, q in zip(s.points, s.points[1:], strict=False)]
    assert sides == pytest.approx([100 * SHORT] * 9, rel=1e-5)


def test_patch_tells_its_normal_depth_and_ring() -> None:
    top = max(see([block("cube", (0, 0, 0), (10, 20, 30))], isometric()).patches, key=lambda p: p.normal[2])
    assert top.normal == pytest.approx((0, 0, 1))
    assert top.depth == pytest.approx(np.dot((5, 10, 30), isometric().toward))
    ((outer, holes),) = top.polygons
    assert (len(outer), holes) == (4, ())


def test_bounds_are_those_of_the_picture() -> None:
    seen = see([block("b", (1, 2, 3), (10, 20, 30))], orthographic("front"))
    assert seen.bounds == pytest.approx((1, 3, 11, 33))


def test_hidden_edges_of_a_cube() -> None:
    seen = see([block("cube", (0, 0, 0), (50, 50, 50))], isometric(), hidden=True)
    assert length(seen, "hidden") == pytest.approx(3 * 50 * SHORT, rel=1e-5)
    assert length(seen) == pytest.approx(9 * 50 * SHORT, rel=1e-5)


@pytest.mark.parametrize("face", ["front", "back", "left", "right", "top", "bottom"])
def test_orthographic_block_is_one_rectangle(face: str) -> None:
    sides = {"front": (30, 50), "back": (30, 50), "left": (40, 50), "right": (40, 50)}.get(face, (30, 40))
    seen = see([block("b", (0, 0, 0), (30, 40, 50))], orthographic(face), hidden=True)
    assert [p.area for p in seen.patches] == pytest.approx([sides[0] * sides[1]])
    assert [(s.kind, len(s.points)) for s in seen.strokes] == [("outline", 5)]
    assert length(seen) == pytest.approx(2 * sum(sides))


def test_bore_shows_a_whole_ellipse_and_the_far_wall() -> None:
    cube = Manifold.cube((100, 100, 100))
    solid = cube - Manifold.cylinder(300, 20, 20, 48).translate((50, 50, -100))
    seen = see([from_solid("cube", solid)], isometric())
    # 100 mm deep and 40 mm wide: nothing is seen through it, so the mouth is filled with wall.
    mouth = 48 / 2 * 20**2 * math.sin(2 * math.pi / 48) / math.sqrt(3)
    (wall,) = [p for p in seen.patches if p.curved]
    assert wall.area == pytest.approx(mouth, rel=1e-5)
    top = max(seen.patches, key=lambda p: p.normal[2])
    assert top.area == pytest.approx(100**2 / math.sqrt(3) - mouth, rel=1e-5)
    assert [len(holes) for _, holes in top.polygons] == [1]
    rim = np.array([*circle(20, 48), circle(20, 48)[0]])
    shown = np.stack([(rim[:, 0] + rim[:, 1]) / math.sqrt(2), (rim[:, 1] - rim[:, 0]) / math.sqrt(6)], 1)
    ellipse = float(np.hypot(*np.diff(shown, axis=0).T).sum())
    assert length(seen) == pytest.approx(9 * 100 * SHORT + ellipse, rel=1e-5)


def test_see_through_a_tunnel() -> None:
    tunnel = Manifold.cube((100, 40, 100)) - Manifold.cube((30, 60, 20)).translate((40, -10, 50))
    front, behind = from_solid("front", tunnel), block("behind", (45, 80, 0), (100, 10, 65))
    seen = see([front, behind], orthographic("front"))
    assert seen.visible_area("front") == pytest.approx(100 * 100 - 30 * 20, rel=1e-6)
    # Through the tunnel 25 x 15 of it; 45 x 65 stands out at the side.
    assert seen.visible_area("behind") == pytest.approx(25 * 15 + 45 * 65, rel=1e-6)
    inside = 25 + 15
    assert length(seen, body="behind") == pytest.approx(inside + 45 + 65 + 45, rel=1e-6)


def test_l_shape_behind_a_block() -> None:
    foot, leg = Manifold.cube((100, 10, 20)), Manifold.cube((20, 10, 80))
    shape = from_solid("l", foot + leg)
    seen = see([shape, block("block", (50, -30, -10), (100, 10, 60))], orthographic("front"), hidden=True)
    # 50 of the lower edge, 20 of the end and 50 of the upper edge of the foot lie behind the block.
    assert length(seen, "hidden") == pytest.approx(120, rel=1e-6)
    assert length(seen, body="block") == pytest.approx(320, rel=1e-6)
    assert length(seen) == pytest.approx(320 + 360 - 120, rel=1e-6)
    assert seen.visible_area("l") == pytest.approx(100 * 20 + 20 * 60 - 50 * 20, rel=1e-6)


def test_block_that_hides_exactly_half() -> None:
    seen = see(
        [block("far", (0, 50, 0), (100, 10, 100)), block("near", (50, 0, 0), (50, 10, 100))],
        orthographic("front"),
    )
    assert seen.visible_area("far") == pytest.approx(5000, rel=1e-6)
    assert seen.visible_area("near") == pytest.approx(5000, rel=1e-6)
    assert length(seen) == pytest.approx(500, rel=1e-6)


@pytest.mark.parametrize("angles", [(0, 0, 0), (17, 31, 55), (-64, 8, 140)])
@pytest.mark.parametrize("single", [False, True])
def test_touching_cubes_have_one_line_between_them(angles: tuple[float, ...], single: bool) -> None:
    pair = [block("a", (0, 0, 0), (70, 70, 70)), block("b", (70, 0, 0), (70, 70, 70))]
    whole = turned(block("whole", (0, 0, 0), (140, 70, 70)), angles)
    seen = see([turned(body, angles, single) for body in pair], isometric())
    alone = see([whole], isometric())
    tops = sum(p.area for p in alone.patches)
    assert seen.visible_area("a") + seen.visible_area("b") == pytest.approx(tops, rel=1e-5)
    assert len([s for s in seen.strokes if s.kind == "seam"]) == 1
    # The joint is a square; of each pair of its opposite sides one is seen.
    corner, along_y, along_z = turned(pair[0], angles).vertices[[0, 3, 4]]
    shown = np.array([isometric().right, isometric().up])
    joint = sum(float(np.linalg.norm(shown @ (end - corner))) for end in (along_y, along_z))
    assert length(seen, "seam") == pytest.approx(joint, rel=1e-4)
    assert length(seen, "outline", "crease") == pytest.approx(length(alone), rel=1e-5)


def test_the_first_of_two_bodies_in_one_place_wins() -> None:
    cubes = [block("one", (0, 0, 0), (60, 60, 60)), block("two", (0, 0, 0), (60, 60, 60))]
    seen = see(cubes, isometric())
    assert {p.body for p in seen.patches} == {"one"} == {s.body for s in seen.strokes}
    assert length(seen) == pytest.approx(9 * 60 * SHORT, rel=1e-5)
    flush = [block("low", (0, 0, 0), (60, 60, 60)), block("top", (20, 20, 30), (20, 20, 30))]
    assert see(flush, orthographic("top")).visible_area("top") == 0
    assert see(flush[::-1], orthographic("top")).visible_area("top") == pytest.approx(400)


def test_a_thousand_glued_cubes() -> None:
    cubes = [block(f"{x} {y} {z}", (x, y, z), (1, 1, 1)) for x in range(10) for y in range(10) for z in range(10)]
    seen = see(cubes, isometric())
    assert len({p.body for p in seen.patches}) == 1000 - 9**3
    assert sum(p.area for p in seen.patches) == pytest.approx(3 * 100 / math.sqrt(3), rel=1e-5)
    # Nine edges of the large cube, and on each of its three faces nine joints both ways.
    assert length(seen) == pytest.approx((9 + 3 * 18) * 10 * SHORT, rel=1e-5)


@pytest.mark.parametrize(("count", "shown"), [(3, 36), (21, 0)])
def test_a_crowd_has_no_lines_for_what_is_wholly_hidden(count: int, shown: int) -> None:
    # Nine squares of side 1 are dashed; 441 cubes have more than 5,000 edges, which are too many.
    cubes = [block(f"{x} {z}", (2 * x, 9, 2 * z), (1, 1, 1)) for x in range(count) for z in range(count)]
    screen = block("screen", (-1, 0, -1), (2 * count + 1, 1, 2 * count + 1))
    seen = see([screen, *cubes], orthographic("front"), hidden=True)
    assert length(seen, "hidden") == pytest.approx(shown, rel=1e-5)
    assert length(seen, "outline") == pytest.approx(4 * (2 * count + 1), rel=1e-5)


def test_a_ball_of_a_hundred_thousand_triangles_is_a_disc() -> None:
    mesh = Manifold.sphere(50.0, 640).to_mesh64()
    points, triangles = np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64)
    ball = Body("ball", points, triangles)
    assert len(ball.triangles) > 100_000
    seen = see([ball], isometric())
    (patch,) = seen.patches
    assert patch.curved
    assert patch.area == pytest.approx(math.pi * 50.0**2, rel=1e-3)
    assert sum(math.dist(p, q) for s in seen.strokes for p, q in pairwise(s.points)) == pytest.approx(
        2 * math.pi * 50.0, rel=2e-3
    )


def test_tags_part_a_flush_face_with_a_seam() -> None:
    outline = [(0, 0), (80, 0), (80, 80), (0, 80)]
    seen = see([prism("stack", outline, (0, 30, 60), tagged=True)], isometric())
    plain = see([prism("stack", outline, (0, 30, 60))], isometric())
    assert sorted(p.tag for p in seen.patches) == [0, 0, 1, 1, 1]
    assert length(seen, "seam") == pytest.approx(2 * 80 * SHORT, rel=1e-5)
    assert length(plain) == pytest.approx(length(seen, "outline", "crease"), rel=1e-9)
    assert len(plain.patches) == 3


def test_a_cylinder_shows_no_facets() -> None:
    seen = see([prism("drum", circle(40, 64), (0, 70))], isometric())
    side, top = sorted(seen.patches, key=lambda p: p.normal[2])
    assert (side.curved, top.curved) == (True, False)
    assert {s.kind for s in seen.strokes} == {"outline", "crease"}
    assert len(seen.strokes) == 2
    # Two generating lines are all that is straight and long.
    long = [
        math.dist(p, q)
        for s in seen.strokes
        for p, q in zip(s.points, s.points[1:], strict=False)
        if math.dist(p, q) > 10
    ]
    assert long == pytest.approx([70 * SHORT] * 2, rel=1e-5)


def test_the_crease_angle_decides_about_facets() -> None:
    column = prism("column", circle(40, 8), (0, 70))
    assert len(see([column], looking(10, 20)).patches) == 5
    assert len(see([column], looking(10, 20), crease_deg=60).patches) == 2


def test_a_ring_that_hides_part_of_itself() -> None:
    seen = see([torus("ring", 50, 20, 96, 48)], looking(20, 15))
    assert [(p.curved, len(p.polygons)) for p in seen.patches] == [(True, 1)]
    assert {s.kind for s in seen.strokes} == {"outline"}
    closed = [s for s in seen.strokes if s.points[0] == s.points[-1]]
    assert len(closed) == 1
    fold = [s for s in seen.strokes if s not in closed]
    # The near lip of the hole: the top of the tube 50 mm in front of the middle, 20 mm above its own middle.
    u, v = np.array([point for s in fold for point in s.points]).T
    assert v.min() == pytest.approx(20 - 50 * math.sin(math.radians(15)), abs=0.1)
    assert u.min() == pytest.approx(-u.max(), abs=3)


def test_a_post_driven_through_a_board() -> None:
    board, post = block("board", (0, 0, 0), (100, 100, 10)), block("post", (40, 40, -50), (20, 20, 100))
    seen = see([board, post], isometric())
    above = (20 * 20 + 2 * 20 * 40) / math.sqrt(3)
    assert seen.visible_area("post") > above
    line = [s for s in seen.strokes if s.kind == "crease" and s.body == "board"]
    joint = sum(math.dist(p, q) for s in line for p, q in zip(s.points, s.points[1:], strict=False))
    # Two edges of the board under its top, a short corner, and the two sides of the post in the board.
    assert joint == pytest.approx((100 + 100 + 10 + 20 + 20) * SHORT, rel=1e-4)


@pytest.mark.parametrize(
    "body",
    [
        Body("empty", np.empty((0, 3)), np.empty((0, 3), dtype=np.int64)),
        Body("loose points", np.zeros((4, 3)), np.empty((0, 3), dtype=np.int64)),
        Body("point", np.zeros((3, 3)), np.array([[0, 1, 2]])),
        Body("needle", np.array([[0.0, 0, 0], [1, 1, 1], [2, 2, 2]]), np.array([[0, 1, 2]])),
        Body("no number", np.array([[0.0, 0, 0], [1, 0, 0], [0, np.nan, 0]]), np.array([[0, 1, 2]])),
    ],
    ids=lambda body: body.key,
)
@pytest.mark.parametrize("hidden", [False, True])
def test_nothing_to_see(body: Body, hidden: bool) -> None:
    assert see([body], isometric(), hidden=hidden) == Seen((), (), (0.0, 0.0, 0.0, 0.0))
    cube = block("cube", (0, 0, 0), (10, 10, 10))
    assert length(see([body, cube], isometric())) == pytest.approx(90 * SHORT, rel=1e-5)
    assert see([], isometric()).patches == ()


def test_a_single_triangle_is_seen_from_its_front_only() -> None:
    sheet = Body("sheet", np.array([[0.0, 0, 0], [30, 0, 0], [0, 40, 0]]), np.array([[0, 1, 2]]))
    seen = see([sheet], orthographic("top"))
    assert (seen.visible_area("sheet"), length(seen)) == pytest.approx((600, 120))
    assert see([sheet], orthographic("bottom")).patches == ()


@pytest.mark.parametrize(
    ("triangles", "tags", "words"),
    [([[0, 1, 3]], None, "names a vertex"), ([[0, 1, 2]], [1, 2], "1 triangles but 2 tags")],
)
def test_arrays_that_do_not_fit_are_refused(triangles: object, tags: object, words: str) -> None:
    marks = None if tags is None else np.array(tags)
    with pytest.raises(ValueError, match=words):
        see([Body("b", np.eye(3), np.array(triangles), marks)], isometric())


def test_the_same_bodies_give_the_same_picture() -> None:
    def picture() -> str:
        ring = turned(torus("ring", 50, 20, 40, 20), (20, 30, 40))
        return repr(see([ring, block("b", (-10, -80, -10), (90, 60, 20))], looking(20, 15), hidden=True))

    assert picture() == picture()
