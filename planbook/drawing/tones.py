"""The tones of curved surfaces, by the light that falls on them; no colours and no paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import compress

import numpy as np

from planbook.drawing.ink import DIM, FULL, LEVELS, LIGHT, OFFSET
from planbook.drawing.own_front import Folds, in_front
from planbook.drawing.surfaces import Floats, Ints, groups
from planbook.solids import Solid, Vec3
from planbook.solids.columns import every, least, most
from planbook.solids.figures import rims_of
from planbook.solids.shares import bands
from planbook.solids.triangles import above_zero
from planbook.solids.visible import Patch, Polygon2, Seen, View
from planbook.solids.visible_view import frame_of

THIN = 1 / 120
"""What is thinner in the mean than this share of a picture, half a mm on paper, has one tone: that of its mean."""

DIGITS = 6
"""Points are rounded to so many decimals of a mm: what is cut on both sides of an edge meets in the same points."""


@dataclass(frozen=True, slots=True)
class Shade:
    """A part of a curved surface that has one tone: step `level` of the light."""

    piece: int
    level: int
    polygons: tuple[Polygon2, ...]


def shades(seen: Seen, solids: Sequence[tuple[Solid, Vec3]], view: View, folded: Folds) -> tuple[Shade, ...]:
    """Tones of all curved surfaces, from the triangles they are made of, cut where the light passes to the next tone.

    All are cut in one go: they are many, and most have few triangles. The solids are each moved by a vector in mm;
    `folded` says what may stand before some of the same surface.
    """
    wide, thin = curved(seen)
    tones = _step(_steps(np.array([patch.normal for patch in thin]).reshape(-1, 3) @ frame_of(view).T)).tolist()
    found = [Shade(int(p.body), level, p.polygons) for p, level in zip(thin, tones, strict=True)]
    if not wide:
        return tuple(found)
    near = [_near(patch, *solids[int(patch.body)], view) for patch in wide]
    owner = np.repeat(np.arange(len(wide)), [len(corners) for corners, _, _ in near])
    corners, flat, steps = (np.concatenate(each) for each in zip(*near, strict=True))
    names = [(int(patch.body), patch.tag) for patch in wide]
    rest, shares, source = in_front(folded, [names[k] for k in owner.tolist()], corners)
    flat = np.concatenate([flat[rest], shares @ flat[source]])
    steps = np.concatenate([steps[rest], (shares @ steps[source][:, :, None])[:, :, 0]])
    flat, levels, of = _by_step(np.round(flat, DIGITS), np.round(steps, DIGITS))
    shared = bands([patch.polygons for patch in wide], flat, np.concatenate([owner[rest], owner[source]])[of], levels)
    found += [Shade(int(wide[n].body), level, polygons) for n, level, polygons in shared]
    return tuple(found)


def curved(seen: Seen) -> tuple[list[Patch], list[Patch]]:
    """What is seen of curved surfaces that are not `THIN`, and of those that are."""
    left, bottom, right, top = seen.bounds
    least, found = THIN * max(right - left, top - bottom), [patch for patch in seen.patches if patch.curved]
    rims = rims_of([patch.polygons for patch in found])
    wide = [2 * patch.area > least * rim for patch, rim in zip(found, rims, strict=True)]
    return [*compress(found, wide)], [patch for patch, enough in zip(found, wide, strict=True) if not enough]


def _near(patch: Patch, solid: Solid, by: Vec3, view: View) -> tuple[Floats, Floats, Floats]:
    """The triangles of a surface that face the eye near a patch: as they are without being moved (n,3,3), in the plane
    of the view (n,3,2), and the light at their corners (n,3).
    """
    surface, frame = groups(solid), frame_of(view).T
    vertices, triangles = solid.mesh
    mine = np.flatnonzero((surface.tags == patch.tag) & (surface.normals @ np.asarray(view.toward) > 1e-5))
    corners: Floats = vertices[triangles[mine]]
    seen: Floats = np.dot(corners + np.asarray(by), frame)[:, :, :2]
    outers = np.concatenate([np.asarray(outer) for outer, _ in patch.polygons])
    near = every((least(seen) <= outers.max(axis=0)) & (most(seen) >= outers.min(axis=0)))
    return corners[near], seen[near], _steps(np.dot(surface.corners[mine[near]], frame))


def _steps(normals: Floats) -> Floats:
    """Light on normals given as right, up and toward the eye, counted in tones: whole numbers lie between two."""
    amount = 0.5 + 0.5 * np.clip(normals @ np.asarray(LIGHT), -1.0, 1.0)
    steps: Floats = np.clip((amount - DIM) / (FULL - DIM), 0.0, 1.0) * LEVELS + OFFSET
    return steps


def _step(steps: Floats) -> Ints:
    """The tone that is reached."""
    return np.floor(steps).astype(np.int64)


def _by_step(corners: Floats, steps: Floats) -> tuple[Floats, Ints, Ints]:
    """Triangles (n,3,2) cut where the steps at their corners (n,3) pass a whole number.

    With the parts come the step of each and the triangle that it came from.
    """
    low, high = _step(least(steps)), _step(most(steps))
    plain, mixed = np.flatnonzero(low == high), np.flatnonzero(low != high)
    parts, levels, sources = [corners[plain]], [low[plain]], [plain]
    both = np.concatenate([corners[mixed], steps[mixed][:, :, None]], axis=2)
    for level in range(int(low[mixed].min(initial=LEVELS)), int(high[mixed].max(initial=-1)) + 1):
        below, of = above_zero(both, level + 1.0 - both[:, :, 2])
        parts.append(below[:, :, :2])
        levels.append(np.full(len(below), level, dtype=np.int64))
        sources.append(mixed[of])
        both, of = above_zero(both, both[:, :, 2] - (level + 1.0))
        mixed = mixed[of]
    return np.concatenate(parts), np.concatenate(levels), np.concatenate(sources)
