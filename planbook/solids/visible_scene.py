"""Bodies projected along a view: the triangles that face the eye and the edges that may become lines."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from planbook.solids.columns import least, most
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Body, Bools, Floats, Ints, Mesh, smooth_edges, surfaces, welded
from planbook.solids.visible_view import View, frame_of

OUTLINE, CREASE, SEAM, HIDDEN, CROSSING = range(5)
KINDS = ("outline", "crease", "seam", "hidden")

FACING = 1e-5
"""Least cosine between a normal and the line of sight for a triangle to be seen at all."""
SLIVER = 20.0
"""Strips of the picture narrower than this many resolutions belong to their neighbour."""
SLACK = 40.0
"""Most resolutions by which two depths may differ and still be the same place."""


@dataclass(frozen=True, eq=False, slots=True)
class Scene:
    """Projected bodies; u right, v up, depth growing toward the eye, all in mm.

    Triangles facing the eye: `corners` (f,3,2), `depths` (f,3), `normals` (f,3) in the world, projected
    `area` (f,), `surface` (f,) and `body` (f,), `tag` (f,), `slack` (f,): how far a depth on it may be wrong,
    `tops` (f,): the depth of its nearest corner, `low` and `high` (f,3): its box in the world. On the way
    from the first corner the shares of the others grow by `shares` (f,2,2) per mm, the depth by `rise` (f,2).
    Edges: `ends` (e,2,2), `heights` (e,2) depths of the ends, `kind` (e,), `owner` (e,) body,
    `fronts` (e,2) triangles facing the eye on both sides, -1 for none.
    """

    grid: float
    corners: Floats
    depths: Floats
    normals: Floats
    area: Floats
    surface: Ints
    body: Ints
    tag: Ints
    slack: Floats
    tops: Floats
    low: Floats
    high: Floats
    shares: Floats
    rise: Floats
    ends: Floats
    heights: Floats
    kind: Ints
    owner: Ints
    fronts: Ints
    tree: shapely.STRtree


def project(bodies: Sequence[Body], view: View, crease_deg: float, hidden: bool) -> Scene:
    """Scene of the bodies; with `hidden`, edges turned away from the eye are kept too."""
    mesh = welded(bodies)
    frame = frame_of(view)
    seen = mesh.points @ frame.T
    facing = mesh.normals @ frame[2]
    corner = seen[mesh.triangles]
    area = _signed_areas(corner[:, :, :2])
    front = (facing > FACING) & (area > 0)
    number = np.full(len(front) + 1, -1, dtype=np.int64)  # the last entry serves side -1
    number[:-1][front] = np.arange(int(front.sum()))
    surface = surfaces(mesh, crease_deg)
    corners = np.ascontiguousarray(corner[front][:, :, :2])
    world = mesh.points[mesh.triangles[front]]
    slope = np.sqrt(np.maximum(1 - facing[front] ** 2, 0)) / facing[front]
    shares, depths = _shares(corners, area[front]), corner[front][:, :, 2]
    keep, kind = _features(mesh, number[mesh.sides], surface, crease_deg, hidden)
    ends = seen[mesh.edges[keep]]
    return Scene(
        grid=mesh.resolution,
        corners=corners,
        depths=depths,
        normals=mesh.normals[front],
        area=area[front],
        surface=surface[front],
        body=mesh.body[front],
        tag=mesh.tag[front],
        slack=mesh.resolution * np.minimum(4 * (1 + slope), SLACK),
        tops=most(depths),
        low=least(world),
        high=most(world),
        shares=shares,
        rise=np.einsum("ik,ikj->ij", depths[:, 1:] - depths[:, :1], shares),
        ends=np.ascontiguousarray(ends[:, :, :2]),
        heights=ends[:, :, 2],
        kind=kind,
        owner=mesh.body[mesh.sides[keep, 0]],
        fronts=number[mesh.sides[keep]],
        tree=shapely.STRtree(extents(corners)),
    )


def with_edges(scene: Scene, ends: Floats, heights: Floats, fronts: Ints) -> Scene:
    """The scene with further edges, where bodies run into each other."""
    if not len(ends):
        return scene
    return replace(
        scene,
        ends=np.concatenate([scene.ends, ends]),
        heights=np.concatenate([scene.heights, heights]),
        kind=np.concatenate([scene.kind, np.full(len(ends), CROSSING)]),
        owner=np.concatenate([scene.owner, scene.body[fronts[:, 0]]]),
        fronts=np.concatenate([scene.fronts, fronts]),
    )


def only_edges(scene: Scene, keep: Bools) -> Scene:
    """The scene with some of its edges."""
    return replace(
        scene,
        ends=scene.ends[keep],
        heights=scene.heights[keep],
        kind=scene.kind[keep],
        owner=scene.owner[keep],
        fronts=scene.fronts[keep],
    )


def _shares(corners: Floats, area: Floats) -> Floats:
    """What a way from the first corner of triangles (n,3,2) is multiplied with for the shares of the others (n,2,2)."""
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    found: Floats = np.stack([two[:, 1], -two[:, 0], -one[:, 1], one[:, 0]], 1).reshape(-1, 2, 2)
    found /= (2 * area)[:, None, None]
    return found


def _signed_areas(corner: Floats) -> Floats:
    """Areas of plane triangles (n,3,2), positive when counter-clockwise."""
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    areas: Floats = (one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2
    return areas


def _features(mesh: Mesh, fronts: Ints, surface: Ints, crease_deg: float, hidden: bool) -> tuple[Bools, Ints]:
    """Which edges may become lines, and the kind of those that may."""
    facing = (fronts >= 0).sum(axis=1)
    smooth = smooth_edges(mesh, crease_deg)
    paired = mesh.sides[:, 1] >= 0
    silhouette = facing == 1
    keep = silhouette | ((facing == 2) & ~smooth)
    if hidden:
        keep |= (facing == 0) & ~smooth
    one, two = mesh.sides[keep].T
    bent = mesh.bend[keep] <= np.cos(np.radians(crease_deg))
    kind = np.where(bent | (surface[one] == surface[two]), CREASE, SEAM)
    kind[silhouette[keep] | ~paired[keep]] = OUTLINE
    return keep, kind
