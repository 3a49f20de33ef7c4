"""Sizes as lists give them: along the grain, exact where the design is exact; not how they are printed."""

import math
from fractions import Fraction

from planbook.model import Expr
from planbook.model.sizes import evaluate
from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import dot, negated
from planbook.takeoff.records import Dimensions
from planbook.units import UnitProblem
from planbook.workshop import Piece, Timeline
from planbook.workshop.members import volumes

_PLACES = 6
"""Decimals kept of a millimetre that was measured on a solid; six hold every 1/64 in exactly."""


def exact(mm: float) -> Fraction:
    """A measured length as an exact decimal of a millimetre, without the noise of the solver."""
    return Fraction(round(mm * 10**_PLACES), 10**_PLACES)


def along_grain(sizes: tuple[Fraction, Fraction, Fraction], grain: str) -> Dimensions:
    """Length, width and thickness from sizes along x, y, z: the grain direction is the length."""
    index = "xyz".index(grain)
    first, second = (size for i, size in enumerate(sizes) if i != index)
    return Dimensions(sizes[index], max(first, second), min(first, second))


def lengths(exprs: tuple[Expr, Expr, Expr], timeline: Timeline) -> tuple[Fraction, Fraction, Fraction] | None:
    """Three formulas in mm, or None where one of them has no value (a finding of the design says so)."""
    try:
        x, y, z = (evaluate(expr, timeline.sizes).value for expr in exprs)
    except UnitProblem:
        return None
    return (x, y, z)


def dimensions(piece: Piece) -> Dimensions:
    """The box round a piece along the grain of the wood it has most of."""
    grain = main_grain(piece)
    if grain is None:
        longest, middle, shortest = sorted(map(exact, piece.solid.extent), reverse=True)
        return Dimensions(longest, middle, shortest)
    length = _extent(piece.solid, grain)
    width, thickness = sorted((_extent(piece.solid, way) for way in _across(grain)), reverse=True)
    return Dimensions(exact(length), exact(width), exact(thickness))


def main_grain(piece: Piece) -> Vec3 | None:
    """The grain direction that most of a piece's wood has; None for a piece without any wood in it."""
    grains = {member.grain for member in piece.members}
    if len(grains) == 1:
        return grains.pop()
    found: dict[Vec3, float] = {}
    for member, volume in volumes(piece):
        found[member.grain] = found.get(member.grain, 0.0) + volume
    return max(found, key=lambda grain: found[grain]) if found else None


def _extent(solid: Solid, way: Vec3) -> float:
    return solid.reach(way) + solid.reach(negated(way))


def _across(grain: Vec3) -> tuple[Vec3, Vec3]:
    """Two unit vectors square to the grain, along the axes of the world as far as they can be."""
    least = min(AXES.values(), key=lambda axis: abs(dot(axis, grain)))
    first = _unit(_cross(grain, least))
    return first, _unit(_cross(grain, first))


def _cross(a: Vec3, b: Vec3) -> Vec3:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _unit(a: Vec3) -> Vec3:
    size = math.sqrt(dot(a, a))
    return (a[0] / size, a[1] / size, a[2] / size)
