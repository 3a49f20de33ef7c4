"""Which segments of the map are lines of the picture, of what kind and of which body."""

from dataclasses import dataclass

import numpy as np
import shapely

from planbook.solids.columns import every, most, some
from planbook.solids.faces_mesh import Bools, Floats, Ints
from planbook.solids.visible_cast import nearest
from planbook.solids.visible_map import Map
from planbook.solids.visible_scene import CREASE, CROSSING, HIDDEN, OUTLINE, SEAM, SLIVER, Scene

BESIDE = 1.5
"""Most resolutions between a segment on the grid and the edge it came from."""
FLUSH = 0.9998
"""Two bodies are flush where the cosine between their normals is at least this (about 1 degree)."""


@dataclass(frozen=True, eq=False, slots=True)
class Lines:
    """Per segment of the map: `kind` (s,), -1 where nothing is drawn, and `owner` (s,) body."""

    kind: Ints
    owner: Ints


@dataclass(frozen=True, eq=False, slots=True)
class _Sources:
    """Which edges of the scene lie under which segments: pairs, and the depth of the edge at the middle."""

    segment: Ints
    edge: Ints
    depth: Floats

    def only(self, keep: Bools) -> "_Sources":
        return _Sources(self.segment[keep], self.edge[keep], self.depth[keep])


def label_cells(scene: Scene, plan: Map) -> Ints:
    """Surface seen in each cell, -1 for none; slivers take the surface of a neighbour."""
    inside = shapely.point_on_surface(plan.polygons)
    triangle, _ = nearest(scene, np.stack([shapely.get_x(inside), shapely.get_y(inside)], 1))
    label: Ints = np.where(triangle >= 0, scene.surface[triangle], -1)
    thin = plan.widths < SLIVER * scene.grid
    if not thin.any():
        return label
    ends = plan.nodes[plan.segments]
    order = np.argsort(np.hypot(*(ends[:, 1] - ends[:, 0]).T), kind="stable")
    for _ in range(6):
        one, two = plan.cells[order].T
        take, give = np.stack([one, two], 1).reshape(-1), np.stack([two, one], 1).reshape(-1)
        useful = (take >= 0) & thin[take] & ((give < 0) | ~thin[give])
        take, give = take[useful], give[useful]
        label[take] = np.where(give >= 0, label[give], -1)  # the longest segment is written last and stays
        thin[take] = False
    return label


def draw(scene: Scene, plan: Map, label: Ints, hidden: bool) -> Lines:
    """Decide every segment of the map.

    A line is wherever different surfaces are seen on its two sides; a line inside one surface is a fold of it
    or a crease that runs out. With `hidden`, what is left over and really lies behind something is hidden.
    """
    sides = np.where(plan.cells >= 0, label[plan.cells], -1) if len(label) else plan.cells
    differs = sides[:, 0] != sides[:, 1]
    sources = _sources(scene, plan)
    kind, owner = np.full(len(differs), -1), np.full(len(differs), -1)
    _borders(scene, sources.only(differs[sources.segment]), sides, kind, owner)
    rest = sources.only(~differs[sources.segment])
    _folds(scene, plan, rest, sides, kind, owner)
    lost = differs & (kind < 0)
    kind[lost] = OUTLINE
    owner[lost] = _body_of(scene, most(sides[lost]))
    if hidden:
        _behind(scene, plan, rest, kind, owner)
    return Lines(kind, owner)


def _sources(scene: Scene, plan: Map) -> _Sources:
    """Edges of the scene that run along each segment."""
    middles = plan.middles()
    tree = shapely.STRtree(shapely.linestrings(scene.ends))
    segment, edge = tree.query(shapely.points(middles), predicate="dwithin", distance=BESIDE * scene.grid)
    start, along = scene.ends[edge, 0], scene.ends[edge, 1] - scene.ends[edge, 0]
    length = np.hypot(along[:, 0], along[:, 1])
    unit = along / np.where(length > 0, length, 1.0)[:, None]
    tips = plan.nodes[plan.segments[segment]] - start[:, None]
    across = np.abs(tips[:, :, 0] * unit[:, None, 1] - tips[:, :, 1] * unit[:, None, 0])
    fits = (most(across) <= BESIDE * scene.grid) & (length > scene.grid / 2)
    share = np.einsum("ij,ij->i", middles[segment] - start, unit) / np.where(length > 0, length, 1.0)
    share = np.clip(share, 0.0, 1.0)
    low, high = scene.heights[edge].T
    return _Sources(segment, edge, low + share * (high - low)).only(fits)


def _front_surfaces(scene: Scene, edge: Ints) -> Ints:
    """Surface numbers of the front triangles on both sides of edges (n,2), -2 for none."""
    fronts = scene.fronts[edge]
    surfaces: Ints = np.where(fronts >= 0, scene.surface[fronts], -2)
    return surfaces


def _borders(scene: Scene, sources: _Sources, sides: Ints, kind: Ints, owner: Ints) -> None:
    """Write kind and owner of the segments between two different surfaces."""
    belongs = (_front_surfaces(scene, sources.edge)[:, :, None] == sides[sources.segment][:, None, :]).any(axis=(1, 2))
    sources = sources.only(belongs)
    top = np.full(len(kind), -np.inf)
    np.maximum.at(top, sources.segment, sources.depth)
    fronts = scene.fronts[sources.edge]
    slack = most(np.where(fronts >= 0, scene.slack[fronts], 0.0))
    sources = sources.only(sources.depth >= top[sources.segment] - slack)
    count = int(scene.body.max()) + 1
    best = np.full(len(kind), (CROSSING + 1) * count)
    np.minimum.at(best, sources.segment, scene.kind[sources.edge] * count + scene.owner[sources.edge])
    known = best < (CROSSING + 1) * count
    kind[known], owner[known] = np.divmod(best[known], count)
    kind[kind == CROSSING] = CREASE
    kind[known & _flush(scene, sources, sides)] = SEAM


def _flush(scene: Scene, sources: _Sources, sides: Ints) -> Bools:
    """Segments where two bodies meet in one smooth surface, so that only a joint shows."""
    normal = np.zeros((len(sides), 2, 3))
    body = np.full((len(sides), 2), -1)
    for side in range(2):
        front = scene.fronts[sources.edge, side]
        for which in range(2):
            hit = (front >= 0) & (scene.surface[front] == sides[sources.segment, which])
            normal[sources.segment[hit], which] = scene.normals[front[hit]]
            body[sources.segment[hit], which] = scene.body[front[hit]]
    straight = np.einsum("ij,ij->i", normal[:, 0], normal[:, 1]) >= FLUSH
    flush: Bools = every(body >= 0) & (body[:, 0] != body[:, 1]) & straight
    return flush


def _folds(scene: Scene, plan: Map, sources: _Sources, sides: Ints, kind: Ints, owner: Ints) -> None:
    """Write the lines that have one surface on both sides: folds of it, and creases that run out."""
    own = _front_surfaces(scene, sources.edge)
    single = (own[:, 0] == own[:, 1]) | (some(own < 0))
    enclosed = some(plan.cells[sources.segment] >= 0)
    same = some(own == sides[sources.segment][:, :1])
    maybe = single & (some(own >= 0)) & (same | ~enclosed)
    sources, own = sources.only(maybe), own[maybe]
    segments, where = np.unique(sources.segment, return_inverse=True)
    triangle, top = nearest(scene, plan.middles()[segments])
    triangle, top = triangle[where], top[where]
    slack = np.where(triangle >= 0, scene.slack[triangle], 0.0)
    seen = (triangle >= 0) & (sources.depth >= top - slack) & some(own == scene.surface[triangle][:, None])
    chosen = sources.only(seen)
    kind[chosen.segment] = scene.kind[chosen.edge]
    owner[chosen.segment] = scene.owner[chosen.edge]


def _behind(scene: Scene, plan: Map, sources: _Sources, kind: Ints, owner: Ints) -> None:
    """Write the hidden lines: edges behind what is seen, but none beside a sliver, which has its line."""
    thin = np.append(plan.widths < SLIVER * scene.grid, False)
    edge = scene.kind[sources.edge] < CROSSING
    sources = sources.only(edge & (kind[sources.segment] < 0) & ~some(thin[plan.cells[sources.segment]]))
    segments, where = np.unique(sources.segment, return_inverse=True)
    triangle, top = nearest(scene, plan.middles()[segments])
    slack = np.where(triangle >= 0, scene.slack[triangle], 0.0)
    deep = sources.only(sources.depth < (top - slack)[where])
    order = np.lexsort((-scene.owner[deep.edge], deep.depth))  # the nearest is written last and stays
    kind[deep.segment[order]] = HIDDEN
    owner[deep.segment[order]] = scene.owner[deep.edge[order]]


def _body_of(scene: Scene, surface: Ints) -> Ints:
    """Body of each surface number."""
    order = np.argsort(scene.surface, kind="stable")
    bodies: Ints = scene.body[order[np.searchsorted(scene.surface[order], surface)]]
    return bodies
