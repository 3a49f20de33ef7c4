"""Which wood of a piece is where: what the boxes of its members tell, and the cutting of the others."""

from collections.abc import Hashable, Sequence
from functools import lru_cache
from weakref import WeakKeyDictionary

import numpy as np
from numpy.typing import NDArray

from planbook.solids import Solid
from planbook.solids.in_box import SAME, overlap, volume_in
from planbook.workshop.timeline import Member, Piece

CRUMB = 1.0
"""A part smaller than this (mm3) is dust."""


def near(piece: Piece) -> tuple[Member, ...]:
    """The members whose boxes reach into the piece."""
    return tuple(m for m in piece.members if overlap(m.box, piece.solid.bounds))


def told_apart(members: Sequence[Member], kinds: Sequence[Hashable]) -> tuple[tuple[Member, ...], tuple[Member, ...]]:
    """(members that their boxes tell from those of other kinds, members that must be cut out to be told from others).

    In the box of one of the first there is no other kind but what belongs to one of the second. Those in the way of the
    most others for their size are cut: a plug rather than the board around it.
    """
    meet = _in_each_other(members, kinds)
    size = np.maximum(np.prod([np.subtract(m.box[1], m.box[0]) for m in members], axis=1), SAME)
    doubtful = np.zeros(len(members), dtype=np.bool_)
    while meet.any():
        worst = np.argmax(meet.sum(axis=1) / size)
        meet[worst] = meet[:, worst] = False
        doubtful[worst] = True
    return (
        tuple(m for m, out in zip(members, doubtful, strict=True) if not out),
        tuple(m for m, out in zip(members, doubtful, strict=True) if out),
    )


def alone(members: Sequence[Member]) -> tuple[bool, ...]:
    """Of each member whether no other reaches into its box, so that all that a piece has there belongs to it."""
    return tuple(not others.any() for others in _in_each_other(members, range(len(members))))


def _in_each_other(members: Sequence[Member], kinds: Sequence[Hashable]) -> NDArray[np.bool_]:
    """Which boxes of members of different kinds overlap, (n,n)."""
    low, high = (np.array([m.box[k] for m in members]).reshape(-1, 3) for k in range(2))
    shared = np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None])
    number = {kind: n for n, kind in enumerate(dict.fromkeys(kinds))}
    kind = np.array([number[each] for each in kinds], dtype=np.int64)
    found: NDArray[np.bool_] = (shared > SAME).all(axis=2) & (kind[:, None] != kind[None])
    return found


_as_joined: "WeakKeyDictionary[Solid, tuple[Member, ...]]" = WeakKeyDictionary()
"""The members of solids that were joined of just these, of which nothing has been cut since."""


def joined_of(whole: Solid, members: tuple[Member, ...]) -> tuple[Member, ...]:
    """The members of a solid that was joined of just these regions; they need not be cut down to it again."""
    _as_joined[whole] = members
    return members


def just_joined(piece: Piece) -> bool:
    """Whether a piece was joined of just its members, and nothing has been cut off since."""
    return _as_joined.get(piece.solid) is piece.members


@lru_cache(maxsize=4096)
def cut_out(whole: Solid, member: Member) -> Solid:
    """Where a member is in the solid of its piece."""
    if any(member is other for other in _as_joined.get(whole, ())):
        return member.region
    return whole.meet(member.region)


def volumes(piece: Piece) -> tuple[tuple[Member, float], ...]:
    """How much of a piece each of its members is, mm3; members that were cut away are left out."""
    if len(piece.members) == 1:
        return ((piece.members[0], piece.solid.volume),)
    return _volumes(piece.solid, near(piece))


@lru_cache(maxsize=4096)
def _volumes(whole: Solid, members: tuple[Member, ...]) -> tuple[tuple[Member, float], ...]:
    boxed, doubtful = told_apart(members, range(len(members)))
    cut = [(member, cut_out(whole, member)) for member in doubtful]
    found = {id(member): solid.volume for member, solid in cut}
    for member in boxed:
        others = (solid for _, solid in cut if not solid.empty and overlap(member.box, solid.bounds))
        found[id(member)] = volume_in(whole, member.box) - sum(volume_in(solid, member.box) for solid in others)
    return tuple((member, found[id(member)]) for member in members if found[id(member)] > CRUMB)
