"""Colours of styles and pictures as greys, for printers that have only black ink; it chooses no tone."""

import re

_COLOUR = re.compile(r"(?<=[\s\"':(])#([0-9a-fA-F]{6})(?=[\s\"';,)}])")


def greyed(text: str) -> str:
    """Style or SVG text with each colour as the grey that is as light to the eye (luma of ITU-R BT.601)."""
    return _COLOUR.sub(lambda found: _grey(found[1]), text)


def _grey(colour: str) -> str:
    red, green, blue = (int(colour[at : at + 2], 16) for at in (0, 2, 4))
    return "#" + f"{round(0.299 * red + 0.587 * green + 0.114 * blue):02x}" * 3
