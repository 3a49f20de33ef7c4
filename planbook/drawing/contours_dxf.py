"""Stencils as DXF files for other tools: millimetres, one closed entity for each outline, true arcs and splines."""

import io
import math

from ezdxf import units
from ezdxf._options import options
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from planbook.drawing.contours import Contour, Drawn
from planbook.drawing.curves import Arc, Curve, Straight

_COLOURS = {"saw lines": 1, "sand to these lines": 3, "ways in for the blade": 6, "holes": 5}
"""Colour numbers of the format, so that layers are told apart; black or white for the rest."""


def contours_dxf(stencil: Drawn) -> str:
    """The file's text; the same stencil always gives the same text."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # no date and no random numbers
    try:
        document = new("R2010", units=units.MM)
        document.header["$MEASUREMENT"] = 1
        space = document.modelspace()
        for layer in dict.fromkeys([*(c.layer for c in stencil.contours), *(h.layer for h in stencil.holes)]):
            document.layers.add(layer, color=_COLOURS.get(layer, 7))
        for contour in stencil.contours:
            _add(space, contour)
        for hole in stencil.holes:
            space.add_circle(hole.middle, hole.diameter / 2, dxfattribs={"layer": hole.layer})
        # The library adds them in the order of a set, which is another one in each process.
        document.classes.add_required_classes(document.dxfversion)
        document.classes.classes = dict(sorted(document.classes.classes.items()))
        text = io.StringIO()
        document.write(text)
        return text.getvalue()
    finally:
        options.write_fixed_meta_data_for_testing = before


def _add(space: Modelspace, contour: Contour) -> None:
    """Lines and arcs become one polyline; where there are curves, each part is an entity of its own."""
    look = {"layer": contour.layer}
    if not any(isinstance(part, Curve) for part in contour.parts):
        points = [(*part.start, _bulge(part)) for part in contour.parts]
        if not contour.closed and contour.parts:
            points.append((*contour.parts[-1].end, 0.0))
        space.add_lwpolyline(points, format="xyb", close=contour.closed, dxfattribs=look)
        return
    for part in contour.parts:
        if isinstance(part, Straight):
            space.add_line(part.start, part.end, dxfattribs=look)
        elif isinstance(part, Arc):
            start, end = (math.degrees(math.atan2(p[1] - part.middle[1], p[0] - part.middle[0])) for p in _ends(part))
            space.add_arc(part.middle, part.radius, start, end, dxfattribs=look)
        else:
            space.add_cad_spline_control_frame([(*p, 0.0) for p in part.points], dxfattribs=look)


def _ends(arc: Arc) -> tuple[tuple[float, float], tuple[float, float]]:
    """Start and end turning left, as the format wants arcs."""
    return (arc.start, arc.end) if arc.turn > 0 else (arc.end, arc.start)


def _bulge(part: object) -> float:
    return math.tan(part.turn / 4) if isinstance(part, Arc) else 0.0
