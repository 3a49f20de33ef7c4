"""The lines on a layer of a DXF file, or a single one by its handle, as strokes in mm; ezdxf reads the file."""

import io
import logging
import math
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from planbook.model import Affine, ArcTo, CubicTo, Drawn, LineTo, Segment, Stroke
from planbook.reader.strokes_joined import in_mm
from planbook.reader.svg_path import MOST_SEGMENTS, Point
from planbook.reader.svg_shapes import UnknownId
from planbook.reader.svg_tree import Unreadable
from planbook.reader.svg_values import FARTHEST

if TYPE_CHECKING:
    from ezdxf.document import Drawing

_MM: Mapping[int, float] = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0}
"""$INSUNITS of a DXF header: inches, feet, millimetres, centimetres, metres; 0 says nothing."""
_SILENT = ("TEXT", "MTEXT", "POINT", "DIMENSION", "LEADER", "MULTILEADER", "ATTDEF", "VIEWPORT")
_FLIPPED = Affine(a=-1.0)


def dxf_outline(data: bytes, name: str) -> Drawn:
    """The outline on the layer `name`, or the line with that handle. Raises Unreadable and UnknownId."""
    document = _document(data)
    entities = list(document.modelspace())
    found = [e for e in entities if e.dxf.layer.casefold() == name.casefold()]
    found = found or [e for e in entities if str(e.dxf.handle).casefold() == name.casefold()]
    if not found:
        layers = dict.fromkeys(e.dxf.layer for e in entities if e.dxftype() in _DRAWN)
        raise UnknownId(tuple(layers))
    scale = _MM.get(document.header.get("$INSUNITS", 0))
    factor = scale or 1.0
    strokes = [stroke for entity in found for stroke in _strokes(entity)]
    if sum(len(stroke.segments) for stroke in strokes) > MOST_SEGMENTS:
        raise Unreadable(f"draws more than {MOST_SEGMENTS} parts there")
    if not strokes:
        raise Unreadable("draws no line there")
    return Drawn(in_mm(strokes, Affine(a=factor, d=factor)), sized=scale is not None)


def _document(data: bytes) -> "Drawing":
    import ezdxf.recover

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    if not data.strip():
        raise Unreadable("is empty")
    try:
        document, _ = ezdxf.recover.read(io.BytesIO(data))
    except Exception as error:
        # Whatever the library stumbles over in a strange file, the file is at fault.
        words = " ".join(str(error).split())[:120] or type(error).__name__
        raise Unreadable(f"is not whole DXF: {words}") from None
    return document


def _strokes(entity: Any) -> list[Stroke]:
    """The strokes of an entity in the units of the file."""
    kind = entity.dxftype()
    if kind in _SILENT:
        return []
    if kind not in _DRAWN:
        raise Unreadable(f"has a {kind} there, of which no outline can be taken")
    try:
        strokes: list[Stroke] = _DRAWN[kind](entity)
    except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError):
        raise Unreadable(f"has a {kind} there that cannot be read") from None
    up = entity.dxf.get("extrusion", (0, 0, 1))
    if kind in ("LINE", "SPLINE", "ELLIPSE"):
        placed = strokes
    elif abs(up[0]) > 1e-9 or abs(up[1]) > 1e-9:
        raise Unreadable(f"has a {kind} there that does not lie flat")
    else:
        placed = [s.placed(_FLIPPED) for s in strokes] if up[2] < 0 else strokes
    for stroke in placed:
        _check_numbers(stroke)
    return placed


def _check_numbers(stroke: Stroke) -> None:
    for x, y in (stroke.start, *(segment.end for segment in stroke.segments)):
        if not (abs(x) <= FARTHEST and abs(y) <= FARTHEST):
            raise Unreadable("has a number in it that is too large to mean anything")


def _line(entity: Any) -> list[Stroke]:
    start, end = _flat(entity.dxf.start), _flat(entity.dxf.end)
    return [Stroke(start, (LineTo(end),), False)] if start != end else []


def _circle(entity: Any) -> list[Stroke]:
    return _round(_flat(entity.dxf.center), entity.dxf.radius, 0.0, math.tau)


def _arc(entity: Any) -> list[Stroke]:
    begin = math.radians(entity.dxf.start_angle)
    sweep = (math.radians(entity.dxf.end_angle) - begin) % math.tau
    return _round(_flat(entity.dxf.center), entity.dxf.radius, begin, sweep or math.tau)


def _round(middle: Point, radius: float, begin: float, sweep: float) -> list[Stroke]:
    return _elliptic(middle, (radius, 0.0), (0.0, radius), begin, sweep) if radius > 0 else []


def _ellipse(entity: Any) -> list[Stroke]:
    right, up = _flat(entity.dxf.major_axis), _flat(entity.minor_axis)
    begin = float(entity.dxf.start_param)
    sweep = (float(entity.dxf.end_param) - begin) % math.tau
    return _elliptic(_flat(entity.dxf.center), right, up, begin, sweep if sweep > 1e-9 else math.tau)


def _elliptic(middle: Point, right: Point, up: Point, begin: float, sweep: float) -> list[Stroke]:
    whole = math.tau - sweep < 1e-9
    arc = ArcTo(middle, right, up, begin, sweep, (0.0, 0.0))
    start = arc.at(begin)
    end = start if whole else arc.at(begin + sweep)
    return [Stroke(start, (ArcTo(middle, right, up, begin, sweep, end),), whole)]


def _light_polyline(entity: Any) -> list[Stroke]:
    points = [((float(x), float(y)), float(bulge)) for x, y, bulge in entity.get_points("xyb")]
    return _bulged(points, bool(entity.closed))


def _polyline(entity: Any) -> list[Stroke]:
    if not entity.is_2d_polyline:
        raise Unreadable("has a POLYLINE there that does not lie flat")
    points = [(_flat(v.dxf.location), float(v.dxf.get("bulge", 0.0))) for v in entity.vertices]
    return _bulged(points, bool(entity.is_closed))


def _bulged(points: list[tuple[Point, float]], closed: bool) -> list[Stroke]:
    """A line through points; a bulge is the tangent of a quarter of the angle that the part to the next one turns."""
    after = [p for p, _ in points[1:]] + ([points[0][0]] if closed and points else [])
    segments = [_bulge(start, end, bulge) for (start, bulge), end in zip(points, after, strict=False) if start != end]
    return [Stroke(points[0][0], tuple(segments), closed)] if segments else []


def _bulge(start: Point, end: Point, bulge: float) -> Segment:
    if abs(bulge) < 1e-9:
        return LineTo(end)
    away = (1 - bulge * bulge) / (4 * bulge)
    middle = (
        (start[0] + end[0]) / 2 - (end[1] - start[1]) * away,
        (start[1] + end[1]) / 2 + (end[0] - start[0]) * away,
    )
    radius = math.dist(middle, start)
    begin = math.atan2(start[1] - middle[1], start[0] - middle[0])
    return ArcTo(middle, (radius, 0.0), (0.0, radius), begin, 4 * math.atan(bulge), end)


def _spline(entity: Any) -> list[Stroke]:
    from ezdxf.path import Command, make_path

    path = make_path(entity)
    parts: list[Any] = list(path.commands())
    segments: list[Segment] = []
    here = _flat(path.start)
    start = here
    for part in parts:
        end = _flat(part.end)
        if part.type == Command.CURVE4_TO:
            segments.append(CubicTo(_flat(part.ctrl1), _flat(part.ctrl2), end))
        elif part.type == Command.CURVE3_TO:
            control = _flat(part.ctrl)
            segments.append(CubicTo(_two_thirds(here, control), _two_thirds(end, control), end))
        else:
            segments.append(LineTo(end))
        here = end
    return [Stroke(start, tuple(segments), here == start)] if segments else []


def _two_thirds(start: Point, end: Point) -> Point:
    return (start[0] + 2 / 3 * (end[0] - start[0]), start[1] + 2 / 3 * (end[1] - start[1]))


def _flat(point: Any) -> Point:
    return (float(point[0]), float(point[1]))


_DRAWN = {
    "LINE": _line,
    "CIRCLE": _circle,
    "ARC": _arc,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _light_polyline,
    "POLYLINE": _polyline,
    "SPLINE": _spline,
}
