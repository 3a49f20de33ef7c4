"""The element of an SVG file with a given id, and everything in it, as strokes in mm."""

import math

from planbook.model import Affine, ArcTo, Drawn, LineTo, Stroke
from planbook.reader.strokes_joined import in_mm
from planbook.reader.svg_path import MOST_SEGMENTS, Point, read_path
from planbook.reader.svg_tree import Element, Unreadable, read_svg
from planbook.reader.svg_values import length, numbers, page, transform

_SILENT = ("title", "desc", "metadata", "style", "script", "")
"""Elements without lines of their own; those of other namespaces have no name here."""


class UnknownId(Exception):  # noqa: N818 - a fact about a file
    """No element has the id that was asked for; `known` are those there are."""

    def __init__(self, known: tuple[str, ...]) -> None:
        super().__init__()
        self.known = known


def svg_outline(data: bytes, name: str) -> Drawn:
    """The outline drawn by the element with an id. Raises Unreadable and UnknownId."""
    root = read_svg(data)
    ways = [way for way in root.ways() if way[-1].attributes.get("id") == name]
    if not ways:
        raise UnknownId(_drawable(root))
    if len(ways) > 1:
        lines = " and ".join(str(way[-1].line) for way in ways[:2])
        raise Unreadable(f"has the id `{name[:40]}` more than once, in lines {lines}")
    *above, element = ways[0]
    if any(each.name == "svg" for each in (*above[1:], element)):
        raise Unreadable("has this id on an `svg` or inside a second one, which is not read", element.line)
    place = page(root)
    for each in above[1:]:
        place = place.after(transform(each))
    strokes = in_mm(_strokes(element, place), Affine())
    if not strokes:
        raise Unreadable("draws no line there", element.line)
    return Drawn(strokes, sized=True)


def names_in(data: bytes) -> tuple[str, ...]:
    """The ids of all elements that may draw an outline. Raises Unreadable."""
    return _drawable(read_svg(data))


def _drawable(root: Element) -> tuple[str, ...]:
    ways = (way[-1] for way in root.ways() if len(way) > 1)
    return tuple(e.attributes["id"] for e in ways if e.attributes.get("id") and e.name in (*_DRAWN, *_GROUPS))


def _strokes(element: Element, above: Affine) -> list[Stroke]:
    """The strokes of an element and of all it holds."""
    if element.name in _SILENT:
        return []
    place = above.after(transform(element))
    if element.name in _GROUPS:
        found = [stroke for child in element.children for stroke in _strokes(child, place)]
    elif element.name in _DRAWN:
        found = [stroke.placed(place) for stroke in _DRAWN[element.name](element)]
    else:
        raise Unreadable(f"has a `{element.name[:20]}` there, of which no outline can be taken", element.line)
    if sum(len(stroke.segments) for stroke in found) > MOST_SEGMENTS:
        raise Unreadable(f"draws more than {MOST_SEGMENTS} parts there", element.line)
    return found


def _path(element: Element) -> list[Stroke]:
    return read_path(element.attributes.get("d", ""), element.line)


def _ring(middle: Point, rx: float, ry: float) -> list[Stroke]:
    if rx <= 0 or ry <= 0:
        return []
    start = (middle[0] + rx, middle[1])
    return [Stroke(start, (ArcTo(middle, (rx, 0.0), (0.0, ry), 0.0, math.tau, start),), True)]


def _circle(element: Element) -> list[Stroke]:
    radius = length(element, "r")
    return _ring((length(element, "cx"), length(element, "cy")), radius, radius)


def _ellipse(element: Element) -> list[Stroke]:
    rx, ry = _radii(element)
    return _ring((length(element, "cx"), length(element, "cy")), rx, ry)


def _radii(element: Element) -> tuple[float, float]:
    """rx and ry; one that is left out is as the other."""
    given = {key: length(element, key) for key in ("rx", "ry") if element.attributes.get(key, "auto") != "auto"}
    usual = next(iter(given.values()), 0.0)
    return max(0.0, given.get("rx", usual)), max(0.0, given.get("ry", usual))


def _rect(element: Element) -> list[Stroke]:
    x, y, width, height = (length(element, key) for key in ("x", "y", "width", "height"))
    if width <= 0 or height <= 0:
        return []
    rx, ry = _radii(element)
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if rx == 0 or ry == 0:
        return [_polyline([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], True)]
    right, bottom = x + width, y + height
    corners = ((right - rx, y + ry, -1), (right - rx, bottom - ry, 0), (x + rx, bottom - ry, 1), (x + rx, y + ry, 2))
    start = (x + rx, y)
    segments: list[LineTo | ArcTo] = []
    for mx, my, quarter in corners:
        begin = quarter * math.pi / 2
        arc = ArcTo((mx, my), (rx, 0.0), (0.0, ry), begin, math.pi / 2, (0.0, 0.0))
        begins, ends = arc.at(begin), arc.at(begin + math.pi / 2)
        segments += [LineTo(begins), ArcTo(arc.middle, arc.right, arc.up, begin, math.pi / 2, ends)]
    return [Stroke(start, (*segments, LineTo(start)), True)]


def _line(element: Element) -> list[Stroke]:
    x1, y1, x2, y2 = (length(element, key) for key in ("x1", "y1", "x2", "y2"))
    return [_polyline([(x1, y1), (x2, y2)], False)] if (x1, y1) != (x2, y2) else []


def _polyline_points(element: Element) -> list[Stroke]:
    return _points(element, False)


def _polygon_points(element: Element) -> list[Stroke]:
    return _points(element, True)


def _points(element: Element, closed: bool) -> list[Stroke]:
    values = numbers(element.attributes.get("points", ""), "points", element.line)
    if len(values) % 2:
        raise Unreadable("has points with one number too many", element.line)
    points = list(zip(values[::2], values[1::2], strict=True))
    return [_polyline(points, closed)] if len(points) > 1 else []


def _polyline(points: list[Point], closed: bool) -> Stroke:
    ends = points[1:] if not closed or points[-1] == points[0] else [*points[1:], points[0]]
    return Stroke(points[0], tuple(LineTo(p) for p in ends), closed)


_GROUPS = ("g", "a")
_DRAWN = {
    "path": _path,
    "circle": _circle,
    "ellipse": _ellipse,
    "rect": _rect,
    "line": _line,
    "polyline": _polyline_points,
    "polygon": _polygon_points,
}
