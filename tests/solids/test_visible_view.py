"""Directions of view, checked against descriptive geometry."""

import math

import numpy as np
import pytest

from planbook.solids.visible import View, isometric, looking, orthographic


def frame(view: View) -> np.ndarray:
    return np.array([view.right, view.up, view.toward])


@pytest.mark.parametrize("view", [isometric(2), isometric(1, above=False), looking(33, 12), orthographic("left")])
def test_a_view_is_a_right_handed_frame(view: View) -> None:
    axes = frame(view)
    assert np.allclose(axes @ axes.T, np.eye(3), atol=1e-15)
    assert math.isclose(np.linalg.det(axes), 1.0)


@pytest.mark.parametrize("quarter", range(4))
@pytest.mark.parametrize("above", [True, False])
def test_isometric_shortens_all_axes_alike(quarter: int, above: bool) -> None:
    # Descriptive geometry: every axis appears as the square root of two thirds of its length.
    shown = np.hypot(*frame(isometric(quarter, above))[:2])
    assert np.allclose(shown, math.sqrt(2 / 3), atol=1e-15)


def test_isometric_quarters_go_round_from_front_right() -> None:
    signs = [np.sign(isometric(quarter).toward).tolist() for quarter in range(5)]
    assert signs == [[1, -1, 1], [1, 1, 1], [-1, 1, 1], [-1, -1, 1], [1, -1, 1]]
    assert isometric(0, above=False).toward[2] < 0


@pytest.mark.parametrize(
    ("face", "right", "up", "toward"),
    [
        ("front", (1, 0, 0), (0, 0, 1), (0, -1, 0)),
        ("right", (0, 1, 0), (0, 0, 1), (1, 0, 0)),
        ("back", (-1, 0, 0), (0, 0, 1), (0, 1, 0)),
        ("left", (0, -1, 0), (0, 0, 1), (-1, 0, 0)),
        ("top", (1, 0, 0), (0, 1, 0), (0, 0, 1)),
        ("bottom", (1, 0, 0), (0, -1, 0), (0, 0, -1)),
    ],
)
def test_orthographic_views_are_exact(face: str, right: object, up: object, toward: object) -> None:
    view = orthographic(face)
    assert (view.right, view.up, view.toward) == (right, up, toward)


def test_an_unknown_view_names_the_known_ones() -> None:
    with pytest.raises(ValueError, match="front, right, back, left, top, bottom"):
        orthographic("side")
