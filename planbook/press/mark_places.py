"""Finds where each page has room for the mark of a copy: along an edge, with nothing between it and the edge."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
import numpy.typing as npt
import pypdfium2

WIDE, HIGH = 425.0, 9.5
"""Size of the mark, points: 150 mm, and a line of small type."""
SAFE, LEAST = 18.5, 6.0
"""Distance of the mark from the edge of the paper, points: what most printers print, or else what is on the sheet."""
CLEAR = 1.0
"""Free room around it, points."""
_DOTS, _MOST_DOTS = 1.5, 6000
"""Pixels to a point, and along the longer side of a page."""
_LEAST_SCALE = 0.6
_STEP = 12.0
_WHITE, _PALE = 250, 200
"""How light a pixel is that counts as free, of 255: bare paper, or a tint on which dark type can be read."""
Pixels = npt.NDArray[np.uint8]
Inked = npt.NDArray[np.bool_]
Edge = Literal["foot", "right", "left", "head"]


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the mark's lower left corner lies, points from the lower left of the page as it is seen.

    An upright one is read from the right; `scale` is below 1 on narrow paper.
    """

    x: float
    y: float
    upright: bool
    scale: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top of the mark on the page, points."""
        wide, high = WIDE * self.scale, HIGH * self.scale
        if self.upright:
            return self.x - high, self.y, self.x, self.y + wide
        return self.x, self.y, self.x + wide, self.y + high


def free_spots(pdf: bytes) -> Iterator[Spot | None]:
    """For each page the best place for the mark, or None where none is free."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        for page in document:
            width, height = page.get_size()
            picture = page.render(scale=min(_DOTS, _MOST_DOTS / max(width, height))).to_numpy()
            yield _spot(picture[:, :, :3].min(axis=2), (width, height))
            page.close()
    finally:
        document.close()


def _spot(lightness: Pixels, size: tuple[float, float]) -> Spot | None:
    for least in (_WHITE, _PALE):
        inked = lightness < least
        for away in (SAFE, LEAST):
            for edge in get_args(Edge):
                found = _along(_from_edge(inked, edge), edge, away, size)
                if found is not None:
                    return found
    return None


def _from_edge(inked: Inked, edge: Edge) -> Inked:
    """Rows going away from an edge; columns along it, from the left or from below."""
    if edge in ("foot", "head"):
        return inked[::-1] if edge == "foot" else inked
    return inked.T[::-1, ::-1] if edge == "right" else inked.T[:, ::-1]


def _along(band: Inked, edge: Edge, away: float, size: tuple[float, float]) -> Spot | None:
    """A place along an edge, the middle first."""
    long = size[0] if edge in ("foot", "head") else size[1]
    scale = min(1.0, (long - 2 * SAFE) / WIDE)
    if scale < _LEAST_SCALE:
        return None
    dots, high, wide = band.shape[1] / long, HIGH * scale, WIDE * scale
    free = np.logical_not(np.any(band[: int((away + high + CLEAR) * dots) + 1], axis=0)).ravel()
    for start in _starts(long, wide):
        stretch = free[int((start - CLEAR) * dots) : int((start + wide + CLEAR) * dots) + 1]
        if stretch.all():
            x = {"right": size[0] - away, "left": away + high}.get(edge, start)
            y = {"foot": away, "head": size[1] - away - high}.get(edge, start)
            return Spot(x, y, edge in ("left", "right"), scale)
    return None


def _starts(long: float, wide: float) -> Iterator[float]:
    """Places of the mark's beginning along an edge: the middle, then away from it by turns."""
    middle = (long - wide) / 2
    yield middle
    step = _STEP
    while step <= middle - LEAST:
        yield middle - step
        yield middle + step
        step += _STEP
