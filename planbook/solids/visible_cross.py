"""Lines along which the surfaces of two bodies run into each other; pieces that only touch have none."""

import numpy as np
import shapely

from planbook.solids.columns import every, least, most, some
from planbook.solids.extents import extents
from planbook.solids.faces_mesh import Bools, Floats, Ints
from planbook.solids.visible_scene import SLACK, Scene

OVERSHOOT = 2.0
"""Resolutions by which a crossing line is longer at each end."""


def crossings(scene: Scene) -> tuple[Floats, Floats, Ints]:
    """Projected ends (k,2,2), depths there (k,2) and the two front triangles (k,2) of every crossing line."""
    one, two = _close_pairs(scene)
    near = np.unique(np.concatenate([one, two]))
    planes = _planes(scene, near)
    plane_one, plane_two = planes[np.searchsorted(near, one)], planes[np.searchsorted(near, two)]
    cut = _straddles(scene, one, plane_two) & _straddles(scene, two, plane_one)
    one, two, plane_one, difference = one[cut], two[cut], plane_one[cut], (plane_one - plane_two)[cut]
    # Both planes are at one depth on the line a·u + b·v + c = 0.
    steep = np.hypot(difference[:, 0], difference[:, 1])
    ok = steep > 1e-9
    one, two, plane_one, difference, steep = one[ok], two[ok], plane_one[ok], difference[ok], steep[ok]
    normal = difference[:, :2] / steep[:, None]
    start = -normal * (difference[:, 2] / steep)[:, None]
    along = np.stack([-normal[:, 1], normal[:, 0]], 1)
    low, high = _span(scene.corners[one], start, along, scene.grid)
    low_two, high_two = _span(scene.corners[two], start, along, scene.grid)
    low, high = np.maximum(low, low_two), np.minimum(high, high_two)
    real = high - low > scene.grid
    # A little too long, so that on the grid they still reach across the edges they end at.
    low, high = low - OVERSHOOT * scene.grid, high + OVERSHOOT * scene.grid
    ends = start[real, None] + np.stack([low[real], high[real]], 1)[:, :, None] * along[real, None]
    heights = np.einsum("ijk,ik->ij", ends, plane_one[real, :2]) + plane_one[real, 2:]
    return ends, heights, np.stack([one[real], two[real]], 1)


def _close_pairs(scene: Scene) -> tuple[Ints, Ints]:
    """Front triangles of different bodies whose boxes in space overlap, each pair once."""
    near = np.flatnonzero(_near_others(scene))
    boxes, body = extents(scene.corners[near]), scene.body[near]
    one, two = shapely.STRtree(boxes).query(boxes)
    meet = np.flatnonzero((body.take(one) != body.take(two)) & (one < two))
    one, two = one.take(meet), two.take(meet)
    depths = scene.depths[near]
    spans = [*zip(scene.low[near].T, scene.high[near].T + scene.grid, strict=True), (least(depths), most(depths))]
    for low, high in spans:  # one after the other, as few are left of many
        low, high = np.ascontiguousarray(low), np.ascontiguousarray(high)
        meet = np.flatnonzero((low.take(one) <= high.take(two)) & (low.take(two) <= high.take(one)))
        one, two = one.take(meet), two.take(meet)
    return near[one], near[two]


def _near_others(scene: Scene) -> Bools:
    """Which triangles (f,) reach into the box of another body."""
    near = np.zeros(len(scene.body), dtype=np.bool_)
    for body in np.unique(scene.body).tolist():
        mine = scene.body == body
        low, high = scene.low[mine].min(axis=0) - scene.grid, scene.high[mine].max(axis=0) + scene.grid
        near |= ~mine & every((scene.low <= high) & (scene.high >= low))
    return near


def _planes(scene: Scene, triangles: Ints) -> Floats:
    """Depth as a·u + b·v + c over each triangle (n,3)."""
    corner, depth = scene.corners[triangles], scene.depths[triangles]
    side = corner[:, 1:] - corner[:, :1]
    rise = depth[:, 1:] - depth[:, :1]
    twice = side[:, 0, 0] * side[:, 1, 1] - side[:, 0, 1] * side[:, 1, 0]
    a = (rise[:, 0] * side[:, 1, 1] - rise[:, 1] * side[:, 0, 1]) / twice
    b = (side[:, 0, 0] * rise[:, 1] - side[:, 1, 0] * rise[:, 0]) / twice
    return np.stack([a, b, depth[:, 0] - a * corner[:, 0, 0] - b * corner[:, 0, 1]], 1)


def _straddles(scene: Scene, triangles: Ints, planes: Floats) -> Bools:
    """Whether each triangle reaches from behind its plane to it or through it.

    A corner on the plane counts as in front. So pieces that stand on each other do not cross, and of two
    triangles that meet exactly on the plane only one does.
    """
    corner = scene.corners[triangles]
    over = scene.depths[triangles] - np.einsum("ijk,ik->ij", corner, planes[:, :2]) - planes[:, 2:]
    distance = over / np.sqrt(1 + (planes[:, :2] ** 2).sum(axis=1))[:, None]
    behind = distance < -SLACK / 4 * scene.grid
    both: Bools = some(behind) & ~every(behind)
    return both


def _span(corner: Floats, start: Floats, along: Floats, grid: float) -> tuple[Floats, Floats]:
    """Parameters between which the line start + t·along is inside each triangle (empty when low > high).

    A line along a side of the triangle is inside.
    """
    side = np.roll(corner, -1, axis=1) - corner
    offset = start[:, None] - corner
    value = side[:, :, 0] * offset[:, :, 1] - side[:, :, 1] * offset[:, :, 0]
    value += grid * np.hypot(side[:, :, 0], side[:, :, 1])
    slope = side[:, :, 0] * along[:, None, 1] - side[:, :, 1] * along[:, None, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        at = -value / slope
    flat = np.abs(slope) < 1e-12
    never = flat & (value < 0)
    low = np.where(slope > 0, at, -np.inf)
    high = np.where(slope < 0, at, np.inf)
    low[flat], high[flat] = -np.inf, np.inf
    low[never], high[never] = np.inf, -np.inf
    return most(low), least(high)
