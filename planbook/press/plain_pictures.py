"""Draws plain pictures into the printer's pages, quicker than its own reader of SVG, which has all other pictures.

This is the only place that knows how the printer draws: the interface of its images, its streams and its lines of text.
"""

import base64
import binascii
from functools import cache
from math import cos, radians, sin
from typing import Any

from planbook.press.plain_svg import Area, Letters, Line, Plain, plain

_CARRIED = "data:image/svg+xml;base64,"
_PX = 96 / 25.4
"""Units of the printer in a millimetre (CSS Values and Units 4, 6.2)."""
_FINE = 100
"""Units of a picture in a millimetre."""


class Pictures(dict[str, Any]):
    """The printer's store of images by their addresses, which holds every plain picture as soon as it is asked for."""

    def __init__(self, fonts: Any) -> None:
        super().__init__()
        self.fonts = fonts

    def __contains__(self, address: object) -> bool:
        if super().__contains__(address):
            return True
        found = _carried(address) if isinstance(address, str) and address.startswith(_CARRIED) else None
        if found is not None:
            self[str(address)] = _Image(found, self.fonts)
        return found is not None

    def let_go(self) -> None:
        """Forget what the printer read itself and what knows the pages it was read for: it would keep all of those."""
        for address in [address for address, image in self.items() if getattr(image, "_context", None) is not None]:
            del self[address]


def _carried(address: str) -> Plain | None:
    try:
        return plain(base64.b64decode(address[len(_CARRIED) :], validate=True))
    except binascii.Error:
        return None


class _Image:
    """A plain picture as the printer asks for it."""

    def __init__(self, picture: Plain, fonts: Any) -> None:
        self.picture, self.fonts = picture, fonts

    def get_intrinsic_size(self, _resolution: float, _font_size: float) -> tuple[float, float, float]:
        width, height = self.picture.width * _PX, self.picture.height * _PX
        return width, height, width / height

    def draw(self, stream: Any, width: float, height: float, _style: Any) -> None:
        scale = min(width / self.picture.width, height / self.picture.height)
        left, top = (width - self.picture.width * scale) / 2, (height - self.picture.height * scale) / 2
        stream.push_state()
        stream.transform(a=scale / _FINE, d=scale / _FINE, e=left, f=top)
        stream.set_line_cap(1)
        stream.set_line_join(1)
        pens = _Pens(stream)
        for mark in self.picture.marks:
            if isinstance(mark, Letters):
                pens.fill(mark.colour)
                _write(stream, mark, self.picture.font, self.fonts)
            else:
                pens.draw(mark)
        stream.pop_state()


class _Pens:
    """Says colour, opacity, width and dashes only where they change."""

    def __init__(self, stream: Any) -> None:
        self.stream = stream
        self.said: dict[str, bytes] = {}
        stream.set_alpha(1.0, stroke=True)

    def draw(self, mark: Area | Line) -> None:
        if isinstance(mark, Area):
            self.fill(mark.colour, mark.opacity)
            end = b"f*"
        else:
            self._say("RG", _channels(mark.colour))
            self._say("w", b"%d" % round(mark.width * _FINE))
            self._say("d", b"[%b] 0" % b" ".join(b"%d" % round(dash * _FINE) for dash in mark.dashes))
            end = b"S"
        self.stream.stream.append(mark.outline + end)

    def fill(self, colour: str, opacity: float = 1.0) -> None:
        self.stream.set_alpha(opacity)
        self._say("rg", _channels(colour))

    def _say(self, operator: str, operands: bytes) -> None:
        if self.said.get(operator) != operands:
            self.said[operator] = operands
            self.stream.stream.append(operands + b" " + operator.encode())


@cache
def _channels(colour: str) -> bytes:
    return b" ".join(b"%.4f" % (int(colour[k : k + 2], 16) / 255) for k in (1, 3, 5))


class _Style(dict[str, Any]):
    """What the printer asks about a text, beside the properties of style sheets."""

    font_config: Any


class _Box:
    """A line of text as the printer draws it."""

    def __init__(self, layout: Any, style: _Style) -> None:
        self.pango_layout, self.style, self.text = layout, style, layout.text
        self.baseline = 0.0


def _write(stream: Any, letters: Letters, font: str, fonts: Any) -> None:
    from weasyprint.draw.text import draw_emojis, draw_first_line
    from weasyprint.matrix import Matrix
    from weasyprint.text.line_break import create_layout, line_size

    style = _style(letters, font, fonts)
    layout = create_layout(letters.text, style, None, None, 0)
    line, _ = layout.get_first_line()
    width, _ = line_size(line, style)
    back = {"start": 0.0, "middle": width / 2, "end": width}[letters.anchor]
    across, down = cos(radians(letters.angle)), sin(radians(letters.angle))
    x, y = letters.at[0] - back * across, letters.at[1] - back * down
    box = _Box(layout, style)
    stream.begin_text()
    # The type is as large as it says, in millimetres, so that the printer spaces it as everywhere else.
    matrix = Matrix(*(_FINE * value for value in (across, down, down, -across, x, y)))
    emojis = draw_first_line(stream, box, "none", "none", matrix)
    stream.end_text()
    if emojis:
        stream.push_state()
        stream.transform(*(_FINE * value for value in (across, down, -down, across, x, y)))
        draw_emojis(stream, style, 0, 0, emojis)
        stream.pop_state()


def _style(letters: Letters, font: str, fonts: Any) -> _Style:
    """Type without kerning and ligatures, since the drawing has measured it letter by letter."""
    from weasyprint.css.properties import INITIAL_VALUES

    style = _Style(INITIAL_VALUES)
    style.font_config = fonts
    style.update(
        font_family=[font],
        font_size=letters.size,
        font_weight=letters.weight,
        font_kerning="none",
        font_variant_ligatures="none",
    )
    return style
