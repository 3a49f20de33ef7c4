"""How long a piece of a roll the stencils take, so that all of them lie on one page; it draws none of them."""

import math
from collections.abc import Sequence

from planbook.drawing.correction import UNCORRECTED, Correction
from planbook.drawing.sheet_pack import pack
from planbook.drawing.sheet_paper import SheetPaper
from planbook.drawing.stencil_art import StencilArt
from planbook.drawing.stencil_pages import GAP, stencil_blocks
from planbook.drawing.stencil_words import StencilWords
from planbook.units import LengthStyle

SHORTEST = 250.0
STEP = 10.0
"""Nothing shorter is cut from a roll, and lengths are tried in these steps, mm."""


def roll_length(
    arts: Sequence[StencilArt],
    width_mm: float,
    longest_mm: float,
    margin_mm: float,
    words: StencilWords,
    style: LengthStyle,
    correction: Correction = UNCORRECTED,
) -> float:
    """The least length (mm, in steps) on which every stencil that fits the roll lies on one page; else the longest."""
    sheet = SheetPaper(*correction.sheet((width_mm, longest_mm)), margin_mm, words, style).checked()
    found = [blocks for art in arts if (blocks := stencil_blocks(art, sheet))]
    if len(found) < len(arts):
        return longest_mm
    shapes = [[(block.width, block.height) for block in blocks] for blocks in found]
    above = sheet.height - sheet.body[1]
    tallest = max((min(height for _, height in shape) for shape in shapes), default=0.0)
    steps = range(math.ceil(max(SHORTEST, tallest + above) / STEP), math.ceil(longest_mm / STEP))
    fits = (STEP * n for n in steps if len(pack(shapes, (sheet.body[0], STEP * n - above), GAP)) <= 1)
    return min(next(fits, sheet.height) / correction.factors[1], longest_mm)
