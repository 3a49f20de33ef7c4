"""The papers of stencils on a piece: what of one lies open on the wood, and how it goes along; sticks nothing on."""

from dataclasses import replace

from planbook.model import FACES, FaceName
from planbook.solids import FACE_FRAMES, Area, Frame, Solid, Vec3
from planbook.solids.frames import dot
from planbook.solids.plane import blank_area
from planbook.workshop.timeline import Stuck

DEEP = 0.01
"""So far (mm) below a face its wood is looked for, and so far above it what covers it."""
SCRAP = 0.5
"""Less paper than this (mm2) is none."""
ALONG = 0.999
"""Cosine between two directions that count as one."""


def open_paper(stuck: Stuck, solid: Solid) -> Area:
    """What of a paper lies on the wood of a solid with no wood over it, in (u, v) of its frame."""
    plane = dot(stuck.frame.origin, stuck.frame.n)
    out = solid.reach(stuck.frame.n) - plane
    if out < -2 * DEEP:
        return blank_area()
    under = solid.section(stuck.frame, -DEEP).meet(stuck.face)
    return under if out < DEEP or under.empty else under.minus(solid.section(stuck.frame, DEEP))


def still_there(stuck: Stuck, solid: Solid) -> bool:
    """Whether the paper of a stencil still lies open on a solid: its face is where it was stuck."""
    return open_paper(stuck, solid).size > SCRAP


def turned_paper(stuck: Stuck, frame: Frame) -> Stuck:
    """A paper that went with its piece to another frame, under the name of the face it lies on now, if it has one."""
    face = _named(frame.n) or stuck.stencil.face
    return replace(stuck, frame=frame, stencil=replace(stuck.stencil, face=face))


def _named(way: Vec3) -> FaceName | None:
    return next((name for name in FACES if dot(FACE_FRAMES[name].n, way) > ALONG), None)
