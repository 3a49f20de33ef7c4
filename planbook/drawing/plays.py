"""Where pieces go into or between one another: the figures that tell how much play they have; draws nothing.

A reader takes one figure from another, on one drawing and on the next: a shelf between two sides, a tongue in a slot.
What is left then must be the play that was meant.
"""

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

import numpy as np

from planbook.drawing.measured import SQUARE, measured
from planbook.drawing.piece_alike import alike
from planbook.drawing.rounded import AXES
from planbook.drawing.surfaces import Floats
from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.triangles import planes
from planbook.units import Leeway
from planbook.workshop import Piece

NEAR = 1.0
"""Faces no farther apart than this, mm, lie against each other, or with play between them."""
LEAST = 0.02
"""A play of less than this, mm, is none; and faces may lie so far within one another."""
STOP = 10.0
"""What stops in the rounded corners at the end of a slot is no farther from that end, mm: the radius of a cutter."""
SHARED = 1.0
"""Faces that lie over each other by less than this, mm, do not meet."""
FIGURES = 4
"""So many figures make a play at most: the two ends of what goes in, and the two of what it goes into."""
PART = 2
"""The figures of a play for which nothing is asked may be off by one such part of it together."""
READ = Fraction(1, 10)
"""A figure from which the width of a slot is read may be off so much, mm."""
_GRID, _PLACES = 0.01, 4

Either = tuple[Collection[str], Collection[str], Fraction]
"""The names of the pieces on either side of a fit, and what it leaves of what is asked for, mm."""
Level = tuple[str, str, str, Fraction]
"""The names of two pieces, the face that lies in one level on both, and what the fit leaves, mm."""
_Span = tuple[float, float]
_Met = tuple[float, float, float]
"""Where a face lies along an axis, that of another body that it meets, and which way it looks."""
_Spans = Mapping[int, set[tuple[float, float, float]]]


@dataclass(frozen=True, slots=True)
class _Flat:
    """Triangles of a body in one plane square to an axis: where it lies, which way it looks, and their boxes in it."""

    at: float
    way: float
    boxes: Floats


@dataclass(frozen=True, slots=True)
class _Body:
    """A body with its flat faces, and where its boards begin and end, along each axis, mm."""

    low: tuple[float, ...]
    high: tuple[float, ...]
    flats: tuple[tuple[_Flat, ...], ...]
    boards: tuple[tuple[float, ...], ...]


def plays_of(pieces: Mapping[str, Piece], listed: Collection[str], fits: Iterable[Either]) -> Iterator[Leeway]:
    """For each play between pieces: the figures on sheets of `listed` ones that tell it, and how far each may be off.

    All in mm. Where a fit is asked for, all of them together keep within it.
    """
    figures = _by_span(pieces[names[0]].solid for names in alike({name: pieces[name] for name in listed}))
    fits = [(one, other, left) for one, other, left in fits if {*one, *other} <= pieces.keys()]
    bodies = {name: _body(pieces[name]) for name in {*listed, *(n for a, b, _ in fits for n in (*a, *b))}}
    found: dict[tuple[Fraction, ...], Fraction] = {}
    for mine, others, left in _each_way(listed, fits):
        for axis in AXES:
            met = [each for name in others if name != mine for each in _met(bodies[mine], bodies[name], axis)]
            joints = sorted({at for name in others for at in bodies[name].boards[axis]})
            for spans, leeway in _plays(sorted(set(met)), left):
                told = _told(spans, joints, figures)
                found[told] = min(leeway, found.get(told, leeway))
    yield from found.items()


def levels_of(pieces: Mapping[str, Piece], listed: Collection[str], levels: Iterable[Level]) -> Iterator[Leeway]:
    """For each fit of faces in one level: the figures from where the pieces meet behind to that face, and their leeway.

    All in mm. A shelf that stops against the end of its dado is level behind if both are as deep as they are told.
    """
    figures = _by_span(pieces[names[0]].solid for names in alike({name: pieces[name] for name in listed}))
    for mine, other, face, left in levels:
        if {mine, other} <= pieces.keys():
            bodies = (_body(pieces[mine]), _body(pieces[other]))
            axis, way = next((n, part) for n, part in enumerate(FACE_FRAMES[face].n) if abs(part) > SQUARE)
            ends = [(body.high if way > 0 else body.low)[axis] for body in bodies]
            joints = sorted({at for body in bodies for at in body.boards[axis]})
            met = [(at, to) for at, to, looks in _met(bodies[0], bodies[1], axis, STOP) if looks * way < 0]
            nearest = min((abs(at - to) for at, to in met), default=0.0)
            for places in (each for each in met if abs(each[0] - each[1]) < nearest + LEAST):
                spans = [(min(each), max(each)) for each in zip(places, ends, strict=True)]
                yield _told(spans, joints, figures), left / FIGURES


def widths_of(pieces: Mapping[str, Piece], listed: Collection[str], widths: Iterable[Fraction]) -> Iterator[Leeway]:
    """For each width that is set: the figures on sheets of `listed` pieces that it lies between; each may be off READ.

    All in mm. Else a slot would be another one on the drawing than its step makes.
    """
    figures = _by_span(pieces[names[0]].solid for names in alike({name: pieces[name] for name in listed}))
    for width in widths:
        near = round(float(width) / _GRID)
        for apart, *ends in (each for key in (near - 1, near, near + 1) for each in figures.get(key, ())):
            if abs(apart - width) < _GRID / 2:
                yield tuple(Fraction(round(mm * 10**_PLACES), 10**_PLACES) for mm in ends if mm > 0), READ


def turning_of(pieces: Mapping[str, Piece], listed: Collection[str], fits: Iterable[Either]) -> Iterator[Leeway]:
    """For each arc on a sheet of `listed` pieces that by a fit runs about the middle of another: its radius, its share.

    All in mm. A curved strip runs between two arcs as a tongue does between two faces.
    """
    drawn = {name for names in alike({name: pieces[name] for name in listed}) for name in names}
    for mine, others, left in _each_way((), (fit for fit in fits if {*fit[0], *fit[1]} <= pieces.keys())):
        if mine not in drawn or left is None:
            continue
        theirs = [arc for name in others for arc in _arcs(pieces[name])]
        for axis, middle, radius in _arcs(pieces[mine]):
            if any(
                way == axis and math.dist(at, middle) < NEAR and abs(other - radius) > LEAST
                for way, at, other in theirs
            ):
                yield (Fraction(round(radius * 10**_PLACES), 10**_PLACES),), left / FIGURES


def _arcs(piece: Piece) -> Iterator[tuple[int, tuple[float, float], float]]:
    """The arcs of a piece where it lies: axis, middle and radius; not those that only round a corner, and no holes."""
    low = piece.solid.bounds[0]
    for arc in measured(piece.solid).rounds:
        if not (arc.whole or arc.corner):
            u, v = (low[axis] for axis in AXES if axis != arc.axis)
            yield arc.axis, (arc.middle[0] + u, arc.middle[1] + v), arc.radius


def met(one: Piece, other: Piece, axis: int) -> tuple[_Met, ...]:
    """Where faces of a piece lie along an axis, and those of the other piece that they meet, mm; and the way they look.

    That is 1.0 for along the axis and -1.0 for against it.
    """
    return tuple(sorted(set(_met(_body(one), _body(other), axis))))


def _each_way(
    listed: Collection[str], fits: Iterable[Either]
) -> Iterator[tuple[str, Collection[str], Fraction | None]]:
    """Each piece with those it may go into, and what a fit of them leaves if one is asked for."""
    yield from ((name, listed, None) for name in listed)
    for one, other, left in fits:
        yield from ((name, other, left) for name in one)
        yield from ((name, one, left) for name in other)


def _body(piece: Piece) -> _Body:
    vertices, triangles = piece.solid.mesh
    corners = vertices[triangles]
    normals, _, _ = planes(corners)
    low, high = piece.solid.bounds
    flats = tuple(tuple(_flats(corners, normals, axis)) for axis in AXES)
    boards = tuple(tuple(end[axis] for member in piece.members for end in member.box) for axis in AXES)
    return _Body(low, high, flats, boards)


def _flats(corners: Floats, normals: Floats, axis: int) -> Iterator[_Flat]:
    flat = np.abs(normals[:, axis]) > SQUARE
    mine, ways = corners[flat], np.sign(normals[flat, axis])
    level = np.round(mine[:, :, axis].mean(axis=1) / _GRID)
    sides = [other for other in AXES if other != axis]
    boxes = np.concatenate([mine.min(axis=1)[:, sides], mine.max(axis=1)[:, sides]], axis=1)
    for way in (-1.0, 1.0):
        for at in np.unique(level[ways == way]).tolist():
            own = (level == at) & (ways == way)
            yield _Flat(float(mine[own][:, :, axis].mean()), way, boxes[own])


def _met(one: _Body, other: _Body, axis: int, near: float = NEAR) -> Iterator[_Met]:
    ends = zip(one.low, one.high, other.low, other.high, strict=True)
    if all(a - NEAR < d and c - NEAR < b for a, b, c, d in ends):
        for mine in one.flats[axis]:
            for theirs in other.flats[axis]:
                gap = (theirs.at - mine.at) * mine.way
                if mine.way != theirs.way and -LEAST < gap < near and _lie_over(mine.boxes, theirs.boxes):
                    yield mine.at, theirs.at, mine.way


def _lie_over(one: Floats, other: Floats) -> bool:
    low = np.maximum(one[:, None, :2], other[None, :, :2])
    high = np.minimum(one[:, None, 2:], other[None, :, 2:])
    return bool((high - low > SHARED).all(axis=2).any())


def _plays(met: Sequence[_Met], left: Fraction | None) -> Iterator[tuple[tuple[_Span, _Span], Fraction]]:
    """A piece between two faces that meet others, and where those lie; and how far each figure of it may be off.

    It goes between them, or they go into it, where its two faces look opposite ways.
    """
    for (one, other, way), (far, beyond, back) in combinations(met, 2):
        if way == back:
            continue
        mine, theirs = sorted((one, far)), sorted((other, beyond))
        play = abs((mine[1] - mine[0]) - (theirs[1] - theirs[0]))
        leeways = [] if left is None else [left]
        if play > LEAST:
            leeways.append(Fraction(play) / PART)
        if leeways and min(mine[1] - mine[0], theirs[1] - theirs[0]) > NEAR:
            yield ((mine[0], mine[1]), (theirs[0], theirs[1])), min(leeways) / FIGURES


def _by_span(solids: Iterable[Solid]) -> _Spans:
    """Every two places of a sheet along one axis, by how far they lie apart."""
    found: dict[int, set[tuple[float, float, float]]] = defaultdict(set)
    for solid in solids:
        for places in measured(solid).places:
            for low, high in combinations(places, 2):
                found[round((high - low) / _GRID)].add((high - low, low, high))
    return found


def _told(spans: Iterable[_Span], joints: Sequence[float], figures: _Spans) -> tuple[Fraction, ...]:
    """The lengths of spans with all figures of which one less the other is such a length.

    What no figures tell is put together from boards that lie between its ends: those are told then.
    """
    found: set[float] = set()
    for low, high in spans:
        told = _figures(high - low, figures) or _parts(low, high, joints, figures)
        found.update({high - low}, told)
    return tuple(sorted({Fraction(round(mm * 10**_PLACES), 10**_PLACES) for mm in found if mm > 0}))


def _parts(low: float, high: float, joints: Sequence[float], figures: _Spans) -> set[float]:
    """The figures of the fewest boards that fill a span from end to end; none where some of it is told by none."""
    ways: list[tuple[float, set[float]]] = [(low, set())]
    seen = {low}
    for at, told in ways:
        for to in (high, *joints):
            parts = _figures(to - at, figures) if to - at > NEAR and to <= high and to not in seen else set()
            if parts and to == high:
                return told | parts
            if parts:
                seen.add(to)
                ways.append((to, told | parts))
    return set()


def _figures(span: float, figures: _Spans) -> set[float]:
    """The figures of which one less the other is a span."""
    near = round(span / _GRID)
    alike = (each for key in (near - 1, near, near + 1) for each in figures.get(key, ()))
    return {end for apart, *ends in alike if abs(apart - span) < _GRID / 2 for end in ends}
