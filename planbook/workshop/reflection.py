"""How work on one piece becomes the mirrored work on its partner; it knows no operation and no piece."""

from dataclasses import dataclass

from planbook.solids import AXES, FACE_FRAMES, OPPOSITE, Frame, Vec3
from planbook.solids.frames import dot, negated

ACROSS = {"x": "left to right", "y": "front to back", "z": "top to bottom"}
"""How people say which way a piece is mirrored."""


@dataclass(frozen=True, slots=True)
class Reflection:
    """The mirror image across an axis, laid where the partner stands: point' = shift + point, or shift - point.

    `of` is the name of the piece that is worked as written. Lengths in mm.
    """

    axis: str
    of: str
    shift: Vec3

    def point(self, world: Vec3) -> Vec3:
        """Where a point of the piece lies on its partner."""
        x, y, z = (s + (-p if a else p) for s, p, a in zip(self.shift, world, AXES[self.axis], strict=True))
        return (x, y, z)

    def face(self, name: str) -> str:
        """The face of the partner that answers to a face of the piece."""
        return OPPOSITE[name] if self._along(FACE_FRAMES[name].n) else name

    def frame(self, face: str, frame: Frame) -> Frame:
        """The frame of the partner's face, about the image of the origin of a frame on the piece's face."""
        return FACE_FRAMES[self.face(face)].at(self.point(frame.origin))

    def turns(self, face: str) -> str:
        """Which way of a face is turned round, seen from outside: "u" (left and right) or "v" (up and down)."""
        source, target = FACE_FRAMES[face], FACE_FRAMES[self.face(face)]
        image = negated(source.u) if self._along(source.u) else source.u
        return "u" if dot(image, target.u) < 0 else "v"

    def _along(self, way: Vec3) -> bool:
        return abs(dot(way, AXES[self.axis])) > 0.5


def reflection(axis: str, of: str, here: tuple[Vec3, Vec3], there: tuple[Vec3, Vec3]) -> Reflection:
    """The reflection that lays the box of a piece (lower and upper corner, mm) onto the box of its partner."""
    middles = zip(*(tuple((a + b) / 2 for a, b in zip(*box, strict=True)) for box in (here, there)), strict=True)
    x, y, z = (b + a if turned else b - a for (a, b), turned in zip(middles, AXES[axis], strict=True))
    return Reflection(axis, of, (x, y, z))
