"""The marks of pictures and stencils, drawn with their own pens and explained; it draws no picture of a design."""

from collections.abc import Callable, Sequence

from planbook.booklet.gathered import Explained
from planbook.drawing.ink import CUT as RED
from planbook.drawing.ink import LINE, NEW, USUAL, WORK, Ink
from planbook.drawing.marks import Fill, Mark, Pen, Picture, Stroke
from planbook.drawing.stencil_pens import CUT, EDGE, GUIDE, HATCH, SAND, TICK
from planbook.speech import say

_WIDE, _HIGH = 24.0, 5.0
_MIDDLE = _HIGH / 2


def legend(stencils: bool, ink: Ink = "colour") -> tuple[Explained, ...]:
    """The marks of the pictures, and those of the stencils if there are any."""
    return tuple(_explained(*row) for row in (*_PICTURES[ink], *(_STENCILS if stencils else ())))


_Row = tuple[str, str, Callable[[], Sequence[Mark]]]


def _explained(name: str, text: str, draw: Callable[[], Sequence[Mark]]) -> Explained:
    return Explained(
        Picture(_WIDE, _HIGH, tuple(draw()), say("The mark: {name}.", name=say(name))), say(name), say(text)
    )


def _line(pen: Pen) -> Callable[[], Sequence[Mark]]:
    return lambda: (Stroke(((1.0, _MIDDLE), (_WIDE - 1, _MIDDLE)), pen),)


def _black_arrow() -> Sequence[Mark]:
    return _arrow(LINE)


def _arrow(colour: str = WORK) -> Sequence[Mark]:
    outline = ((8, -0.2), (15.2, -0.6), (15.2, -1.5), (18, 0), (15.2, 1.5), (15.2, 0.6), (8, 0.2))
    return (Fill((tuple((float(x), _MIDDLE + y) for x, y in outline),), colour),)


def _hatched() -> Sequence[Mark]:
    slants = tuple(Stroke(((1 + 2.0 * k, _HIGH - 0.5), (3 + 2.0 * k, 0.5)), HATCH) for k in range(int(_WIDE / 2) - 1))
    frame = ((1.0, 0.5), (_WIDE - 1, 0.5), (_WIDE - 1, _HIGH - 0.5), (1.0, _HIGH - 0.5))
    return (*slants, Stroke(frame, HATCH, closed=True))


def _ticked() -> Sequence[Mark]:
    ticks = (Stroke(((3.0 * k, _MIDDLE), (3.0 * k, _MIDDLE + 1.2)), TICK) for k in range(1, 8))
    return (*_line(CUT)(), *ticks)


_WASTE: _Row = ("Hatching", "Waste: it is not needed again.", _hatched)
_PICTURES: dict[Ink, tuple[_Row, ...]] = {}
_PICTURES["black"] = (
    ("Thick outline", "New in this step.", _line(Pen(USUAL.new, LINE))),
    ("Heavy line", "Where this step saws.", _line(Pen(0.55, LINE))),
    ("Chain line", "The middle of a hole.", _line(Pen(0.18, LINE, (3.2, 0.6, 0.4, 0.6)))),
    ("Arrow", "Push or press this way.", _black_arrow),
    _WASTE,
)
_PICTURES["colour"] = (
    ("Blue-green outline", "New in this step.", _line(Pen(USUAL.new, NEW))),
    ("Red line", "Where this step saws.", _line(Pen(0.55, RED))),
    ("Red chain line", "The middle of a hole.", _line(Pen(0.18, RED, (3.2, 0.6, 0.4, 0.6)))),
    ("Blue arrow", "Push or press this way.", _arrow),
    _WASTE,
)
_STENCILS: tuple[_Row, ...] = (
    ("Thick line with ticks", "Saw this line; the saw cut falls on the side of the ticks.", _ticked),
    ("Long dashes", "Sand to this line.", _line(SAND)),
    ("Short dashes", "For placing the stencil or a piece; nothing is cut here.", _line(GUIDE)),
    ("Thin line", "An edge of the piece that the stencil is stuck on.", _line(EDGE)),
)
