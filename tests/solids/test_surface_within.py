"""The surface of a solid in a region: areas by hand, and the triangle that each part comes from."""

import math

import numpy as np
import pytest

from planbook.solids.frames import FACE_FRAMES
from planbook.solids.plane import circle
from planbook.solids.solid import block, prism
from planbook.solids.surface_within import surface_within


def _areas(corners: np.ndarray) -> np.ndarray:
    return np.linalg.norm(np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]), axis=1) / 2


def test_a_plug_shows_at_both_ends_of_its_hole_and_nowhere_else():
    board = block((0, 0, 0), (80, 60, 20))
    plug = prism(circle((30, 20), 5), FACE_FRAMES["top"], 0.0, 20.0)
    corners, source = surface_within(board, plug)
    assert _areas(corners).sum() == pytest.approx(2 * math.pi * 25, rel=0.01)
    vertices, triangles = board.mesh
    of = vertices[triangles[source]]
    normals = np.cross(of[:, 1] - of[:, 0], of[:, 2] - of[:, 0])
    heights = np.einsum("ij,ikj->ik", normals / np.linalg.norm(normals, axis=1)[:, None], corners - of[:, :1])
    assert np.abs(heights).max() < 1e-9  # each part lies in the plane of the triangle that it is said to come from


def test_nothing_of_a_surface_is_in_a_region_beside_it():
    corners, source = surface_within(block((0, 0, 0), (8, 6, 2)), block((20, 0, 0), (30, 6, 2)))
    assert corners.shape == (0, 3, 3)
    assert len(source) == 0


def test_regions_that_fill_a_solid_share_out_its_surface():
    whole = block((0, 0, 0), (80, 60, 40))
    parts = [block((0, 0, 0), (80, 60, 15)), block((0, 0, 15), (80, 60, 40))]
    assert sum(_areas(surface_within(whole, part)[0]).sum() for part in parts) == pytest.approx(whole.surface)


def test_a_region_whose_side_is_the_surface_has_all_of_it():
    """A knob glued to a board: its side was worked out twice, so that corners differ in their last digits."""
    board, knob = block((0, 0, 0), (80, 60, 20)), prism(circle((30, 20), 5), FACE_FRAMES["top"], 12.0, 35.0)
    for turn in (0.0, 17.0, 33.0):
        whole = board.plus(knob).turned((1.0, 2.0, 0.5), turn)
        region = knob.turned((1.0, 2.0, 0.5), turn / 3).turned((1.0, 2.0, 0.5), turn * 2 / 3)
        corners, source = surface_within(whole, region)
        assert _areas(corners).sum() == pytest.approx(math.pi * 25 + 2 * math.pi * 5 * 15, rel=0.01)
        assert len(source) == len(corners)
