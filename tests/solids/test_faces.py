"""Flat faces and smooth surfaces of meshes with known shape."""

import math

import numpy as np
import pytest
from manifold3d import Manifold

from planbook.solids.faces import Body, planar_faces, smooth_surfaces


def from_solid(solid: Manifold, single: bool = False) -> Body:
    mesh = solid.to_mesh() if single else solid.to_mesh64()
    vertices = np.array(mesh.vert_properties)[:, :3].astype(np.float64)
    return Body("solid", vertices, np.array(mesh.tri_verts).astype(np.int64))


def ring_area(ring: tuple[tuple[float, float, float], ...]) -> np.ndarray:
    """Area vector of a ring in space; it points to where the ring runs counter-clockwise."""
    points = np.array(ring)
    return np.cross(points, np.roll(points, -1, axis=0)).sum(axis=0) / 2


def test_block_has_six_faces() -> None:
    faces = planar_faces(from_solid(Manifold.cube((10, 20, 30)).translate((5, 0, 0))))
    found = {tuple(np.round(face.normal).tolist()): (face.offset, face.area) for face in faces}
    assert found == {
        (1, 0, 0): (15, 600),
        (-1, 0, 0): (-5, 600),
        (0, 1, 0): (20, 300),
        (0, -1, 0): (0, 300),
        (0, 0, 1): (30, 200),
        (0, 0, -1): (0, 200),
    }
    assert sorted(t for face in faces for t in face.triangles) == list(range(12))


@pytest.mark.parametrize("single", [False, True])
def test_bored_block_has_faces_with_holes_and_one_round_surface(single: bool) -> None:
    solid = Manifold.cube((40, 40, 40), True) - Manifold.cylinder(90, 10, 10, 32, True)
    body = from_solid(solid.rotate((20, 30, 40)), single)
    faces = planar_faces(body)
    assert len(faces) == 6 + 32
    bored = [face for face in faces if face.polygons[0][1]]
    circle = 16 * 10**2 * math.sin(2 * math.pi / 32)
    assert [face.area for face in bored] == pytest.approx([1600 - circle] * 2, rel=1e-5)
    for face in faces:
        ((outer, holes),) = face.polygons
        vector = ring_area(outer) + sum(ring_area(hole) for hole in holes)
        assert vector @ np.array(face.normal) == pytest.approx(face.area, rel=1e-5)
        assert np.array(outer) @ np.array(face.normal) == pytest.approx(face.offset, abs=1e-4)
    sizes = np.bincount(smooth_surfaces(body))
    assert sizes.max() >= 64
    assert len(sizes) == 7


def test_facets_finer_than_the_tolerance_stay_apart() -> None:
    # 8,000 sides bend by 0.045 degrees each, which is less than the angle of neighbours in one plane.
    faces = planar_faces(from_solid(Manifold.cylinder(10, 500, 500, 8_000)))
    assert len(faces) == 8_002


def test_faces_of_one_plane_that_do_not_touch_are_two() -> None:
    solid = Manifold.cube((90, 20, 20)) - Manifold.cube((30, 20, 10)).translate((30, 0, 10))
    tops = [face for face in planar_faces(from_solid(solid)) if face.normal[2] > 0.5]
    assert sorted((face.offset, face.area) for face in tops) == [(10, 600), (20, 600), (20, 600)]


def test_nothing_merges_across_tags() -> None:
    block = from_solid(Manifold.cube((10, 10, 10)))
    tags = np.arange(12)
    body = Body("block", block.vertices, block.triangles, tags)
    assert len(planar_faces(body)) == 12 == smooth_surfaces(body).max() + 1
    assert {face.tag for face in planar_faces(body)} == set(range(12))


def test_crease_angle_joins_or_parts_facets() -> None:
    column = from_solid(Manifold.cylinder(10, 5, 5, 12))
    assert smooth_surfaces(column, 25).max() == 13
    assert smooth_surfaces(column, 31).max() == 2


def test_corners_given_once_per_triangle_are_welded() -> None:
    block = from_solid(Manifold.cube((10, 10, 10)))
    soup = Body("soup", block.vertices[block.triangles].reshape(-1, 3), np.arange(36).reshape(-1, 3))
    assert len(planar_faces(soup)) == 6 == smooth_surfaces(soup).max() + 1


def test_a_triangle_without_height_takes_the_surface_of_its_neighbour() -> None:
    vertices = np.array([[0.0, 0, 0], [10, 0, 0], [10, 10, 0], [0, 10, 0], [5, 1e-9, 0]])
    sheet = Body("sheet", vertices, np.array([[0, 1, 4], [4, 1, 2], [4, 2, 3], [0, 4, 3]]))
    (face,) = planar_faces(sheet)
    assert face.area == pytest.approx(100)
    assert face.triangles == (0, 1, 2, 3)


@pytest.mark.parametrize("vertices", [np.empty((0, 3)), np.zeros((3, 3))])
def test_an_empty_body_has_no_faces(vertices: np.ndarray) -> None:
    triangles = np.arange(len(vertices)).reshape(-1, 3)
    assert planar_faces(Body("none", vertices, triangles)) == ()
    assert (smooth_surfaces(Body("none", vertices, triangles)) == -1).all()
