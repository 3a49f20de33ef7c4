"""Stencils as SVG files for other tools: one user unit is one millimetre, arcs stay arcs."""

import math
from collections.abc import Callable

import svgwrite
from svgwrite.container import Group

from planbook.drawing.contours import Contour, Drawn
from planbook.drawing.curves import Arc, Curve, Straight
from planbook.solids import Point2

Place = Callable[[Point2], Point2]

_PEN = "0.1"
EDGE = 5.0
"""Empty space around the stencil, mm."""


def contours_svg(stencil: Drawn) -> str:
    """The file's text. Each layer is a group whose id is its name with dashes."""
    left, bottom, right, top = stencil.box
    width, height = right - left + 2 * EDGE, top - bottom + 2 * EDGE
    drawing = svgwrite.Drawing(
        size=(f"{width:.4f}mm", f"{height:.4f}mm"), viewBox=f"0 0 {width:.4f} {height:.4f}", debug=False
    )
    drawing.set_desc(title=stencil.title)
    groups: dict[str, Group] = {}

    def place(point: Point2) -> Point2:
        return (point[0] - left + EDGE, top - point[1] + EDGE)

    def group(layer: str) -> Group:
        if layer not in groups:
            groups[layer] = drawing.g(id=layer.replace(" ", "-"), fill="none", stroke="#000000", stroke_width=_PEN)
            drawing.add(groups[layer])
        return groups[layer]

    for contour in stencil.contours:
        group(contour.layer).add(drawing.path(d=_path(contour, place)))
    for hole in stencil.holes:
        u, v = place(hole.middle)
        group(hole.layer).add(drawing.circle(center=(_n(u), _n(v)), r=_n(hole.diameter / 2)))
    return str(drawing.tostring())


def _path(contour: Contour, place: Place) -> str:
    words = [f"M{_pair(place(contour.parts[0].start))}"] if contour.parts else []
    for part in contour.parts:
        if isinstance(part, Straight):
            words.append(f"L{_pair(place(part.end))}")
        elif isinstance(part, Arc):
            large = int(abs(part.turn) > math.pi)
            # y points down in the file, so that turning left is the negative direction of angles.
            words.append(
                f"A{_n(part.radius)} {_n(part.radius)} 0 {large} {int(part.turn < 0)} {_pair(place(part.end))}"
            )
        else:
            words += [f"C{_pair(a)} {_pair(b)} {_pair(c)}" for a, b, c in _cubics(part, place)]
    return "".join(words) + ("Z" if contour.closed else "")


def _cubics(curve: Curve, place: Place) -> list[tuple[Point2, Point2, Point2]]:
    """Cubic pieces through the points, each leaving a point in the direction between its neighbours."""
    points = [place(p) for p in curve.points]
    ways = []
    for i in range(len(points)):
        before, after = points[max(i - 1, 0)], points[min(i + 1, len(points) - 1)]
        ways.append((after[0] - before[0], after[1] - before[1]))
    found = []
    for (a, wa), (b, wb) in zip(zip(points, ways, strict=True), list(zip(points, ways, strict=True))[1:], strict=False):
        third = math.dist(a, b) / 3
        la, lb = math.hypot(*wa) or 1.0, math.hypot(*wb) or 1.0
        found.append(
            (
                (a[0] + wa[0] / la * third, a[1] + wa[1] / la * third),
                (b[0] - wb[0] / lb * third, b[1] - wb[1] / lb * third),
                b,
            )
        )
    return found


def _pair(point: Point2) -> str:
    return f"{_n(point[0])} {_n(point[1])}"


def _n(value: float) -> str:
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text
