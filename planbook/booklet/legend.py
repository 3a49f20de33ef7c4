"""The marks of pictures and stencils, drawn with their own pens and explained; it draws no picture of a design."""

from collections.abc import Callable, Collection, Sequence

from planbook.booklet.gathered import Explained
from planbook.drawing.cue_area import TICK as TICK_LONG
from planbook.drawing.cue_area import bedded, ringed
from planbook.drawing.cues import CUT_PENS, PRINTED_LINE
from planbook.drawing.ghost import LAYER as GHOST
from planbook.drawing.ghost import PEN as BEFORE
from planbook.drawing.ink import CUT as RED
from planbook.drawing.ink import LINE, NEW, SHEET, SQUARES, USUAL, WORK, Ink, base, lining, painted, squared
from planbook.drawing.inset import circle
from planbook.drawing.marks import Fill, Mark, Pen, Picture, Ring, Stroke, Words, moved
from planbook.drawing.pads import UNSEEN as HIDDEN_CLAMP
from planbook.drawing.pads import hidden, pressing
from planbook.drawing.paint import (
    CALM_OUTLINE,
    DOTS,
    DOTTED,
    FELT,
    NEW_OUTLINE,
    PRINTED,
    STENCIL_LINE,
    STUCK,
    THIN_PAPER,
    UNSEEN,
)
from planbook.drawing.stencil_lines import broken_off, circle_points
from planbook.drawing.stencil_pens import CUT, EDGE, FRAME, GUIDE, HATCH, HOLE, SAND, SMALL, TICK, TRIM
from planbook.drawing.stencil_pens import THIN as FINE
from planbook.drawing.stencil_signs import entry_arrows, grain_sign
from planbook.drawing.tiles_marks import diamond
from planbook.drawing.waste_side import LAYER as WASTE_SIDE
from planbook.drawing.waste_side import ticked
from planbook.solids.hatch import hatching
from planbook.speech import say
from planbook.workshop.timeline import WASTE_RIGHT

_WIDE, _HIGH = 24.0, 5.0
_MIDDLE = _HIGH / 2
THIN = Pen(0.18, LINE)


def legend(
    drawn: Collection[str], printed: Collection[str], ink: Ink = "colour", tint: str = ""
) -> tuple[Explained, ...]:
    """The marks of step pictures that have these layers, and those of the stencils that have these.

    Waste is hatched in both, and explained once. Samples of wood have the `tint` (#rrggbb) of the wood of the pictures.
    """
    kinds = {UNSEEN if layer.startswith(UNSEEN) else layer for layer in drawn}
    if "waste" in printed:
        kinds.add("hatch")
    rows = [_tinted(layer, row, ink, tint) for layer, row in _PICTURES[ink] if layer in kinds]
    return tuple(_explained(*row) for row in (*rows, *(row for layer, row in _STENCILS if layer in printed)))


_Row = tuple[str, str, Callable[[], Sequence[Mark]]]


def _tinted(layer: str, row: _Row, ink: Ink, tint: str) -> _Row:
    """The row, with a sample of just the wood of the pictures if it shows any."""
    samples = {CALM_OUTLINE: _calm, STUCK: _papered}
    return (row[0], row[1], samples[layer](ink, tint)) if layer in samples else row


def _explained(name: str, text: str, draw: Callable[[], Sequence[Mark]]) -> Explained:
    return Explained(
        Picture(_WIDE, _HIGH, tuple(draw()), say("The mark: {name}.", name=say(name))), say(name), say(text)
    )


def _line(pen: Pen) -> Callable[[], Sequence[Mark]]:
    return lambda: (Stroke(((1.0, _MIDDLE), (_WIDE - 1, _MIDDLE)), pen),)


def _double() -> Sequence[Mark]:
    return [mark for pen in CUT_PENS["black"] for mark in _line(pen)()]


def _fringed(ink: Ink) -> Callable[[], Sequence[Mark]]:
    line = ((1.0, _MIDDLE - 0.6), (_WIDE - 1, _MIDDLE - 0.6))
    return lambda: (*ticked([(line, False)], WASTE_RIGHT, ink), *(Stroke(line, pen) for pen in CUT_PENS[ink]))


def _black_arrow() -> Sequence[Mark]:
    return _arrow(LINE)


def _arrow(colour: str = WORK) -> Sequence[Mark]:
    outline = ((8, -0.2), (15.2, -0.6), (15.2, -1.5), (18, 0), (15.2, 1.5), (15.2, 0.6), (8, 0.2))
    return (Fill((tuple((float(x), _MIDDLE + y) for x, y in outline),), colour),)


def _clamp(drawn: Callable[..., Sequence[Mark]], ink: Ink) -> Callable[[], Sequence[Mark]]:
    return lambda: drawn((17.75, _MIDDLE), (1.0, 0.0), ink=ink)


def _distance() -> Sequence[Mark]:
    ends = tuple(Stroke(((x, 0.8), (x, _HIGH - 0.8)), THIN) for x in (4.0, 20.0))
    heads = tuple(
        Fill((((x, _MIDDLE), (x + way * 1.8, _MIDDLE - 0.35), (x + way * 1.8, _MIDDLE + 0.35)),), LINE)
        for x, way in ((4.0, 1.0), (20.0, -1.0))
    )
    return (*ends, Stroke(((4.0, _MIDDLE), (20.0, _MIDDLE)), THIN), *heads)


def _enlarged() -> Sequence[Mark]:
    rings = ((4.0, _MIDDLE, 0.8, 0.18), (17.0, _MIDDLE, 2.2, 0.35))
    circles = tuple(Stroke(circle((x, y), r), Pen(pen, LINE), closed=True) for x, y, r, pen in rings)
    return (Stroke(((4.8, _MIDDLE), (14.8, _MIDDLE)), THIN), *circles)


def _chain(colour: str) -> Callable[[], Sequence[Mark]]:
    return _line(Pen(0.18, colour, (3.2, 0.6, 0.4, 0.6)))


def _dashes(ink: Ink) -> Callable[[], Sequence[Mark]]:
    starts = [(2.0 + 5.2 * k + 2.6 * row, 1.7 + 1.8 * row) for row in range(2) for k in range(4)]
    return lambda: bedded([((x, y), (x + TICK_LONG, y)) for x, y in starts], ink)


def _glue(ink: Ink) -> Callable[[], Sequence[Mark]]:
    spots = [(3.0 + 3.6 * k + 1.8 * row, 1.7 + 1.8 * row) for row in range(2) for k in range(6 - row)]
    return lambda: ringed(spots, ink)


def _calm(ink: Ink, tint: str = "") -> Callable[[], Sequence[Mark]]:
    ring = _box(3.0, _WIDE - 3.0)
    pale = painted(base(tint, "context", ink), 1.0, ink)
    return lambda: (Fill((ring,), pale), Stroke(ring, USUAL.of("outline", "context", ink), closed=True))


def _papered(ink: Ink, tint: str = "") -> Callable[[], Sequence[Mark]]:
    wood, patch = _box(3.0, _WIDE - 3.0), _box(8.0, _WIDE - 3.0)
    full = painted(base(tint, "worked", ink), 1.0, ink)
    outline = Stroke(wood, USUAL.of("outline", "worked", ink), closed=True)
    (left, low), (right, high) = patch[0], patch[2]
    lines = squared((left, low, right, high)) if ink == "black" else []
    squares = [Stroke(line, SQUARES) for line in lines]
    return lambda: (Fill((wood,), full), Fill((patch,), SHEET, opacity=THIN_PAPER), *squares, outline)


def _felted() -> Sequence[Mark]:
    ring = _box(3.0, _WIDE - 3.0)
    dots = [Stroke(line, DOTS) for line in hatching([(ring, ())], DOTTED, 30.0)]
    return (Fill((ring,), painted(lining("worked", "black"), 1.0, "black")), *dots)


def _box(left: float, right: float) -> Ring:
    return ((left, 0.5), (right, 0.5), (right, _HIGH - 0.5), (left, _HIGH - 0.5))


def _hatched() -> Sequence[Mark]:
    slants = tuple(Stroke(((1 + 2.0 * k, _HIGH - 0.5), (3 + 2.0 * k, 0.5)), HATCH) for k in range(int(_WIDE / 2) - 1))
    return (*slants, Stroke(_box(1.0, _WIDE - 1), HATCH, closed=True))


def _ticked() -> Sequence[Mark]:
    ticks = (Stroke(((3.0 * k, _MIDDLE), (3.0 * k, _MIDDLE + 1.2)), TICK) for k in range(1, 8))
    return (*_line(CUT)(), *ticks)


def _named() -> Sequence[Mark]:
    return (*moved(_line(CUT)(), 0.0, 1.2), Words((_WIDE / 2, _MIDDLE), say("name"), SMALL, "middle"))


def _way_in() -> Sequence[Mark]:
    return (*_line(CUT)(), *entry_arrows(((1.0, _MIDDLE), (_WIDE - 1, _MIDDLE))))


def _hole() -> Sequence[Mark]:
    x = _WIDE / 2
    cross = (((x - 2, _MIDDLE), (x + 2, _MIDDLE)), ((x, _MIDDLE - 2), (x, _MIDDLE + 2)))
    ring = Stroke(circle_points((x, _MIDDLE), 1.1), HOLE, closed=True)
    return (ring, *(Stroke(line, FINE) for line in cross))


def _grain() -> Sequence[Mark]:
    return grain_sign(0.0, _WIDE - 2, "").marks_at((_WIDE / 2, _MIDDLE))[:2]


def _match() -> Sequence[Mark]:
    return diamond((_WIDE / 2, _MIDDLE), 1.4)


def _cropped() -> Sequence[Mark]:
    return (broken_off((1.0, _MIDDLE), (_WIDE - 1, _MIDDLE)),)


_DOWN_TO = "Work down to this line; the wood on the side of the ticks goes."
_NOT_SEEN = "The other end of a clamp, on a side that is not seen; a dotted line leads to it."
_BEHIND = "Edges of a new or worked piece that lies behind others."
_COMMON: tuple[tuple[str, _Row], ...] = (
    (GHOST, ("Thin line with double dots", "Outline of the wood before this step.", _line(BEFORE))),
    ("inset place", ("Two circles", "The same place once more, so many times larger.", _enlarged)),
    (
        "distance",
        (
            "Dimension",
            "How far the fence or the stop is set, how far from the edge to cut or bore, or how large a piece becomes.",
            _distance,
        ),
    ),
)
_PAPERED = ("Pale patch on the wood", "Paper: a stencil is stuck on.")
_PRINTED: _Row = (
    "Thin grey line on the paper",
    "A line of the stencil that this step does not follow.",
    _line(PRINTED),
)
_STUCK_ON: _Row = ("Dark line on the paper", "A line of the stencil that this step sticks on.", _line(PRINTED_LINE))
_CALM = ("Pale piece, thin grey outline", "Only stands by in this step.")
_WASTE: _Row = ("Hatching", "Waste: it is not needed again.", _hatched)
_PICTURES: dict[Ink, tuple[tuple[str, _Row], ...]] = {}
_PICTURES["black"] = (
    (NEW_OUTLINE, ("Thick outline", "New in this step; its name is bold.", _line(Pen(USUAL.new, LINE)))),
    (CALM_OUTLINE, (*_CALM, _calm("black"))),
    (STUCK, ("Fine squares on the wood", _PAPERED[1], _papered("black"))),
    (STENCIL_LINE, _PRINTED),
    ("printed line", _STUCK_ON),
    ("hatch", _WASTE),
    ("push", ("Arrow", "Push this way.", _black_arrow)),
    ("sand", ("Ticks", "Sand here.", _dashes("black"))),
    ("glue face", ("Small rings", "Glue goes here.", _glue("black"))),
    ("cut line", ("Double line", "Where this step saws or cuts, or the line it works to.", _double)),
    ("drill axis", ("Chain line", "The middle of a hole, or of what is fitted.", _chain(LINE))),
    ("clamp", ("Arrow with a block", "A clamp presses here, this way.", _clamp(pressing, "black"))),
    (HIDDEN_CLAMP, ("Dashed arrow with a block", _NOT_SEEN, _clamp(hidden, "black"))),
    (WASTE_SIDE, ("Double line with ticks", _DOWN_TO, _fringed("black"))),
    (FELT, ("Pale dots", "A lining, such as felt.", _felted)),
    (UNSEEN, ("Dashes", _BEHIND, _line(Pen(USUAL.crease, LINE, (1.6, 0.9))))),
    *_COMMON,
)
_PICTURES["colour"] = (
    (NEW_OUTLINE, ("Blue-green outline", "New in this step; its name is bold.", _line(Pen(USUAL.new, NEW)))),
    (CALM_OUTLINE, (*_CALM, _calm("colour"))),
    (STUCK, (*_PAPERED, _papered("colour"))),
    (STENCIL_LINE, _PRINTED),
    ("printed line", _STUCK_ON),
    ("hatch", _WASTE),
    ("push", ("Blue arrow", "Push this way.", _arrow)),
    ("sand", ("Blue ticks", "Sand here.", _dashes("colour"))),
    ("glue face", ("Small brown rings", "Glue goes here.", _glue("colour"))),
    ("cut line", ("Red line", "Where this step saws or cuts, or the line it works to.", _line(CUT_PENS["colour"][-1]))),
    ("drill axis", ("Red chain line", "The middle of a hole, or of what is fitted.", _chain(RED))),
    ("clamp", ("Blue arrow with a block", "A clamp presses here, this way.", _clamp(pressing, "colour"))),
    (HIDDEN_CLAMP, ("Dashed blue arrow with a block", _NOT_SEEN, _clamp(hidden, "colour"))),
    (WASTE_SIDE, ("Red line with ticks", _DOWN_TO, _fringed("colour"))),
    (UNSEEN, ("Blue-green dashes", _BEHIND, _line(Pen(USUAL.crease, NEW, (1.6, 0.9))))),
    *_COMMON,
)
"""The marks of pictures, each with the layer that has to be there for it to be explained; in colour felt
is named in place.

Short texts come first, long ones last: two stand in a row, and it is as high as the longer.
"""
_STENCILS: tuple[tuple[str, _Row], ...] = (
    (
        "cut",
        (
            "Thick line with ticks",
            "Saw this line; the saw cut, shaded, falls on the side of the ticks, or on the line where there are none.",
            _ticked,
        ),
    ),
    ("match", ("Diamond, half dark", "Where tiles meet: lay one over the other, diamond on diamond.", _match)),
    ("name", ("Small words along a line", "The name of the line; the steps call it so.", _named)),
    ("guide", ("Short dashes", "For placing the stencil or a piece; nothing is cut here.", _line(GUIDE))),
    ("edge", ("Thin line", "An edge of the piece that the stencil is stuck on.", _line(EDGE))),
    ("entry", ("Thick line with arrow heads", "The way in for the blade.", _way_in)),
    ("sand to", ("Long dashes", "Sand to this line.", _line(SAND))),
    ("hole", ("Circle with a cross", "Drill here.", _hole)),
    ("grain", ("Half arrow heads", "The grain runs this way.", _grain)),
    ("apart", ("Short fine dashes", "Cut the papers apart here.", _line(FRAME))),
    ("trim", ("Chain line on a tile", "Cut the paper off here before you lay it over the next.", _line(TRIM))),
    ("tile", ("Short fine dashes around", "The edge of a tile.", _line(FRAME))),
    ("crop", ("Thin line with zigzags", "The paper ends here, the piece goes on.", _cropped)),
)
"""The marks of stencils, each with the layer that has to be there for it to be explained."""
