"""Reads the plain pictures that the drawing writes; of a picture that holds anything else it says so and reads nothing.

Outlines become operators of PDF (ISO 32000-1, 8.5) in hundredths of a millimetre, which are whole numbers.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate
from xml.etree import ElementTree

_SVG = "{http://www.w3.org/2000/svg}"
_SIZE = re.compile(r"(\d+(?:\.\d+)?)mm")
_COLOUR = re.compile(r"#[0-9a-f]{6}")
_PART = re.compile(r"M([-\d. ]+)(?:l([-\d. ]+)|(h0))?(z?)")
_TOO_FINE = re.compile(r"\.\d{3}")
_TURNED = re.compile(r"rotate\((-?[\d.]+) (-?[\d.]+) (-?[\d.]+)\)")
_BREAKS = re.compile(r"[\t\n\r]")
_SPACES = re.compile(" +")
_WHOLE = {"baseProfile": "full", "version": "1.1"}
_GROUP = {"fill-rule": "evenodd", "stroke-linecap": "round", "stroke-linejoin": "round"}
_FILL = {"d", "fill", "fill-opacity"}
_LINE = {"d", "fill", "stroke", "stroke-width", "stroke-dasharray"}
_TEXT = {"x", "y", "fill", "font-size", "font-weight", "text-anchor", "transform"}


@dataclass(frozen=True, slots=True)
class Area:
    """Outlines that are filled, by the even-odd rule."""

    outline: bytes
    colour: str
    opacity: float


@dataclass(frozen=True, slots=True)
class Line:
    """Lines of one pen with round ends; its width and its dashes in mm."""

    outline: bytes
    colour: str
    width: float
    dashes: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Letters:
    """A line of text that begins, ends or has its middle at a point; sizes in mm, the angle in degrees clockwise."""

    text: str
    at: tuple[float, float]
    size: float
    colour: str
    weight: int
    anchor: str
    angle: float


@dataclass(frozen=True, slots=True)
class Plain:
    """A picture of this width and height in mm, whose marks cover each other in order."""

    width: float
    height: float
    font: str
    marks: tuple[Area | Line | Letters, ...]


class _NotPlainError(ValueError):
    pass


def plain(content: bytes) -> Plain | None:
    """The picture in a file of SVG, or None where it is not one that the drawing writes."""
    if b"<!" in content:
        return None
    try:
        return _picture(ElementTree.fromstring(content))
    except (ElementTree.ParseError, KeyError, ValueError):
        return None


def _picture(root: ElementTree.Element) -> Plain:
    wide, high = (_match(_SIZE, root.get(side, ""))[1] for side in ("width", "height"))
    _same(root.attrib, {**_WHOLE, "width": f"{wide}mm", "height": f"{high}mm", "viewBox": f"0 0 {wide} {high}"})
    *before, group = root
    if root.tag != f"{_SVG}svg" or any(each.tag not in (f"{_SVG}title", f"{_SVG}defs") or len(each) for each in before):
        raise _NotPlainError
    font = group.attrib["font-family"]
    _same(group.attrib, {**_GROUP, "font-family": font})
    if group.tag != f"{_SVG}g" or "," in font:
        raise _NotPlainError
    if not float(wide) or not float(high):
        raise _NotPlainError
    return Plain(float(wide), float(high), font, tuple(map(_mark, group)))


def _mark(element: ElementTree.Element) -> Area | Line | Letters:
    has = element.attrib
    if len(element):
        raise _NotPlainError
    if element.tag == f"{_SVG}text" and has.keys() <= _TEXT:
        return _letters(element.text or "", has)
    if element.tag != f"{_SVG}path" or not has.keys() <= (_LINE if "stroke" in has else _FILL):
        raise _NotPlainError
    outline = b"".join(_outline(has["d"]))
    if "stroke" not in has:
        return Area(outline, _colour(has["fill"]), float(has.get("fill-opacity", 1)))
    if has["fill"] != "none":
        raise _NotPlainError
    dashes = tuple(map(float, has.get("stroke-dasharray", "").split()))
    return Line(outline, _colour(has["stroke"]), float(has["stroke-width"]), dashes)


def _letters(text: str, has: dict[str, str]) -> Letters:
    turned = _match(_TURNED, has.get("transform", f"rotate(0 {has['x']} {has['y']})"))
    if not text or _BREAKS.search(text) or turned.group(2, 3) != (has["x"], has["y"]):
        raise _NotPlainError
    return Letters(
        _SPACES.sub(" ", text.strip(" ")),
        (float(has["x"]), float(has["y"])),
        float(has["font-size"]),
        _colour(has["fill"]),
        int(has.get("font-weight", 400)),
        {"start": "start", "middle": "middle", "end": "end"}[has.get("text-anchor", "start")],
        float(turned[1]),
    )


def _outline(path: str) -> Iterator[bytes]:
    """The operators of a path of moves in mm, each followed by steps relative to one another."""
    end = 0
    for part in _PART.finditer(path):
        if part.start() != end:
            break
        end = part.end()
        x, y = _hundredths(part[1])
        yield b"%d %d m\n" % (x, y)
        if part[2]:
            steps = _hundredths(part[2])
            points = zip(accumulate(steps[::2], initial=x), accumulate(steps[1::2], initial=y), strict=True)
            next(points)
            yield b"".join([b"%d %d l\n" % point for point in points])
        elif part[3]:
            yield b"%d %d l\n" % (x, y)
        if part[4]:
            yield b"h\n"
    if end != len(path) or _TOO_FINE.search(path):
        raise _NotPlainError


def _hundredths(numbers: str) -> list[int]:
    return [round(float(number) * 100) for number in numbers.replace("-", " -").split()]


def _colour(name: str) -> str:
    return _match(_COLOUR, name)[0]


def _match(pattern: re.Pattern[str], text: str) -> re.Match[str]:
    found = pattern.fullmatch(text)
    if found is None:
        raise _NotPlainError
    return found


def _same(attributes: dict[str, str], wanted: dict[str, str]) -> None:
    if attributes != wanted:
        raise _NotPlainError
