"""Which points lie behind triangles: against ray casting by an independent reference, and on plain cases."""

import numpy as np
import pytest
from manifold3d import Manifold

from planbook.solids.visible import isometric, looking, orthographic
from planbook.solids.visible_front import Fronts, front_of
from planbook.solids.visible_view import frame_of

SQUARE = np.array([[(0, 0, 0), (10, 0, 0), (10, 10, 0)], [(0, 0, 0), (10, 10, 0), (0, 10, 0)]], dtype=np.float64)
ABOVE = orthographic("top")


def corners(solid: Manifold) -> np.ndarray:
    mesh = solid.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3][np.array(mesh.tri_verts).astype(np.int64)]


def behind_by_rays(triangles: np.ndarray, points: np.ndarray, toward: np.ndarray, off: float) -> np.ndarray:
    """Moeller and Trumbore, "Fast, minimum storage ray-triangle intersection", J. Graphics Tools 2 (1997), both sides."""
    start = points + off * toward
    one, two = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    across = np.cross(toward, two)
    scale = np.einsum("tk,tk->t", one, across)
    ok = np.abs(scale) > 1e-12
    one, two, across, scale, first = one[ok], two[ok], across[ok], scale[ok], triangles[ok, 0]
    to = start[:, None] - first
    u = np.einsum("ptk,tk->pt", to, across) / scale
    turned = np.cross(to, one)
    v = (turned @ toward) / scale
    far = np.einsum("ptk,tk->pt", turned, two) / scale
    return ((u >= 0) & (v >= 0) & (u + v <= 1) & (far > 0)).any(axis=1)


@pytest.mark.parametrize("seed", range(6))
def test_random_solids_hide_what_rays_say(seed: int) -> None:
    random = np.random.default_rng(seed)
    solid = Manifold()
    for _ in range(5):
        part = Manifold.cube(tuple(random.uniform(10, 40, 3)), True)
        if random.random() < 0.5:
            part = Manifold.cylinder(30, *random.uniform(5, 20, 2), 24, True)
        solid += part.rotate(tuple(random.uniform(0, 360, 3))).translate(tuple(random.uniform(-30, 30, 3)))
    view = looking(random.uniform(0, 360), random.uniform(-60, 60))
    points = random.uniform(-50, 50, (3_000, 3))
    triangles = corners(solid)
    found = front_of(triangles, view).hidden(points, 0.05)
    # A closed solid: a ray that leaves it meets a face that faces the eye; inside and behind are both hidden.
    expected = behind_by_rays(triangles, points, np.asarray(view.toward), 0.05)
    assert 0.1 < expected.mean() < 0.9
    assert (found != expected).mean() < 0.002  # points that skim an edge


@pytest.mark.parametrize(
    ("point", "hidden"),
    [
        ((5, 5, -1), True),
        ((5, 5, -0.06), True),
        ((5, 5, -0.04), False),
        ((5, 5, 0), False),
        ((5, 5, 1), False),
        ((11, 5, -1), False),
        ((10, 5, -1), True),
    ],
)
def test_a_square_hides_what_is_more_than_off_below_it(point: tuple[float, ...], hidden: bool) -> None:
    assert front_of(SQUARE, ABOVE).hidden(np.array([point], dtype=np.float64), 0.05).tolist() == [hidden]


def test_triangles_that_look_away_or_stand_on_edge_hide_nothing() -> None:
    points = np.array([[5.0, 5.0, -1.0]])
    assert not front_of(SQUARE[:, ::-1], ABOVE).hidden(points, 0.05).any()
    assert not front_of(SQUARE, orthographic("front")).hidden(points, 0.05).any()


def test_nothing_hides_nothing_and_many_points_are_looked_up_in_parts() -> None:
    none = front_of(np.zeros((0, 3, 3)), isometric())
    assert not none.hidden(np.zeros((4, 3)), 0.05).any()
    many = np.tile([[5.0, 5.0, -1.0], [50.0, 5.0, -1.0]], (3_000, 1))
    assert front_of(SQUARE, ABOVE).hidden(many, 0.05).tolist() == [True, False] * 3_000


def test_fronts_that_are_moved_hide_what_moved_triangles_hide() -> None:
    random = np.random.default_rng(3)
    view = looking(30, 40)
    one, two = corners(Manifold.cube((20, 30, 10), True)), corners(Manifold.cylinder(30, 8, 4, 24, True))
    by = np.array([25.0, -10.0, 5.0])
    points = random.uniform(-40, 40, (2_000, 3))
    fronts = Fronts(frame_of(view), ((front_of(one, view), np.zeros(3)), (front_of(two, view), frame_of(view) @ by)))
    found = fronts.hidden(points, 0.05)
    assert 0.02 < found.mean() < 0.9
    assert (found == front_of(np.concatenate([one, two + by]), view).hidden(points, 0.05)).all()


def test_of_no_fronts_nothing_is_hidden() -> None:
    fronts = Fronts(frame_of(ABOVE), ((front_of(np.zeros((0, 3, 3)), ABOVE), np.zeros(3)),))
    assert not fronts.hidden(np.zeros((4, 3)), 0.05).any()
