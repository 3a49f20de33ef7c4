"""Ways across joints that are square to no axis, such as mitres; knows no operation and no picture."""

from collections.abc import Iterator, Sequence

import numpy as np

from planbook.solids import FACE_FRAMES, Frame, Solid, Vec3
from planbook.solids.faces import Body, smooth_surfaces
from planbook.solids.frames import dot
from planbook.solids.triangles import planes
from planbook.workshop.mating import LEAST, LEVEL

UP: Vec3 = (0.0, 0.0, 1.0)


def slants(solids: Sequence[Solid]) -> tuple[Frame, ...]:
    """A frame for each way that slanted flat faces of one solid look while those of another look against it.

    Facets of a curved surface are no flat faces.
    """
    ways = [list(_ways(solid)) for solid in solids]
    found: list[Frame] = []
    for one, own in enumerate(ways):
        for way in own:
            against = any(dot(way, other) < -LEVEL for two, others in enumerate(ways) if two != one for other in others)
            if against and not any(abs(dot(way, frame.n)) > LEVEL for frame in found):
                found.append(_across(way))
    return tuple(found)


def _across(way: Vec3) -> Frame:
    """A frame that looks that way, its u level."""
    u = np.cross(UP, way)
    u /= np.linalg.norm(u)
    v = np.cross(way, u)
    return Frame((float(u[0]), float(u[1]), float(u[2])), (float(v[0]), float(v[1]), float(v[2])), way)


def _ways(solid: Solid) -> Iterator[Vec3]:
    """Where the flat faces of a solid look that lie across no axis, as unit vectors, each once."""
    vertices, triangles = solid.mesh
    normals, _, areas = planes(vertices[triangles])
    surfaces = smooth_surfaces(Body("", vertices, triangles))
    for surface in range(int(surfaces.max(initial=-1)) + 1):
        own = np.flatnonzero((surfaces == surface) & (areas > 0))
        if not len(own) or areas[own].sum() < LEAST:
            continue
        ways = normals[own]
        way = ways[int(np.argmax(areas[own]))]
        across = max(abs(float(way @ np.array(frame.n))) for frame in FACE_FRAMES.values())
        if across < LEVEL and float((ways @ way).min()) > LEVEL:
            yield (float(way[0]), float(way[1]), float(way[2]))
