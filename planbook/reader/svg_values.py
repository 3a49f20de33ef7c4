"""Values of SVG attributes: lengths, numbers, transforms and the page; not the lines drawn with them.

After the W3C Recommendation "Scalable Vector Graphics (SVG) 1.1", chapters 4 and 7; 96 px to the inch after
"CSS Values and Units Module Level 3", section 5.2.
"""

import math
import re
from collections.abc import Mapping

from planbook.model import Affine
from planbook.reader.svg_tree import Element, Unreadable

PX_PER_INCH = 96.0
MM_PER_PX = 25.4 / PX_PER_INCH
_PX: Mapping[str, float] = {
    "": 1.0,
    "px": 1.0,
    "in": PX_PER_INCH,
    "mm": PX_PER_INCH / 25.4,
    "cm": PX_PER_INCH / 2.54,
    "q": PX_PER_INCH / 101.6,
    "pt": PX_PER_INCH / 72,
    "pc": PX_PER_INCH / 6,
}
NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z%]*)\s*")
_NUMBERS = re.compile(rf"\s*(?:{NUMBER}(?:\s*,\s*|\s+|(?=[+-.])|\s*$))*")
_EACH = re.compile(NUMBER)
_ONE_TURN = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)")
FARTHEST = 1e7
"""Numbers beyond this mean nothing in a drawing."""


def bounded(number: float, line: int) -> float:
    """The number. Raises Unreadable if it is too large to mean anything."""
    if not abs(number) <= FARTHEST:
        raise Unreadable("has a number in it that is too large to mean anything", line)
    return number


def length(element: Element, key: str, usual: float = 0.0) -> float:
    """A length in user units. Raises Unreadable where it is not one, or depends on the page or on a font."""
    text = element.attributes.get(key)
    if text is None:
        return usual
    found = _LENGTH.fullmatch(text)
    factor = _PX.get(found[2].lower()) if found else None
    if found is None or factor is None:
        raise Unreadable(f'says `{key}="{text[:40]}"`, which cannot be read as a length', element.line)
    return bounded(float(found[1]) * factor, element.line)


def numbers(text: str, what: str, line: int) -> list[float]:
    """Numbers parted by blanks or commas. Raises Unreadable."""
    if not _NUMBERS.fullmatch(text):
        raise Unreadable(f"has {what} that cannot be read: `{text[:40]}`", line)
    return [bounded(float(each), line) for each in _EACH.findall(text)]


def transform(element: Element) -> Affine:
    """The element's own transform. Raises Unreadable."""
    if "transform" in element.attributes.get("style", ""):
        raise Unreadable("is moved by a style; a `transform` of its own can be read, a style cannot", element.line)
    text, at, made = element.attributes.get("transform", "").strip(), 0, Affine()
    while at < len(text):
        one = _ONE_TURN.match(text, at)
        if not one:
            raise Unreadable(f"has a transform that cannot be read: `{text[at : at + 40]}`", element.line)
        made = made.after(_turn(one[1], numbers(one[2], "a transform", element.line), element.line))
        at = one.end()
    return made


def _turn(name: str, values: list[float], line: int) -> Affine:
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return Affine(a, b, c, d, e, f)
        case "translate", [x, *rest] if len(rest) < 2:
            return Affine(e=x, f=rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) < 2:
            return Affine(a=x, d=rest[0] if rest else x)
        case "rotate", [angle]:
            return _rotation(angle)
        case "rotate", [angle, x, y]:
            return Affine(e=x, f=y).after(_rotation(angle)).after(Affine(e=-x, f=-y))
        case "skewX", [angle]:
            return Affine(c=math.tan(math.radians(angle)))
        case "skewY", [angle]:
            return Affine(b=math.tan(math.radians(angle)))
        case _:
            given = ", ".join(f"{value:g}" for value in values[:6])
            raise Unreadable(f"has a transform that cannot be read: `{name[:20]}({given})`", line)


def _rotation(degrees: float) -> Affine:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Affine(c, s, -s, c)


def page(root: Element) -> Affine:
    """The map from the user units of the root to mm, y up, the lower left corner of the page at zero.

    A file that says no height has its upper left corner at zero. Raises Unreadable.
    """
    if "transform" in root.attributes:
        raise Unreadable("is turned as a whole by a `transform` of its root", root.line)
    width, height = _side(root, "width"), _side(root, "height")
    inner = Affine()
    if "viewBox" in root.attributes:
        box = numbers(root.attributes["viewBox"], "a viewBox", root.line)
        if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
            raise Unreadable(f"has a viewBox that shows nothing: `{root.attributes['viewBox'][:40]}`", root.line)
        wide = width or (height * box[2] / box[3] if height else box[2])
        high = height or wide * box[3] / box[2]
        inner, height = _in_view(root, box, wide, high), high
    return Affine(a=MM_PER_PX, d=-MM_PER_PX, f=(height or 0.0) * MM_PER_PX).after(inner)


def _side(root: Element, key: str) -> float | None:
    """Width or height of the page in px; None where it is left to the reader of the page."""
    text = root.attributes.get(key, "auto").strip()
    if text == "auto" or text.endswith("%"):
        return None
    side = length(root, key)
    if side <= 0:
        raise Unreadable(f"has a page of no {key}", root.line)
    return side


def _in_view(root: Element, box: list[float], width: float, height: float) -> Affine:
    """How the viewBox is laid into the page (SVG 1.1, section 7.8)."""
    words = root.attributes.get("preserveAspectRatio", "xMidYMid").split()
    across, up = width / box[2], height / box[3]
    align = words[0] if words else "xMidYMid"
    if align != "none":
        across = up = max(across, up) if words[1:] == ["slice"] else min(across, up)
    shares = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    at_x, at_y = (shares.get(align[i : i + 3], 0.0) for i in (1, 5))
    x = -box[0] * across + (width - box[2] * across) * at_x
    y = -box[1] * up + (height - box[3] * up) * at_y
    return Affine(a=across, d=up, e=x, f=y)
