"""Pictures as SVG text, true size in millimetres and as small as 0.01 mm allows; not what is drawn."""

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby

import svgwrite

from planbook.drawing.marks import Fill, Mark, Picture, Ring, Stroke, Words

FONT = "Source Sans Pro"


def svg(picture: Picture, font: str = FONT) -> str:
    """The picture as an SVG document: one user unit is one millimetre."""
    drawing = svgwrite.Drawing(
        size=(f"{_n(picture.width)}mm", f"{_n(picture.height)}mm"),
        viewBox=f"0 0 {_n(picture.width)} {_n(picture.height)}",
        debug=False,
    )
    if picture.alt:
        drawing.set_desc(title=_safe(picture.alt))
    group = drawing.g(font_family=font, stroke_linejoin="round", stroke_linecap="round", fill_rule="evenodd")
    for element in _elements(drawing, picture.marks):
        group.add(element)
    drawing.add(group)
    return str(drawing.tostring())


def _elements(drawing: svgwrite.Drawing, marks: Iterable[Mark]) -> Iterable[svgwrite.base.BaseElement]:
    for style, run in groupby(marks, key=_style):
        if isinstance(style, tuple) and style and style[0] == "stroke":
            _, pen, _ = style
            path = drawing.path(d="".join(_stroke(m) for m in run), fill="none", stroke=pen.colour)
            path["stroke-width"] = _n(pen.width)
            if pen.dashes:
                path["stroke-dasharray"] = " ".join(_n(d) for d in pen.dashes)
            yield path
        else:
            yield from (_one(drawing, mark) for mark in run)


def _style(mark: Mark) -> object:
    """Neighbouring lines of one pen share a path, which keeps files small."""
    return ("stroke", mark.pen, mark.layer) if isinstance(mark, Stroke) else id(mark)


def _one(drawing: svgwrite.Drawing, mark: Mark) -> svgwrite.base.BaseElement:
    if isinstance(mark, Fill):
        path = drawing.path(d="".join(_ring(ring, closed=True) for ring in mark.rings), fill=mark.colour)
        if mark.opacity < 1:
            path["fill-opacity"] = _n(mark.opacity)
        return path
    assert isinstance(mark, Words)
    text = drawing.text(_safe(mark.text), x=[_n(mark.at[0])], y=[_n(mark.at[1])], fill=mark.colour)
    text["font-size"] = _n(mark.size)
    if mark.anchor != "start":
        text["text-anchor"] = mark.anchor
    if mark.bold:
        text["font-weight"] = "600"
    if mark.angle:
        text["transform"] = f"rotate({_n(mark.angle)} {_n(mark.at[0])} {_n(mark.at[1])})"
    return text


def _stroke(mark: Mark) -> str:
    assert isinstance(mark, Stroke)
    return _ring(mark.points, mark.closed)


def _ring(points: Ring, closed: bool) -> str:
    """Relative moves in hundredths, so that rounding never adds up along the line."""
    if not points:
        return ""
    x, y = round(points[0][0] * 100), round(points[0][1] * 100)
    out = ["M", _pair(x, y)]
    steps = []
    for point in points[1:]:
        nx, ny = round(point[0] * 100), round(point[1] * 100)
        if (nx, ny) != (x, y):
            steps.append(_pair(nx - x, ny - y))
        x, y = nx, ny
    if steps:
        out.append("l" + "".join(s if s[0] == "-" or not k else " " + s for k, s in enumerate(steps)))
    elif not closed:
        out.append("h0")
    return "".join(out) + ("z" if closed else "")


def _pair(x: int, y: int) -> str:
    """Two numbers as short as a path allows: no leading zero, no space before a minus."""
    one, two = _h(x), _h(y)
    return one + two if two[0] == "-" else f"{one} {two}"


@lru_cache(maxsize=4096)
def _h(hundredths: int) -> str:
    text = _n(hundredths / 100)
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def _n(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def _safe(text: str) -> str:
    """Characters that XML cannot hold are dropped; the writer escapes the rest."""
    return "".join(c for c in text if c in "\t\n" or (c >= " " and not _unwritable(c)))


def _unwritable(char: str) -> bool:
    return 0xD800 <= ord(char) <= 0xDFFF or char in "\ufffe\uffff"
