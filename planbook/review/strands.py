"""Narrow strands of wood between two edges that the grain runs across; measured line by line on a section."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planbook.review.bends import sawn
from planbook.review.cuts import setting, thrown_away
from planbook.review.grains import ALONG, one_way
from planbook.solids import FACE_FRAMES, Area, Frame, Vec3
from planbook.solids.frames import dot, negated
from planbook.solids.plane import box
from planbook.workshop import Event, Piece, Timeline
from planbook.workshop.grain import grain_of

Floats = NDArray[np.float64]
STEP = 1.5
LINES = 120
"""A section is looked at every so many mm, or in so many lines."""
SLENDER = 3.0
"""A strand is longer than it is wide by this factor."""
USED = 0.5
"""Share of a piece that must go into the object for its strands to matter."""
TIP = 2.0
"""What is shorter than this times the least width is only the tip of a corner."""
SLIT = 0.01
"""So wide a slit through a neck shows what hangs on it, mm."""
NECK = 0.5
"""Where a piece is narrower than this times the least width, a short neck is as weak, if wood hangs on it."""


@dataclass(frozen=True, slots=True)
class Strand:
    """A weak part: the piece, how wide it is along the grain and how long across it (mm), and where in the build."""

    piece: str
    wide: float
    long: float
    where: Vec3


def weak(event: Event, timeline: Timeline, least: float) -> Iterator[Strand]:
    """The longest strand narrower than `least` mm of each part that an event saws, if it is slender."""
    for piece in event.made:
        if thrown_away(piece, event, timeline) or not piece.sources or not one_way(piece):
            continue
        if _used(piece, timeline) < USED * piece.solid.volume:
            continue
        found = list(_sliced(event, piece, least) if event.operation.kind == "slice" else _sawn(event, piece, least))
        if found:
            yield max(found, key=lambda strand: strand.long)


def _used(piece: Piece, timeline: Timeline) -> float:
    """How much of a piece (mm3) ends in the object or is kept: an offcut from which a strip is taken may break."""
    fate = timeline.fates.get(piece.name)
    if fate is not None:
        return piece.solid.volume if fate.ending in ("part", "kept") else 0.0
    made = [
        each
        for event in timeline.events
        if any(taken.name == piece.name for taken in event.taken)
        for each in event.made
        if piece.name in each.sources and each.name != piece.name
    ]
    return min(piece.solid.volume, sum(_used(each, timeline) for each in made))


def _sliced(event: Event, piece: Piece, least: float) -> Iterator[Strand]:
    normal = FACE_FRAMES[setting(event, "face")].n
    thick = piece.solid.reach(normal) + piece.solid.reach(negated(normal))
    long = min(e for e, n in zip(piece.solid.extent, normal, strict=True) if abs(n) < 0.5)
    if abs(dot(grain_of(piece), normal)) > ALONG and thick < least and long > SLENDER * thick:
        yield Strand(piece.name, thick, long, piece.solid.middle)


def _sawn(event: Event, piece: Piece, least: float) -> Iterator[Strand]:
    frame = next((each.stuck.frame for each in sawn(event) if each.piece.name in piece.sources), None)
    grain = grain_of(piece)
    if frame is None or abs(dot(grain, frame.n)) > ALONG:
        return
    low = -piece.solid.reach(negated(frame.n)) - dot(frame.origin, frame.n)
    height = (low + piece.solid.reach(frame.n) - dot(frame.origin, frame.n)) / 2
    turn = math.degrees(math.atan2(dot(grain, frame.v), dot(grain, frame.u)))
    section = piece.solid.section(frame, height).turned(-turn)
    for wide, long, (u, v) in _strands(section, least):
        yield Strand(piece.name, wide, long, _back(frame, (u, v), turn, height))


def _strands(section: Area, least: float) -> Iterator[tuple[float, float, tuple[float, float]]]:
    """(width, length, middle) of every slender strand of a section whose grain runs along u.

    A feather edge that tapers off is none: its tip is soon gone, and nothing else breaks.
    """
    if section.empty:
        return
    _, bottom, _, top = section.bounds
    starts, ends = _sides(section)
    step = max(STEP, (top - bottom) / LINES)
    open_runs: list[list[tuple[float, float, float]]] = []
    done: list[list[tuple[float, float, float]]] = []
    v = bottom + step / 2
    while v < top:
        narrow = [(a, b) for a, b in _chords(starts, ends, v) if b - a < least]
        going = []
        for a, b in narrow:
            before = next((run for run in open_runs if run[-1][0] < b and a < run[-1][1]), None)
            if before:
                open_runs.remove(before)
            going.append([*(before or []), (a, b, v)])
        done += open_runs
        open_runs = going
        v += step
    for run in (*done, *open_runs):
        widths, long = [b - a for a, b, _ in run], run[-1][2] - run[0][2] + step
        tapers = min(widths[0], widths[-1]) < max(widths) / 2
        slender = long > max(SLENDER * max(widths), TIP * least) and not tapers
        if slender or _carries(section, run, least):
            a, b, at = run[len(run) // 2]
            yield min(widths), long, ((a + b) / 2, at)


def _carries(section: Area, run: list[tuple[float, float, float]], least: float) -> bool:
    """Whether a run of narrow chords is the neck on which a part of the section hangs that is no mere tip."""
    a, b, v = min(run, key=lambda chord: chord[1] - chord[0])
    if b - a > NECK * least or v in (run[0][2], run[-1][2]):
        return False
    whole = next((part for part in section.parts if part.holds(((a + b) / 2, v))), section)
    parts = whole.minus(box(a - SLIT, v - SLIT / 2, b - a + 2 * SLIT, SLIT)).parts
    return len(parts) > 1 and min(part.size for part in parts) > least**2


def _sides(section: Area) -> tuple[Floats, Floats]:
    """Both ends of every side of every rim, (n, 2) each."""
    rings = [np.asarray(ring, np.float64) for ring in section.rings]
    return np.concatenate(rings), np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])


def _chords(starts: Floats, ends: Floats, v: float) -> list[tuple[float, float]]:
    """Where the line at a height runs in the wood: from u to u."""
    crossed = (starts[:, 1] > v) != (ends[:, 1] > v)
    (u0, v0), (u1, v1) = starts[crossed].T, ends[crossed].T
    found = np.sort(u0 + (v - v0) / (v1 - v0) * (u1 - u0)).tolist()
    return list(zip(found[::2], found[1::2], strict=False))


def _back(frame: Frame, at: tuple[float, float], turn: float, height: float) -> Vec3:
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    return frame.world(at[0] * c - at[1] * s, at[0] * s + at[1] * c, height)
