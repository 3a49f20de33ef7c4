"""The wood that is drawn at a point is the one whose board holds it, by rays through the boards (Jordan curve theorem)."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

import planbook
from planbook.drawing.look import look
from planbook.drawing.sight import OFF, front_at
from planbook.drawing.surfaces import groups
from planbook.drawing.views import HOME
from planbook.reader import read_design
from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.solid import SKIN
from planbook.solids.turned import main_level, outer_rings, rim_cutter, rounded_profile
from planbook.workshop.run import build
from planbook.workshop.timeline import Piece

DESIGNS = Path(__file__).parents[2] / "designs"
STARTERS = Path(planbook.__file__).parent / "starters"
STILL = (0.0, 0.0, 0.0)
POINTS = 1200


def _spots(solid: Solid, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """Points anywhere on a surface, and the triangle of each."""
    vertices, triangles = solid.mesh
    at = rng.choice(len(triangles), POINTS, p=groups(solid).areas / groups(solid).areas.sum())
    shares = rng.dirichlet((1.0, 1.0, 1.0), POINTS)
    return np.einsum("ij,ijk->ik", shares, vertices[triangles[at]]), at


def _holds(solid: Solid, point: np.ndarray) -> bool:
    start = tuple(point.tolist())
    return len(solid.hits(start, tuple((point + np.array([810.0, 470.0, 340.0])).tolist()))) % 2 == 1


@pytest.mark.parametrize(
    ("name", "number", "piece"),
    [
        ("curlew-box", 10, "carcase"),
        ("curlew-box", 15, "core block"),
        ("curlew-box", 22, "box"),
        ("tide-shelf", 19, "carcase"),
        ("pebble-box", 23, "box"),
    ],
)
def test_points_are_drawn_in_the_wood_that_holds_them(name: str, number: int, piece: str) -> None:
    told, wrong = _compared(_made(name, number, piece))
    assert told > 150
    assert wrong <= told / 200  # within a tenth of a millimetre of a seam on a curved surface


def test_the_wood_of_a_ledge_does_not_show_on_the_rounded_face_before_it() -> None:
    """Where its rim is rounded, the front of the box is one smooth surface with the ledges that lie behind it."""
    box, front = _made("curlew-box", 22, "box"), FACE_FRAMES["front"]
    level = main_level(box.solid, front)
    rims = outer_rings(box.solid.section(front, level - SKIN))
    cutters = [rim_cutter(ring, front, level, rounded_profile(2.0)) for ring in rims]
    rounded = replace(box, solid=box.solid.minus(*(cutter for cutter in cutters if cutter)))
    told, wrong = _compared(rounded)
    assert told > 150
    assert wrong <= told / 200
    face = max(look(((rounded, STILL),), HOME).faces, key=lambda each: each.area)
    assert face.curved
    (wood,) = {m.wood for m in box.members if m.box[0][1] < box.solid.bounds[0][1] + 1.0}
    assert face.wood == wood
    inlays = [each for each in look(((rounded, STILL),), HOME).inlays if each.surface == face.surface]
    before = shapely.Polygon(_front_outline(box.solid)).buffer(-3.0)
    assert sum(shapely.Polygon(outer).intersection(before).area for i in inlays for outer, _ in i.polygons) < 1.0


def test_the_tone_of_a_wall_does_not_show_on_the_outside_before_it() -> None:
    """A frame whose holes are rounded on both sides: its inner walls are one smooth surface with its outside."""
    design = read_design(STARTERS / "tray").design
    assert design is not None
    events = [event for event in build(design).events if any(piece.name == "frame" for piece in event.made)]
    frame = next(p for p in events[-1].made if p.name == "frame")
    seen = look(((frame, STILL),), HOME)
    low, high = frame.solid.bounds
    corners = [(x, low[1], z) for x, z in ((low[0], low[2]), (high[0], low[2]), (high[0], high[2]), (low[0], high[2]))]
    front = shapely.Polygon(np.array(corners) @ np.array([HOME.right, HOME.up]).T).buffer(-4.0)
    told = {shade.level for shade in seen.shades for outer, _ in shade.polygons if _within(outer, front) > 1.0}
    assert len(told) == 1


def _within(outer: Sequence[tuple[float, float]], area: shapely.Geometry) -> float:
    """How much of an area a ring covers, mm2 of the view."""
    return float(shapely.Polygon(outer).intersection(area).area)


def _front_outline(solid: Solid) -> list[tuple[float, float]]:
    """The outer rim of the front of a solid in the view, mm."""
    front = FACE_FRAMES["front"]
    level = main_level(solid, front)
    (rim,) = outer_rings(solid.section(front, level - SKIN))
    world = np.array([front.world(u, v, level) for u, v in rim])
    return [tuple(p) for p in (world @ np.array([HOME.right, HOME.up]).T).tolist()]


def _made(name: str, number: int, piece: str) -> Piece:
    design = read_design(DESIGNS / name).design
    assert design is not None
    made = [p for event in build(design).events for p in event.made if p.name == piece and event.at.step >= number]
    return made[0]


def _compared(whole: Piece) -> tuple[int, int]:
    """At how many points in sight the wood that is drawn could be compared, and at how many it is another one."""
    seen = look(((whole, STILL),), HOME)
    surface, front = groups(whole.solid), front_at(((whole.solid, STILL),), HOME)
    points, at = _spots(whole.solid, np.random.default_rng(7))
    open_ = (surface.normals[at] @ np.asarray(HOME.toward) > 0.05) & ~front.hidden(points, OFF)
    points, at = points[open_], at[open_]
    flat = points @ np.array([HOME.right, HOME.up]).T
    drawn = np.full(len(points), "", dtype=object)
    for face in (*seen.faces, *seen.inlays):
        area = shapely.union_all([shapely.Polygon(outer, holes).buffer(0) for outer, holes in face.polygons])
        drawn[shapely.contains_xy(area, *flat.T) & (surface.tags[at] == face.surface)] = face.wood
    under, told, wrong = points - 0.03 * surface.normals[at], 0, 0
    for point, wood in zip(under, drawn, strict=True):
        woods = {member.wood for member in whole.members if _holds(member.region, point)}
        if wood and len(woods) == 1:
            told += 1
            wrong += wood not in woods
    return told, wrong
