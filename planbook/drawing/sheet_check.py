"""What a stencil sheet is checked with: bars and squares in both units, and the key of its lines."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Anchor, Fill, Mark, Pen, Point, Stroke, Words
from planbook.drawing.stencil_lines import broken_off, circle_points, hatch
from planbook.drawing.stencil_pens import CHECK, CUT, DUST, EDGE, FRAME, GUIDE, HOLE, INK, SAND, SMALL, THIN, TICK, TRIM
from planbook.drawing.stencil_words import StencilWords, fitted
from planbook.solids.plane import box

BAR_MM, BAR_IN = 100.0, 4 * 25.4
BARS_WIDTH, BARS_HEIGHT = BAR_IN + 1.0, 14.0
SQUARE_MM, SQUARE_IN = 50.0, 2 * 25.4
SQUARE_HEIGHT = SQUARE_IN + 6.6
_FIGURES = 2.5
_SAID = ((SMALL, 1), (2.3, 1), (2.1, 1))
"""Sizes of the sentences, mm, each on one line; smaller rather than cut off."""
_KEY_ROW, _LINE = 4.1, 8.2


@dataclass(frozen=True, slots=True)
class _Set:
    """How a key is set, mm: the size of its type, its closest rows, the room of a sign, and between columns."""

    size: float
    close: float
    sign: float
    gap: float


_SETS = (_Set(SMALL, 3.0, 9.6, 2.5), _Set(2.2, 2.55, 9.0, 1.8), _Set(2.0, 2.5, 8.8, 1.5))
"""The usual key, and smaller ones for a page with many kinds of lines and little room."""


def check_bars(at: Point) -> tuple[Mark, ...]:
    """A 100 mm bar with millimetre ticks over a 4 in bar with 1/8 in ticks; `at` is the upper left corner."""
    x, y = at
    metric, inch = y + 6.2, y + 7.2
    marks: list[Mark] = [
        Stroke(((x, metric), (x + BAR_MM, metric)), CHECK, "check"),
        Stroke(((x, inch), (x + BAR_IN, inch)), CHECK, "check"),
    ]
    for i in range(101):
        height = 3.4 if i % 10 == 0 else 2.5 if i % 5 == 0 else 1.5
        marks.append(Stroke(((x + i, metric), (x + i, metric - height)), THIN, "check"))
    for i in range(33):
        height = 3.4 if i % 8 == 0 else 2.5 if i % 4 == 0 else 1.5
        spot = x + i * 25.4 / 8
        marks.append(Stroke(((spot, inch), (spot, inch + height)), THIN, "check"))
    numbers = [(x + i, y + 2.2, str(i)) for i in range(0, 100, 20)] + [(x + BAR_MM, y + 2.2, "100 mm")]
    numbers += [(x + i * 25.4, inch + 6, str(i)) for i in range(4)] + [(x + BAR_IN, inch + 6, "4 in")]
    for spot, baseline, text in numbers:
        last = " " in text
        anchor: Anchor = "start" if text == "0" else "end" if last else "middle"
        marks.append(Words((spot, baseline), text, _FIGURES, anchor, bold=last, layer="check"))
    return tuple(marks)


def check_square(at: Point, words: StencilWords) -> tuple[Mark, ...]:
    """A 50 mm square in a 2 in square with one lower left corner; `at` is the upper left of the larger."""
    x, y = at
    low = y + SQUARE_IN
    size, lines = fitted(words.square, _SAID, SQUARE_IN)
    return (
        _square(x, low, SQUARE_MM),
        _square(x, low, SQUARE_IN),
        Words((x + 1.6, low - SQUARE_MM + 3.4), "50 mm", _FIGURES, layer="check"),
        Words((x + SQUARE_IN - 0.2, y - 0.9), "2 in", _FIGURES, "end", layer="check"),
        *(Words((x, low + 3.6), text, size, layer="check") for text in lines),
    )


def _square(x: float, low: float, side: float) -> Stroke:
    return Stroke(((x, low), (x + side, low), (x + side, low - side), (x, low - side)), CHECK, "check", closed=True)


def instruction(at: Point, width: float, drawn: Iterable[Mark], words: StencilWords) -> tuple[Words, ...]:
    """How to print, and what to measure before the work, on one line: all that is drawn on this page to check it.

    What is `drawn` is the page but for the bars below, which are on every page.
    """
    checks = [mark for mark in drawn if isinstance(mark, Stroke) and mark.layer == "check"]
    squares = any(mark.closed for mark in checks)
    measure = words.measure_squares if squares else words.measure_upright if checks else words.measure
    size, (text,) = fitted(f"{words.check} {measure}", _SAID, width, bold=True)
    return (Words((at[0], at[1] + 0.8 * SMALL), text, size, bold=True, layer="check"),)


def key(at: Point, room: tuple[float, float], layers: Iterable[str], words: StencilWords) -> tuple[Mark, ...]:
    """What the lines on this page mean, in columns of rows as far apart as all of them have room for.

    `at` is the upper left corner, `room` the width and height, mm. Where the closest rows have no room for all,
    its type is smaller; what finds no room even then is left out.
    """
    texts = {
        "cut": words.key_cut,
        "sand to": words.key_sand,
        "kerf side": words.key_side,
        "kerf": words.key_middle,
        "waste": words.key_waste,
        "hole": words.key_hole,
        "entry": words.key_entry,
        "edge": words.key_edge,
        "guide": words.key_guide,
        "apart": words.key_apart,
        "crop": words.key_crop,
        "tile": words.key_tile,
        "trim": words.key_trim,
    }
    present = set(layers)
    entries = [(layer, text) for layer, text in texts.items() if layer in present]
    fits = ((each, rows) for each in _SETS if (rows := _rows(entries, room, each)) is not None)
    kind, rows = next(fits, (_SETS[-1], int(room[1] / _SETS[-1].close)))
    apart = min(_KEY_ROW, room[1] / rows)
    marks: list[Mark] = []
    x = at[0]
    for column in _columns(entries, rows):
        wide = _key_width([column], kind)
        if x + wide > at[0] + room[0] + 0.01:
            break
        for i, (layer, text) in enumerate(column):
            y = at[1] + (i + 0.5) * apart
            marks.extend(_sample(layer, x, y))
            marks.append(Words((x + kind.sign, y + 0.34 * kind.size), text, kind.size, layer="words"))
        x += wide + kind.gap
    return tuple(marks)


_Entry = tuple[str, str]


def _rows(entries: Sequence[_Entry], room: tuple[float, float], kind: _Set) -> int | None:
    """In how many rows a key set so has room for all its entries, the fewest of them; None if it has not."""
    rows = range(int(room[1] / max(_KEY_ROW, kind.close)), int(room[1] / kind.close) + 1)
    return next((n for n in rows if _key_width(_columns(entries, n), kind) <= room[0] + 0.01), None)


def _columns(entries: Sequence[_Entry], rows: int) -> list[Sequence[_Entry]]:
    return [entries[start : start + rows] for start in range(0, len(entries), rows)]


def _key_width(columns: Sequence[Sequence[_Entry]], kind: _Set) -> float:
    """How wide columns of a key are side by side, mm."""
    widths = [kind.sign + max(width_of(text, kind.size) for _, text in column) for column in columns]
    return sum(widths) + kind.gap * max(len(widths) - 1, 0)


_PENS: dict[str, Pen] = {
    "cut": CUT,
    "sand to": SAND,
    "entry": CUT,
    "edge": EDGE,
    "guide": GUIDE,
    "apart": FRAME,
    "tile": FRAME,
    "trim": TRIM,
}


def _sample(layer: str, x: float, y: float) -> Iterator[Mark]:
    """A sample of a layer; in the layer "words", so that it is never taken for the thing itself."""
    if layer == "kerf side":
        yield Fill((((x, y), (x + 6.5, y), (x + 6.5, y + 0.9), (x, y + 0.9)),), DUST, "words")
        yield Stroke(((x, y), (x + 6.5, y)), CUT, "words")
        for i in range(3):
            yield Stroke(((x + 1 + 2 * i, y), (x + 1.7 + 2 * i, y + 1.4)), TICK, "words")
    elif layer == "kerf":
        yield Fill((((x, y - 0.6), (x + 6.5, y - 0.6), (x + 6.5, y + 0.6), (x, y + 0.6)),), DUST, "words")
        yield Stroke(((x, y), (x + 6.5, y)), CUT, "words")
    elif layer == "waste":
        # Hatching goes by the place on the sheet, and so small a sample might lie between its lines.
        for mark in hatch(box(0.0, -1.5, _LINE, 3.0)):
            yield Stroke(tuple((x + u, y + v) for u, v in mark.points), mark.pen, "words")
    elif layer == "crop":
        yield replace(broken_off((x, y), (x + _LINE, y)), layer="words")
    elif layer == "hole":
        yield Stroke(circle_points((x + 3.2, y), 1.1), HOLE, "words", closed=True)
        yield Stroke(((x + 1.2, y), (x + 5.2, y)), THIN, "words")
        yield Stroke(((x + 3.2, y - 1.8), (x + 3.2, y + 1.8)), THIN, "words")
    else:
        yield Stroke(((x, y), (x + _LINE, y)), _PENS[layer], "words")
        if layer == "entry":
            yield Stroke(((x + 2.4, y - 1), (x + 4, y), (x + 2.4, y + 1)), Pen(0.25, INK), "words")
