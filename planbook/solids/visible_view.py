"""Directions from which a parallel-projection picture is seen; world frame x right, y to the back, z up."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

__all__ = ["Vector", "View", "frame_of", "isometric", "looking", "orthographic"]

Vector = tuple[float, float, float]

ISOMETRIC_ELEVATION = math.degrees(math.atan(1 / math.sqrt(2)))
"""35.264 degrees: the elevation at which the three axes are foreshortened alike (descriptive geometry)."""


@dataclass(frozen=True, slots=True)
class View:
    """An orthonormal frame: picture axes `right` and `up`; `toward` points from the object to the eye."""

    right: Vector
    up: Vector
    toward: Vector


_FACES = {
    "front": (0, 0),
    "right": (90, 0),
    "back": (180, 0),
    "left": (270, 0),
    "top": (0, 90),
    "bottom": (0, -90),
}


def looking(azimuth_deg: float, elevation_deg: float) -> View:
    """View from an azimuth (0 in front, 90 on the right) and elevation (90 straight above), in degrees."""
    sin_a, cos_a = _turn(azimuth_deg)
    sin_e, cos_e = _turn(elevation_deg)
    return View(
        right=(cos_a, sin_a, 0.0),
        up=(-sin_a * sin_e + 0.0, cos_a * sin_e + 0.0, cos_e),
        toward=(sin_a * cos_e + 0.0, -cos_a * cos_e + 0.0, sin_e),
    )


def isometric(quarter: int = 0, above: bool = True) -> View:
    """True isometric view from front-right-above; each quarter takes the eye 90 degrees to its right."""
    return looking(45.0 + 90.0 * (quarter % 4), ISOMETRIC_ELEVATION if above else -ISOMETRIC_ELEVATION)


def orthographic(face: str) -> View:
    """View straight onto "front", "back", "left", "right", "top" or "bottom"; ValueError for another word."""
    if face not in _FACES:
        raise ValueError(f"no view is called {face!r}; there are {', '.join(_FACES)}")
    return looking(*_FACES[face])


def frame_of(view: View) -> NDArray[np.float64]:
    """What points are multiplied with to be seen: right, up and toward the eye (3,3)."""
    return np.array([view.right, view.up, view.toward], dtype=np.float64)


def _turn(degrees: float) -> tuple[float, float]:
    """Sine and cosine, exact at quarter turns."""
    quarter, rest = divmod(degrees % 360.0, 90.0)
    if rest == 0.0:
        return ((0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0))[int(quarter)]
    return math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
