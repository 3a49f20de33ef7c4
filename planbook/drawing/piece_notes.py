"""What is said below a measured sheet: its words, the notes of holes and radii, and the letters that point to them."""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from types import MappingProxyType

from planbook.drawing.bored_later import Later, Spot, step_of
from planbook.drawing.ink import PAPER
from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Mark, Point, Ring, Words
from planbook.drawing.measured import Measured
from planbook.drawing.ordinates import SIZE, STEP
from planbook.drawing.piece_figures import figure
from planbook.drawing.piece_views import Angle, View, on_paper, view_of
from planbook.drawing.rounded import AXES, FINE, Rounded
from planbook.solids.hatch import clearances
from planbook.speech import labelled, say
from planbook.units import LengthStyle, is_half_of_a_bit, show_drill

LETTER = 1.6
"""From the middle of a letter to the nearest line, mm, so that its ground breaks none."""
OWN, BEYOND = 0.15, 1.2
"""A letter is read with its own arc where that is still the nearest line, but for OWN, from a place BEYOND it, mm."""
HALF = 1.4
"""Half the height of a letter's ground, mm; no letter is so near to the upper edge that it is cut off."""
NOTE = 2.8
NOTE_LINE = 4.2
"""Type size of the notes and distance of their lines, mm."""
NEAR = 0.05
"""Middles and ends of holes closer than this, mm, are the same."""
MOSTLY = 0.6
"""Notes stand beside the scale, under one another, where that leaves them this share of the width."""
_BREAK = re.compile(r"(?<![ØR×]) (?!×)")
"""Where a note may be broken: not between a sign and its figure."""
_LARGE = 12.0
"""A rounded corner of a larger radius on paper, mm, is no place to look for its letter."""
WAYS = {
    "front": "from the front",
    "back": "from behind",
    "left": "from the left",
    "right": "from the right",
    "top": "from above",
    "bottom": "from below",
}
"""From where a hole is bored into a face."""
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class SheetWords:
    """What is said on a sheet; braces are filled in."""

    scale: str = "Scale {scale}"
    radius: str = "R {radius}"
    middle: str = "middle {right} and {up} from 0"
    right: str = "{length} right"
    left: str = "{length} left"
    up: str = "{length} up"
    down: str = "{length} down"
    hole: str = "Ø {diameter}, through"
    hole_deep: str = "Ø {diameter}, {depth} deep"
    pin: str = "Ø {diameter}"
    sunk: str = "{hole}, countersunk to Ø {diameter}"
    bored: str = "{hole}, counterbored to Ø {diameter}, {depth} deep"
    later: str = "{hole}, bored in step {step}"
    later_from: str = "{hole}, bored in step {step} {ways}"
    count: str = "{count} × {what}"
    freeform: str = "Curves and roundings without a radius follow the stencil and the steps."
    by_stencil: str = "There are more places along {sides} than can be told here; follow the stencil and the steps."
    by_steps: str = "Curves and roundings without a radius follow the steps."
    many_by_steps: str = "There are more places along {sides} than can be told here; follow the steps."
    sides: tuple[str, str, str] = ("the width", "the depth", "the height")
    alt: str = "The piece {name} from the front, from above and from the side, with its dimensions, scale {scale}."
    top_first: str = "Drawn with its top to the front."
    laid: tuple[str, ...] = ()

    @classmethod
    def spoken(cls) -> "SheetWords":
        """The words in the language spoken."""
        width, depth, height = (say(side) for side in cls().sides)
        said = {f.name: say(f.default) for f in fields(cls) if isinstance(f.default, str)}
        return cls(**said, sides=(width, depth, height), laid=())

    def without_stencil(self) -> "SheetWords":
        """The words for a piece that no stencil was stuck on."""
        return replace(self, freeform=self.by_steps, by_stencil=self.many_by_steps)

    def tipped(self) -> "SheetWords":
        """The words for a piece that is drawn with its top to the front: its height is what is seen as its depth."""
        width, depth, height = self.sides
        return replace(self, sides=(width, height, depth), alt=f"{self.alt} {self.top_first}", laid=(self.top_first,))


def rounds_told(
    facts: Measured,
    style: LengthStyle,
    words: SheetWords,
    angle: Angle,
    steps: Mapping[Spot, int] = MappingProxyType({}),
) -> tuple[list[str], dict[str, Sequence[Rounded]]]:
    """A note for each kind of hole and radius, and the letter of each note with the rounds that may carry it.

    `steps` are those of holes that are bored in their step, together with what is fitted.

    Middles that no figure beside the views can tell are told after them, once for all that share one.
    """
    kinds: dict[tuple[int, str, str], list[Rounded]] = {}
    for each, within in _nested(facts.rounds):
        what = _told(each, style, words) if within is None else _bored(each, within, style, words)
        step = step_of(steps, each.axis, each.middle)
        what = words.later.format(hole=what, step=step) if step and each.whole else what
        kinds.setdefault((each.axis, what, _middle(each, facts.size, style, words, angle)), []).append(each)
    notes: dict[str, str] = {}
    letters: dict[str, Sequence[Rounded]] = {}
    middles: dict[str, list[str]] = {}
    for letter, ((_, what, middle), alike) in zip(_LETTERS, kinds.items(), strict=False):
        said = words.count.format(count=len(alike), what=what) if len(alike) > 1 else what
        notes[letter] = labelled(letter, said)
        letters[letter] = alike
        if middle:
            middles.setdefault(middle, []).append(letter)
    for middle, some in middles.items():
        shared = labelled(", ".join(some), middle)
        notes[", ".join(some)] = shared if len(some) > 1 else f"{notes[some[0]]}, {middle}"
    return [*notes.values()], letters


def _nested(rounds: Sequence[Rounded]) -> list[tuple[Rounded, Rounded | None]]:
    """Every round; a hole that continues a wider one about the same middle comes within it, once for both."""
    wider: dict[Rounded, Rounded] = {}
    for each in rounds:
        around = [other for other in rounds if _continues(each, other)]
        if around:
            wider[each] = min(around, key=lambda other: other.radius)
    taken = set(wider.values())
    return [(wider.get(each, each), each if each in wider else None) for each in rounds if each not in taken]


def _continues(hole: Rounded, other: Rounded) -> bool:
    """Whether a hole begins where a wider one about the same middle ends."""
    if not (hole.whole and hole.hollow and other.whole and other.hollow and other.axis == hole.axis):
        return False
    met = min(abs(hole.along[0] - other.along[1]), abs(hole.along[1] - other.along[0]))
    return other.radius > hole.radius + NEAR and math.dist(hole.middle, other.middle) < NEAR and met < NEAR


def _told(found: Rounded, style: LengthStyle, words: SheetWords) -> str:
    if not found.whole:
        return words.radius.format(radius=_radius(found, style))
    if not found.hollow:
        return words.pin.format(diameter=_diameter(2 * found.radius, style))
    hole = _hole(found.radius, found.along, found.through or found.sunk > 0, style, words)
    return words.sunk.format(hole=hole, diameter=_diameter(found.sunk, style)) if found.sunk else hole


def _bored(wide: Rounded, narrow: Rounded, style: LengthStyle, words: SheetWords) -> str:
    """A hole with its counterbore; its depth counts from the face that the counterbore begins at."""
    along = (min(wide.along[0], narrow.along[0]), max(wide.along[1], narrow.along[1]))
    hole = _hole(narrow.radius, along, narrow.through, style, words)
    deep = figure(wide.along[1] - wide.along[0], style)
    return words.bored.format(hole=hole, diameter=_diameter(2 * wide.radius, style), depth=deep)


def _diameter(mm: float, style: LengthStyle) -> str:
    """What to bore with; its unit only where that is not the one of all figures."""
    text = show_drill(mm, style)
    return text if "(" in text else text.removesuffix(f" {style.unit}")


def _radius(found: Rounded, style: LengthStyle) -> str:
    """The radius of an arc; of a hollow one that a bit leaves, told as the bit is, so that it is read as half of it."""
    by_bit = found.hollow and is_half_of_a_bit(found.radius, style)
    return _diameter(found.radius, style) if by_bit else figure(found.radius, style)


def _middle(found: Rounded, size: Sequence[float], style: LengthStyle, words: SheetWords, angle: Angle) -> str:
    """Where the middle of an arc lies that is beside the piece, as its view is looked at; empty for any other one."""
    axes = [axis for axis in AXES if axis != found.axis]
    if found.whole or found.corner or all(-FINE < m < size[a] + FINE for a, m in zip(axes, found.middle, strict=True)):
        return ""
    right, up = found.middle
    if found.axis == 0 and angle == "first":
        right = size[axes[0]] - right
    across = (words.right if right >= 0 else words.left).format(length=figure(abs(right), style))
    high = (words.up if up >= 0 else words.down).format(length=figure(abs(up), style))
    return words.middle.format(right=across, up=high)


def later_told(
    later: Mapping[str, Sequence[Later]], numbers: Mapping[str, int], style: LengthStyle, words: SheetWords
) -> list[str]:
    """A note for holes that are bored later; before it the numbers of the pieces that get it, if they are not all."""
    getting: dict[Later, list[str]] = {}
    for name, holes in later.items():
        for each in holes:
            getting.setdefault(each, []).append(str(numbers[name]))
    notes = []
    for each, names in getting.items():
        hole = words.pin.format(diameter=_diameter(each.diameter, style))
        if each.faces:
            hole = _hole(each.diameter / 2, (0.0, each.depth), not each.depth, style, words)
        said = words.count.format(count=each.count, what=hole) if each.count > 1 else hole
        ways = say(" and ").join(say(WAYS[face]) for face in each.faces)
        form = words.later_from if ways else words.later
        told = form.format(hole=said, step=each.step, ways=ways)
        notes.append(told if len(names) == len(later) else labelled(", ".join(names), told))
    return notes


def _hole(radius: float, along: tuple[float, float], through: bool, style: LengthStyle, words: SheetWords) -> str:
    diameter = _diameter(2 * radius, style)
    if through:
        return words.hole.format(diameter=diameter)
    return words.hole_deep.format(diameter=diameter, depth=figure(along[1] - along[0], style))


def lettered(
    letters: Mapping[str, Sequence[Rounded]], size: Sequence[float], views: Sequence[View], lines: Sequence[Ring]
) -> list[Mark]:
    """The letter of each note beside its round, clear of lines and of other letters if it can be, on a white ground.

    Of several rounds it stands by the first beside which nothing else is as near to it.
    """
    marks: list[Mark] = []
    taken: list[Point] = []
    for letter, alike in letters.items():
        found = [_free(_spots(each, size, view_of(each, views)), taken, view_of(each, views), lines) for each in alike]
        spot = next((at for at, own in found if own), found[0][0])
        taken.append(spot)
        x, y = spot
        half = width_of(letter, SIZE, bold=True) / 2 + 0.5
        ground = ((x - half, y - HALF), (x + half, y - HALF), (x + half, y + HALF), (x - half, y + HALF))
        marks.append(Fill((ground,), PAPER, "ground"))
        marks.append(Words((x, y + 0.36 * SIZE), letter, SIZE, "middle", bold=True, layer="letter"))
    return marks


_Spot = tuple[Point, float, Point]
"""A place for a letter, how far its surface is, mm, and a place `BEYOND` farther from it."""


def _spots(found: Rounded, size: Sequence[float], view: View) -> list[_Spot]:
    """Places for a letter by a round surface: beside its mark, in the wood of a pin, outside a hole, and turned on.

    Small rounded corners of the wood have theirs inside first, where no measures begin.
    """
    x, y = on_paper(found, found.middle, size, view)
    u, v = on_paper(found, found.mark, size, view)
    radius = max(math.hypot(u - x, v - y), found.sunk / 2 * view.paper.scale, 1e-6)
    start = math.pi / 4 if found.whole else math.atan2(v - y, u - x)
    turns = [0.0, 0.3, -0.3, 0.6, -0.6] if not found.whole else [k * math.pi / 4 for k in range(8)]
    inside, outside = [max(radius - 2.4, 0.0)], [radius + 2.4]
    rounded = found.corner and not found.hollow and 2.4 < radius < _LARGE
    nearest = inside + outside if rounded else outside + inside
    reaches = (*nearest, radius + 3.4, radius + 4.6)

    def at(far: float, turn: float) -> Point:
        return (x + far * math.cos(start + turn), y + far * math.sin(start + turn))

    return [
        (at(far, turn), abs(far - radius), at(far + math.copysign(BEYOND, far - radius), turn))
        for far in reaches
        for turn in turns
    ]


def _free(spots: Sequence[_Spot], taken: Sequence[Point], view: View, lines: Sequence[Ring]) -> tuple[Point, bool]:
    """The first place in the view that is clear of the letters already there, of lines as well if there is one.

    A place that is much nearer to its own surface than to any other line goes before others: whether it is such a one.
    """
    (left, bottom), (right, top) = view.low, view.high
    near = [s for s in spots if left - 3 < s[0][0] < right + 3 and max(top - 3, HALF) < s[0][1] < bottom + 1]
    clear = [s for s in near if all(abs(s[0][0] - t[0]) > STEP or abs(s[0][1] - t[1]) > STEP for t in taken)]
    rooms = clearances((), lines, [point for at, _, beyond in clear for point in (at, beyond)])
    measured = list(zip(clear, rooms[::2], rooms[1::2], strict=True))
    bare = [spot for spot, room, _ in measured if room > LETTER]
    own = [spot for spot, room, far in measured if room > LETTER and far > spot[1] + BEYOND - OWN]
    widest = [spot for spot, room, _ in measured if room == max(rooms[::2])]
    return (own or bare or widest or near or list(spots))[0][0], bool(own)


def noted(notes: Sequence[str], width: float, start: float) -> tuple[float, list[str]]:
    """Where the rows of notes begin, and the rows: all beside the scale, which ends at `start`, if they are few or that
    leaves them most of the width; else all below it, and the first row is empty.
    """
    rows = _wrapped(notes, width - start)
    if len(rows) < 2 or width - start >= MOSTLY * width:
        return start, rows
    return 0.0, ["", *_wrapped(notes, width)]


def _wrapped(notes: Sequence[str], width: float) -> list[str]:
    """Notes side by side in rows; one wider than a whole row is broken between words."""
    rows = [""]

    def add(text: str, between: str) -> None:
        longer = f"{rows[-1]}{between}{text}" if rows[-1] else text
        if width_of(longer, NOTE) <= width or not rows[-1]:
            rows[-1] = longer
        else:
            rows.append(text)

    for note in notes:
        if width_of(note, NOTE) <= width:
            add(note, "  ·  ")
        else:
            rows += [""] if rows[-1] else []
            for word in _BREAK.split(note):
                add(word, " ")
    return rows
