"""Solids as binary STL, for those who want to look at a piece; millimetres, which the format does not say."""

import struct

import numpy as np

from planbook.solids import Solid


def stl(solid: Solid) -> bytes:
    """The file: a header of 80 bytes, the number of triangles, and 50 bytes for each (normal, three corners, zero)."""
    vertices, triangles = solid.mesh
    corners = vertices[triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normals, axis=1)
    rows = np.zeros(len(triangles), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("zero", "<u2")])
    rows["normal"] = normals / np.where(size > 0, size, 1.0)[:, None]
    rows["corners"] = corners
    header = b"millimetres".ljust(80)
    return header + struct.pack("<I", len(triangles)) + bytes(rows.tobytes())
