"""Equal pieces that differ by a number alone, which one name tells: nobody need know which is which; draws nothing."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from planbook.drawing.surfaces import Floats
from planbook.speech import called, say
from planbook.workshop.timeline import Piece, Shown

LEAST = 3
"""Fewer pieces are named one by one."""
SMALL = 0.35
"""A piece is small that is no longer than this share of all that is shown; others have room for their own names."""
SAME = 0.05
"""Corners that are no further from one another than this, mm, are the same."""
_NUMBERED = re.compile(r"(.*\D) (\d+)")


@dataclass(frozen=True, slots=True)
class Named:
    """What one name tells: pieces by their number in the picture, one or a set of equal ones."""

    text: str
    pieces: tuple[int, ...]


def with_sets(pieces: Sequence[Shown], named: Sequence[int]) -> list[Named]:
    """The names of pieces, of which small equal ones that are numbered on without a gap, LEAST or more, share one.

    They stand where the first of each set stood.
    """
    found, told = list[Named](), set[int]()
    small = [n for n in named if max(pieces[n].piece.solid.extent) < SMALL * _size(pieces)]
    runs = {n: run for run in _runs(pieces, small) for n in run}
    for n in named:
        run = runs.get(n, [n])
        if n in told:
            continue
        told.update(run)
        found.append(Named(_text([pieces[k].piece.name for k in run]), tuple(run)))
    return found


def _size(pieces: Sequence[Shown]) -> float:
    """The greatest extent of all pieces as they are drawn, along an axis, mm."""
    corners = np.array([np.add(each.piece.solid.bounds, each.apart) for each in pieces])
    return float((corners[:, 1].max(axis=0) - corners[:, 0].min(axis=0)).max())


def _runs(pieces: Sequence[Shown], named: Sequence[int]) -> list[list[int]]:
    """Numbered pieces in their order that are alike, each set with no number left out."""
    parts = {n: _NUMBERED.fullmatch(called(pieces[n].piece.name)) for n in named}
    numbered = sorted((part[1], int(part[2]), n) for n, part in parts.items() if part is not None)
    found: list[list[int]] = []
    for _, every in groupby(numbered, key=lambda each: each[0]):
        run: list[tuple[int, int]] = []
        for _, number, n in every:
            if run and not (number == run[-1][0] + 1 and _alike(pieces[n], pieces[run[-1][1]])):
                found.append([k for _, k in run])
                run = []
            run.append((number, n))
        found.append([k for _, k in run])
    return [run for run in found if len(run) >= LEAST]


def _alike(one: Shown, two: Shown) -> bool:
    """Whether two pieces are the same but for their place: in shape, wood and grain, and in what is done to them."""
    if one.role != two.role or _woods(one.piece) != _woods(two.piece):
        return False
    a, b = _corners(one.piece), _corners(two.piece)
    return a.shape == b.shape and bool(np.all(np.abs(a - b) < SAME))


def _corners(piece: Piece) -> Floats:
    """The corners of a piece from its lower, left and front end on, mm, in an order that its place does not change."""
    points = piece.solid.mesh[0]
    moved: Floats = points - points.min(axis=0)
    x, y, z = np.round(moved, 1).T
    found: Floats = moved[np.lexsort((z, y, x))]
    return found


def _woods(piece: Piece) -> list[tuple[str, tuple[float, ...]]]:
    return sorted((member.wood, tuple(round(abs(c), 2) for c in member.grain)) for member in piece.members)


def _text(names: Sequence[str]) -> str:
    words = [called(name) for name in names]
    parts = [_NUMBERED.fullmatch(each) for each in (words[0], words[-1])]
    if len(words) == 1 or parts[0] is None or parts[1] is None:
        return words[0]
    return f"{parts[0][1]} {say('{first} to {last}', first=parts[0][2], last=parts[1][2])}"
