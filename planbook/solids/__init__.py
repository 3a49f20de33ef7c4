"""Plane and solid geometry: the only place that knows the geometry libraries. Millimetres throughout."""

from planbook.solids.frames import AXES, FACE_FRAMES, OPPOSITE, Frame, Vec3
from planbook.solids.plane import Area, Outline, Path, Point2
from planbook.solids.solid import Solid

__all__ = [
    "AXES",
    "FACE_FRAMES",
    "OPPOSITE",
    "Area",
    "Frame",
    "Outline",
    "Path",
    "Point2",
    "Solid",
    "Vec3",
]
