"""On which of the parts that were sawn apart a line to cut is drawn: where most of it is seen; it draws nothing."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planbook.drawing.look import NEAR, Look
from planbook.drawing.paper import seen_from
from planbook.drawing.sight import OFF, Floats, front_of_all
from planbook.solids.frames import dot
from planbook.solids.hatch import clearances
from planbook.workshop.timeline import MIDDLE, Cue, Shown

LOOKS = 48
"""At so many places of a line is looked."""
BESIDE = 3.0
"""A line runs along wood that is no further from it than this, mm: the cut and what is left for sanding."""
ENOUGH = 0.9
"""A line of which this share is seen stays where it is."""
MORE = 0.1
"""It moves to another part where so much more of it is seen, as a share of its length."""


def where_seen(cues: Sequence[Cue], pieces: Sequence[Shown], look: Look) -> tuple[Cue, ...]:
    """The cues of a picture, lines in the middle of their cut on that of the parts beside on which most of it is seen.

    Any other line is left on one part, and would be a kerf away from where it is on all others.
    """
    if not any(any(s.apart) for s in pieces):
        return tuple(cues)
    return tuple(_moved(cue, pieces, look) if cue.text == MIDDLE else cue for cue in cues)


def _moved(cue: Cue, pieces: Sequence[Shown], look: Look) -> Cue:
    own = next((n for n, s in enumerate(pieces) if s.piece.name == cue.piece), None)
    if own is None or not cue.points:
        return cue
    spots = spread(np.array(cue.points))
    others = [n for n, s in enumerate(pieces) if s.apart != pieces[own].apart and _beside(spots, s)]
    seen = _seen(spots, own, pieces, look) if others else 1.0
    if seen >= ENOUGH:
        return cue
    share, best = max((_seen(spots, n, pieces, look), -n) for n in others)
    return replace(cue, piece=pieces[-best].piece.name) if share > seen + MORE else cue


def spread(line: Floats) -> Floats:
    """Places evenly along a line with these points (n,3)."""
    far = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    at = np.linspace(0.0, far[-1], LOOKS)
    return np.stack([np.interp(at, far, each) for each in line.T], axis=1)


def _beside(spots: Floats, shown: Shown) -> bool:
    """Whether a piece that is worked may lie beside a line: their boxes do."""
    (low, high), (least, most) = shown.piece.solid.bounds, (spots.min(axis=0), spots.max(axis=0))
    apart = np.maximum(least - np.array(high), np.array(low) - most)
    return shown.role != "context" and bool((apart < BESIDE).all())


def _seen(spots: Floats, number: int, pieces: Sequence[Shown], look: Look) -> float:
    """The share of the places of a line that are seen, and seen along a face of a piece in whose plane they lie."""
    at = spots + np.asarray(pieces[number].apart)
    points = [(x, y, z) for x, y, z in at.tolist()]
    faces = [f for f in look.faces if f.piece == number and not f.curved]
    wood = [q for f in faces if all(abs(dot(f.normal, p) - f.offset) < NEAR for p in points) for q in f.polygons]
    if not wood:
        return 0.0
    flat = [(u, v) for u, v in seen_from(look.view, at).tolist()]
    free = ~front_of_all(pieces, look.view).hidden(at, OFF)
    return float(np.mean(free & (np.array(clearances(wood, (), flat)) < BESIDE)))
