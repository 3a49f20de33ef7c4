"""Faces of a piece as plane frames: u right and v up as seen from outside the face; not the pieces themselves."""

from dataclasses import dataclass

Vec3 = tuple[float, float, float]

X: Vec3 = (1.0, 0.0, 0.0)
Y: Vec3 = (0.0, 1.0, 0.0)
Z: Vec3 = (0.0, 0.0, 1.0)
AXES: dict[str, Vec3] = {"x": X, "y": Y, "z": Z}


def negated(a: Vec3) -> Vec3:
    """-a."""
    return (-a[0] or 0.0, -a[1] or 0.0, -a[2] or 0.0)


def plus(a: Vec3, b: Vec3) -> Vec3:
    """a + b."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def times(a: Vec3, factor: float) -> Vec3:
    """a scaled by `factor`."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vec3, b: Vec3) -> float:
    """The scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


@dataclass(frozen=True, slots=True)
class Frame:
    """An orthonormal frame: u to the right, v up, n out of the face towards the viewer; origin in world mm."""

    u: Vec3
    v: Vec3
    n: Vec3
    origin: Vec3 = (0.0, 0.0, 0.0)

    def world(self, u: float, v: float, n: float = 0.0) -> Vec3:
        """A point of the frame in world coordinates, mm."""
        return plus(self.origin, plus(plus(times(self.u, u), times(self.v, v)), times(self.n, n)))

    def local(self, point: Vec3) -> Vec3:
        """A world point as (u, v, n), mm."""
        rel = plus(point, negated(self.origin))
        return (dot(rel, self.u), dot(rel, self.v), dot(rel, self.n))

    def at(self, origin: Vec3) -> "Frame":
        """The same directions about another origin."""
        return Frame(self.u, self.v, self.n, origin)


FACE_FRAMES: dict[str, Frame] = {
    "front": Frame(X, Z, negated(Y)),
    "back": Frame(negated(X), Z, Y),
    "left": Frame(negated(Y), Z, negated(X)),
    "right": Frame(Y, Z, X),
    "top": Frame(X, Y, Z),
    "bottom": Frame(negated(X), Y, negated(Z)),
}

OPPOSITE: dict[str, str] = {
    "front": "back",
    "back": "front",
    "left": "right",
    "right": "left",
    "top": "bottom",
    "bottom": "top",
}
