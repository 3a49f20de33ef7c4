"""Hidden-line pictures of random arrangements against a depth buffer and against sampled sight lines."""

import math

import numpy as np
import pytest
import shapely
from manifold3d import Manifold

from planbook.solids.visible import Body, Seen, View, isometric, looking, orthographic, see

CREASE_DEG = 25.0


def from_solid(key: str, solid: Manifold) -> Body:
    mesh = solid.to_mesh64()
    return Body(key, np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts).astype(np.int64))


def scattered(seed: int, count: int, apart: bool) -> list[Body]:
    """Blocks and cones, some bored, turned anyhow; with `apart`, none reaches into another."""
    random = np.random.default_rng(seed)
    bodies: list[Body] = []
    everything = Manifold()
    while len(bodies) < count:
        solid = Manifold.cube(tuple(random.uniform(15, 60, 3)), True)
        if random.random() < 0.5:
            low, high = random.uniform(8, 25, 2)
            solid = Manifold.cylinder(random.uniform(20, 70), low, high, int(random.integers(20, 40)), True)
        if random.random() < 0.4:
            solid -= Manifold.cylinder(200, 5, 5, 24, True).rotate(tuple(random.choice([0, 90], 3)))
        solid = solid.rotate(tuple(random.uniform(0, 360, 3))).translate(tuple(random.uniform(-60, 60, 3)))
        if apart and (everything ^ solid).volume() > 0:
            continue
        everything += solid
        bodies.append(from_solid(f"b{len(bodies)}", solid))
    return bodies


def stacked(seed: int, count: int) -> list[Body]:
    """Blocks on a coarse lattice that touch but do not reach into each other: edges coincide all over."""
    random = np.random.default_rng(seed)
    bodies: list[Body] = []
    everything = Manifold()
    while len(bodies) < count:
        solid = Manifold.cube(tuple(10.0 * random.integers(1, 5, 3))).translate(tuple(10.0 * random.integers(0, 6, 3)))
        if (everything ^ solid).volume() > 1e-9:
            continue
        everything += solid
        bodies.append(from_solid(f"b{len(bodies)}", solid))
    return bodies


def projected(bodies: list[Body], view: View) -> list[np.ndarray]:
    """Corners (m,3,3) of the triangles of each body as u, v, depth."""
    frame = np.array([view.right, view.up, view.toward])
    return [(body.vertices @ frame.T)[body.triangles] for body in bodies]


def weights(corner: np.ndarray, u: np.ndarray, v: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Barycentric coordinates of points in triangles (..., 3, 3)."""
    a, b, c = corner[..., 0, :], corner[..., 1, :], corner[..., 2, :]
    twice = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
    one = ((u - a[..., 0]) * (c[..., 1] - a[..., 1]) - (v - a[..., 1]) * (c[..., 0] - a[..., 0])) / twice
    two = ((b[..., 0] - a[..., 0]) * (v - a[..., 1]) - (b[..., 1] - a[..., 1]) * (u - a[..., 0])) / twice
    return 1 - one - two, one, two


def facing(corner: np.ndarray) -> np.ndarray:
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    return one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0] > 1e-9


def areas_by_depth_buffer(bodies: list[Body], view: View, across: int = 700) -> list[float]:
    """Visible area of each body, counted in small squares."""
    shapes = projected(bodies, view)
    everything = np.concatenate(shapes).reshape(-1, 3)
    low, high = everything[:, :2].min(axis=0) - 1.01, everything[:, :2].max(axis=0) + 1.01
    step = float((high - low).max()) / across
    us, vs = (np.arange(low[k], high[k], step) for k in range(2))
    depth, owner = np.full((len(vs), len(us)), -np.inf), np.full((len(vs), len(us)), -1)
    for number, shape in enumerate(shapes):
        for corner in shape[facing(shape)]:
            i = slice(*np.searchsorted(us, [corner[:, 0].min(), corner[:, 0].max()]))
            j = slice(*np.searchsorted(vs, [corner[:, 1].min(), corner[:, 1].max()]))
            share = np.stack(weights(corner, *np.meshgrid(us[i], vs[j])))
            here = np.tensordot(corner[:, 2], share, 1)
            nearer = (share >= 0).all(axis=0) & (here > depth[j, i])
            depth[j, i][nearer] = here[nearer]
            owner[j, i][nearer] = number
    return [float((owner == number).sum()) * step**2 for number in range(len(bodies))]


def length_by_sight_lines(bodies: list[Body], view: View, samples: int = 150) -> float:
    """Visible length of all silhouettes and creases, each sampled and looked at past every triangle."""
    shapes = projected(bodies, view)
    blockers = np.concatenate([shape[facing(shape)] for shape in shapes])
    share = (np.arange(samples) + 0.5) / samples
    total = 0.0
    for start, end in (edge for body, shape in zip(bodies, shapes, strict=True) for edge in features(body, shape)):
        point = start + share[:, None] * (end - start)
        where = np.stack(weights(blockers, point[:, None, 0], point[:, None, 1]))
        over = np.einsum("kst,tk->st", where, blockers[:, :, 2]) > point[:, None, 2] + 1e-4
        hidden = ((where >= -1e-9).all(axis=0) & over).any(axis=1)
        total += math.dist(start[:2], end[:2]) * (1 - float(hidden.mean()))
    return total


def features(body: Body, shape: np.ndarray) -> list[tuple[np.ndarray, np.ndarray]]:
    """Edges of a body that are lines of its picture if nothing hides them."""
    normal = np.cross(shape[:, 1] - shape[:, 0], shape[:, 2] - shape[:, 0])
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    sides: dict[tuple[int, int], list[int]] = {}
    where = {}
    for t, triangle in enumerate(body.triangles.tolist()):
        for k in range(3):
            a, b = triangle[k], triangle[(k + 1) % 3]
            sides.setdefault((min(a, b), max(a, b)), []).append(t)
            where[min(a, b), max(a, b)] = (shape[t, k], shape[t, (k + 1) % 3])
    found = []
    for edge, (one, two) in sides.items():
        smooth = normal[one] @ normal[two] > math.cos(math.radians(CREASE_DEG))
        front = int(normal[one, 2] > 1e-9) + int(normal[two, 2] > 1e-9)
        if front == 1 or (front == 2 and not smooth):
            found.append(where[edge])
    return found


def length(seen: Seen) -> float:
    return sum(math.dist(p, q) for s in seen.strokes for p, q in zip(s.points, s.points[1:], strict=False))


@pytest.mark.parametrize("seed", range(4))
def test_scattered_solids(seed: int) -> None:
    bodies, view = scattered(seed, 8, apart=True), looking(33 + 50 * seed, 20 - 15 * seed)
    seen = see(bodies, view, crease_deg=CREASE_DEG)
    for body, area in zip(bodies, areas_by_depth_buffer(bodies, view), strict=True):
        assert seen.visible_area(body.key) == pytest.approx(area, rel=0.005, abs=1.5)
    assert length(seen) == pytest.approx(length_by_sight_lines(bodies, view), rel=0.005)


@pytest.mark.parametrize("seed", range(4))
def test_solids_that_run_into_each_other(seed: int) -> None:
    bodies, view = scattered(100 + seed, 8, apart=False), looking(10 + 80 * seed, 35)
    seen = see(bodies, view)
    for body, area in zip(bodies, areas_by_depth_buffer(bodies, view), strict=True):
        assert seen.visible_area(body.key) == pytest.approx(area, rel=0.005, abs=1.5)


@pytest.mark.parametrize("seed", range(6))
def test_stacked_blocks(seed: int) -> None:
    bodies = stacked(seed, 9)
    view = orthographic("front") if seed == 5 else isometric(seed, above=seed % 2 == 0)
    seen = see(bodies, view)
    for body, area in zip(bodies, areas_by_depth_buffer(bodies, view, 1500), strict=True):
        assert seen.visible_area(body.key) == pytest.approx(area, rel=0.005, abs=1.5)


@pytest.mark.parametrize("seed", range(4))
def test_patches_and_lines_tell_the_same(seed: int) -> None:
    seen = see(scattered(seed, 8, apart=True), isometric(seed))
    shapes = [shapely.Polygon(outer, holes) for p in seen.patches for outer, holes in p.polygons]
    assert all(shape.is_valid for shape in shapes)
    whole = shapely.union_all(shapes, grid_size=1e-3)
    assert whole.area == pytest.approx(sum(p.area for p in seen.patches), rel=1e-5)
    # Every line has a patch on both sides, or a patch and the paper.
    assert sum(s.length for s in shapes) + whole.length == pytest.approx(2 * length(seen), rel=1e-4)
