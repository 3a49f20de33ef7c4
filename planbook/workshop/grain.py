"""Which way the grain of a piece runs, and the doubt about a cut that goes the other way; it cuts nothing."""

from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot
from planbook.text import Place
from planbook.workshop.members import volumes
from planbook.workshop.shop import Shop
from planbook.workshop.timeline import Piece, Trouble

HALF_WAY = 0.7072
"""Cosine of 45 degrees: a direction closer to the grain than this goes along it."""


def grain_of(piece: Piece) -> Vec3:
    """The grain direction that most of a piece's wood has."""
    if len({member.grain for member in piece.members}) == 1:
        return piece.members[0].grain
    found: dict[Vec3, float] = {}
    for member, volume in volumes(piece):
        found[member.grain] = found.get(member.grain, 0.0) + volume
    return max(found, key=lambda grain: found[grain])


def runs_along(piece: Piece, way: Vec3) -> bool:
    """Whether a unit direction is closer to the grain of a piece than to across it."""
    return abs(dot(grain_of(piece), way)) > HALF_WAY


def axis_of(way: Vec3) -> str:
    """The axis nearest to a direction."""
    return max(AXES, key=lambda axis: abs(dot(AXES[axis], way)))


def doubted(piece: Piece, way: Vec3, along: bool, operation: str, place: Place, shop: Shop) -> tuple[Trouble, ...]:
    """The trouble with a cut that runs `way` where the operation should go along (or across) the grain."""
    if runs_along(piece, way) == along:
        return ()
    facts = {"piece": piece.name, "operation": operation, "grain": axis_of(grain_of(piece)), "along": along}
    return (Trouble("against-the-grain", place, shop.at.step, facts),)
