"""How the lines that are really sawn bend inside the wood: curves and corners; not what a blade can follow."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from planbook.review.cuts import setting
from planbook.solids import Area, Outline, Path, Point2
from planbook.workshop import Event, Piece, Stuck

ROUND = 0.04
"""A corner between chords that stands further from the arc than this (mm) was not drawn round."""
GENTLE = math.radians(25)
"""Chords of an arc turn less than this at a corner."""
SHARP = math.radians(30)
"""A corner that turns less than this is nearly straight on."""
JOINED = 1e-6
Turn = tuple[Point2, Point2, Point2, float]
"""A corner between two chords: the point before, the corner, the point after, and the turn (rad, left positive)."""


@dataclass(frozen=True, eq=False, slots=True)
class Run:
    """A stretch of the middle of a saw cut inside the wood; `open_ends` is false for one that closes in itself."""

    line: str
    points: tuple[Point2, ...]
    closed: bool


@dataclass(frozen=True, eq=False, slots=True)
class Sawn:
    """A piece that was sawn to a stencil: its section half way down, and the runs of its lines and of its entries."""

    piece: Piece
    stuck: Stuck
    section: Area
    lines: tuple[Run, ...]
    entries: tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Bend:
    """A bend of a run: the least radius (mm; 0 for a sharp corner), how far it turns (rad), and where on the face."""

    line: str
    radius: float
    turn: float
    at: Point2
    before: Point2
    after: Point2


@lru_cache(maxsize=64)
def sawn(event: Event) -> tuple[Sawn, ...]:
    """What a `saw` block saws, piece by piece."""
    name = setting(event, "stencil")
    found = []
    for piece in event.taken:
        stuck = next((each for each in piece.stuck if each.stencil.name == name), None)
        if stuck is not None:
            found.append(_sawn(event, piece, stuck))
    return tuple(found)


def _sawn(event: Event, piece: Piece, stuck: Stuck) -> Sawn:
    n = stuck.frame.n
    base = sum(a * b for a, b in zip(stuck.frame.origin, n, strict=True))
    low = -piece.solid.reach((-n[0], -n[1], -n[2])) - base
    section = piece.solid.section(stuck.frame, (low + piece.solid.reach(n) - base) / 2)
    entry = setting(event, "entry", ())
    lines = [
        run for line in setting(event, "lines", ()) for run in _runs(line, _middle(stuck.lines[line], event), section)
    ]
    entries = [run for line in entry for run in _runs(line, stuck.lines[line], section)]
    return Sawn(piece, stuck, section, tuple(lines), tuple(entries))


def _middle(outline: Outline, event: Event) -> Outline:
    """The line that the middle of the blade follows."""
    side, leave, kerf = setting(event, "kerf side"), setting(event, "leave", 0.0), setting(event, "kerf", 0.0)
    if isinstance(outline, Path) or side not in ("outside", "inside"):
        return outline
    return outline.offset(leave + kerf / 2 if side == "outside" else -leave - kerf / 2)


def _runs(line: str, outline: Outline, section: Area) -> Iterator[Run]:
    """The stretches of a line in the wood; a ring that was parted only where it begins is put together again."""
    if isinstance(outline, Path):
        yield from (Run(line, run.points, False) for run in outline.inside(section))
        return
    for ring in outline.rings:
        parts = [run.points for run in Path((*ring, ring[0])).inside(section)]
        if len(parts) == 1 and math.dist(parts[0][0], parts[0][-1]) < JOINED:
            yield Run(line, parts[0][:-1], True)
            continue
        if len(parts) > 1 and math.dist(parts[-1][-1], parts[0][0]) < JOINED:
            parts = [(*parts[-1], *parts[0][1:]), *parts[1:-1]]
        yield from (Run(line, part, False) for part in parts)


def corners(run: Run) -> Iterator[Bend]:
    """The sharp corners of a run, in order."""
    for before, at, after, turn in _turns(run):
        if abs(turn) > SHARP and not _is_round(before, at, after, turn):
            yield Bend(run.line, 0.0, abs(turn), at, before, after)


def curves(run: Run, below: float) -> Iterator[Bend]:
    """The stretches of a run that are rounder than a radius (mm), each with the least radius found in it."""
    for (tight, _), group in groupby(_turns(run), key=lambda turn: (_radius(*turn) < below, turn[3] > 0)):
        if tight:
            yield _bend(run.line, tuple(group))


def _bend(line: str, turns: Sequence[Turn]) -> Bend:
    at = turns[len(turns) // 2][1]
    whole = sum(abs(turn) for *_, turn in turns)
    return Bend(line, min(_radius(*turn) for turn in turns), whole, at, turns[0][0], turns[-1][2])


def _radius(before: Point2, at: Point2, after: Point2, turn: float) -> float:
    """The radius of the arc whose chords meet at a point; infinite for a corner and for a straight line."""
    if abs(turn) < 1e-6 or not _is_round(before, at, after, turn):
        return math.inf
    return min(math.dist(before, at), math.dist(at, after)) / (2 * math.sin(abs(turn) / 2))


def _is_round(before: Point2, at: Point2, after: Point2, turn: float) -> bool:
    """Whether the corner between two chords is one of those of an arc."""
    short = min(math.dist(before, at), math.dist(at, after))
    return abs(turn) < GENTLE and short * abs(turn) / 8 < ROUND


def _turns(run: Run) -> Iterator[Turn]:
    """Each inner corner with its neighbours, and how far the line turns there (rad, left is positive)."""
    points = _plain(run)
    if len(points) < 3:
        return
    ends = (points[-1], *points, points[0]) if run.closed else points
    for before, at, after in zip(ends, ends[1:], ends[2:], strict=False):
        first = math.atan2(at[1] - before[1], at[0] - before[0])
        second = math.atan2(after[1] - at[1], after[0] - at[0])
        yield before, at, after, (second - first + math.pi) % (2 * math.pi) - math.pi


def _plain(run: Run) -> tuple[Point2, ...]:
    """The points without those that coincide; a closed run begins on its longest side, so that no curve is parted."""
    kept: list[Point2] = []
    for point in run.points:
        if not kept or math.dist(kept[-1], point) > 1e-4:
            kept.append(point)
    if not run.closed or len(kept) < 3:
        return tuple(kept)
    sides = [math.dist(a, b) for a, b in zip(kept, (*kept[1:], kept[0]), strict=True)]
    start = (sides.index(max(sides)) + 1) % len(kept)
    return (*kept[start:], *kept[:start])
