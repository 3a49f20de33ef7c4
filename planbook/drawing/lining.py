"""The floor that is lined, in a tone of its own that no wood has: where it is seen; felt hides the woods under it."""

from collections.abc import Sequence

import numpy as np

from planbook.drawing.coarse import coarse
from planbook.drawing.ink import LINE, LINING, Ink
from planbook.drawing.look import Look
from planbook.drawing.marks import Fill, Mark, Pen, Stroke
from planbook.drawing.paper import Paper, seen_from
from planbook.drawing.surfaces import groups
from planbook.drawing.views import direction_of
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.hatch import within
from planbook.solids.shares import joined_triangles, overlap
from planbook.workshop.timeline import Cue, Shown

STEEP = 0.3
"""Least cosine to the direction of the opening for a part of the hollow to be floor."""
RIM = 0.18
"""Width of the line around it, mm."""


def lined(
    cue: Cue, points: tuple[Vec3, ...], shown: Sequence[Shown], look: Look, paper: Paper, ink: Ink
) -> tuple[Mark, ...]:
    """A fill over what is seen of the floor inside a ring of points; the cue's text is the face of the opening."""
    mine = next(n for n, s in enumerate(shown) if s.piece.name == cue.piece)
    solid = coarse(tuple(s.piece.solid for s in shown)).solids[mine]
    vertices, triangles = solid.mesh
    corners = (vertices + np.asarray(shown[mine].apart))[triangles]
    surface, way = groups(solid), np.asarray(direction_of(cue.text))
    there = np.flatnonzero((surface.normals @ way > STEEP) & (surface.normals @ np.asarray(look.view.toward) > 0))
    frame = FACE_FRAMES[cue.text]
    flat = np.array([frame.u, frame.v]).T
    ring = tuple((u, v) for u, v in (np.array(points) @ flat).tolist())
    there = there[within([(ring, ())], corners[there].mean(axis=1) @ flat)]
    floor = joined_triangles(seen_from(look.view, corners[there].reshape(-1, 3)).reshape(-1, 3, 2))
    faces = {int(tag) for tag in surface.tags[there]}
    seen = [q for f in look.faces if f.piece == mine and f.surface in faces for q in f.polygons]
    rings = paper.rings(overlap(floor, seen)) if floor and seen else ()
    if not rings:
        return ()
    edges = (Stroke(ring, Pen(RIM, LINE), "lining", closed=True) for ring in rings)
    return (Fill(rings, LINING[ink], "lining"), *edges)
