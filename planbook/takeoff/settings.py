"""Settings of tools and cuts with their units, from what the workshop recorded; and their printing."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import Any

from planbook.model import FACES, Expr, Tool
from planbook.model.sizes import evaluate
from planbook.speech import say, say_many, told
from planbook.takeoff.measure import exact
from planbook.takeoff.records import Setting
from planbook.units import (
    LengthStyle,
    Quantity,
    UnitProblem,
    fine_enough,
    is_sold_by,
    show_drill,
    show_fine,
    show_minutes,
)
from planbook.units.printing import FINE_MM, per_step, printed, unbound
from planbook.workshop import Timeline
from planbook.workshop.copies import CUT_TO, FURTHER

AREAS = ("area", "mating area")
TIMES = ("clamp", "between coats", "wait", "time", "cure")
ANGLES = ("angle", "tilt", "bevel", "turn")
"""Keys of plain numbers that are not lengths: mm2, minutes, degrees."""
POINT = "at"
"""Key of a point on a face: to the right and up, as the face is looked at."""
SIDES = CUT_TO
"""Keys of sizes with several sides: what is to be cut out of something larger."""
LINING = "cut to"
"""Key of the size of a lining, which lies within something; a strip fills it."""
SHORT = Fraction(1, 10)
"""What is cut out may be printed shorter by no more than this, mm: glue fills that (common practice). A lining may be
printed longer by as much.
"""
RADIUS = "radius"
BITS = ("diameter", "hole", RADIUS)
"""Keys of what a drill, a cutter or a rounding bit is bought by."""
OPENING = "opening at least"
BLADE = "blade width"
"""Key of how wide clamps have to open: printed a little wider, in sizes that are easily looked up."""
WIDER = {"mm": Fraction(10), "in": Fraction(254, 20)}
"""It is rounded up to a whole one of these, mm: a centimetre, half an inch."""
BORED = "bore"
"""Key of how many holes of a stencil a tool bores."""
KERFS = ("kerf", "least kerf", "most kerf")
"""Keys of how wide a blade of a design cuts, and of the ends of that."""
SIDED = ("face", "faces", "sides", "edges", "end", "from", "to", "measured from")
"""Keys of sides of a piece."""
AMID = ("kerf side", "centre")
"""The blade follows the middle of the line, as the stencil says in words."""


def settings_of(pairs: tuple[tuple[str, Any], ...]) -> tuple[Setting, ...]:
    """Pairs of an event as settings: plain numbers with decimals are lengths in mm, whole ones are counts."""
    on_paper = bool(dict(pairs).get("stencil"))
    counted = (_counted(key, value) if on_paper and key == "holes" else (key, value) for key, value in pairs)
    return tuple(setting for key, value in counted for setting in _settings(key, value))


def settings_of_tool(tool: Tool, timeline: Timeline) -> tuple[Setting, ...]:
    """What the design asks of a tool: width, kerf and its range, thickness and teeth of a blade, diameter, capacity."""
    kerf, least, most = KERFS
    named: list[tuple[str, Expr | None]] = [(BLADE, tool.width), (kerf, tool.kerf)]
    if tool.kerf_range:
        named += [(least, tool.kerf_range[0]), (most, tool.kerf_range[1])]
    named += [("blade thickness", tool.body), ("diameter", tool.diameter), ("capacity", tool.capacity)]
    found = [setting for key, expr in named if expr and (setting := _evaluated(key, expr, timeline))]
    if tool.teeth_per_inch:
        found.append(Setting("teeth per inch", Quantity(exact(tool.teeth_per_inch))))
    return tuple(found)


def lengths_set(timeline: Timeline) -> dict[str, frozenset[Fraction]]:
    """The lengths (mm) that are set in the steps, by what is set: all widths, all depths, and so on."""
    found: dict[str, set[Fraction]] = {}
    for event in timeline.events:
        for setting in settings_of(event.settings):
            if isinstance(setting.value, Quantity) and setting.value.is_length:
                found.setdefault(setting.key, set()).add(setting.value.value)
    return {key: frozenset(lengths) for key, lengths in found.items()}


def lengths_given(timeline: Timeline) -> frozenset[Fraction]:
    """The lengths (mm) that a design gives as its sizes or sets in its steps, without the places of points."""
    sizes = (size.value for size in timeline.sizes.values() if size.is_length)
    return frozenset((*sizes, *(length for lengths in lengths_set(timeline).values() for length in lengths)))


def show_setting(setting: Setting, style: LengthStyle) -> str:
    """The value of a setting in words: "3/32 in", "through", "20 mm, 35 mm", "20 mm right, 35 mm up"."""
    value = setting.value
    if (setting.key, value) == AMID:
        return say("on the line")
    if isinstance(value, str):
        return _sided(value) if setting.key in SIDED else _names(value)
    told_by_sides = setting.key.split()[0] == POINT or setting.key.endswith(FURTHER)
    if told_by_sides and isinstance(value, tuple) and len(value) == 2:
        return _point(value[0], value[1], style)
    values = (value,) if isinstance(value, Quantity) else value
    if setting.key in SIDES:
        if setting.key == LINING:
            return _sides(values, unbound(style), _no_more)
        longest = max(value.value for value in values)
        return _sides(values, style, partial(_enough, longest))
    if setting.key == OPENING:
        return _rounded_up(values[0], style)
    if setting.key in BITS or (setting.key == BLADE and is_sold_by(values[0].value)):
        return ", ".join(show_drill(quantity.value, style) for quantity in values)
    return ", ".join(show_fine(quantity, style) for quantity in values)


def _rounded_up(opening: Quantity, style: LengthStyle) -> str:
    """Rounded up, in each unit by itself: "130 mm (5 1/2 in)"."""
    if style.also:
        return f"{_rounded_up(opening, replace(style, also=None))} ({_rounded_up(opening, style.also)})"
    step = WIDER[style.unit]
    return show_fine(replace(opening, value=-(-opening.value // step) * step), style)


def _sides(sides: Sequence[Quantity], style: LengthStyle, fitted: Callable[[Quantity, LengthStyle], Quantity]) -> str:
    """One size with its unit once: "110.9 × 14.6 × 1.1 mm"."""
    if style.also:
        return f"{_sides(sides, replace(style, also=None), fitted)} ({_sides(sides, style.also, fitted)})"
    unit = f" {style.unit}"
    return " × ".join(show_fine(fitted(side, style), style).removesuffix(unit) for side in sides) + unit


def _no_more(side: Quantity, style: LengthStyle) -> Quantity:
    """A side that its rounding would make too long for where it lies, a step of the style less."""
    step = per_step(style)
    if side.value < FINE_MM or printed(side.value, style) - side.value <= SHORT:
        return side
    return Quantity(side.value // step * step, length=1)


def _enough(longest: Fraction, side: Quantity, style: LengthStyle) -> Quantity:
    """A side that its rounding would leave too short to fill a cut, a step of the style more.

    A strip is as long as the cut is deep, which stands in the steps as it is told: so is the strip, if that will do.
    """
    if side.value == longest and side.value - printed(side.value, style) <= SHORT:
        return side
    step = per_step(style)
    lost = side.value - round(side.value / step) * step
    return Quantity(side.value - lost + step, length=1) if side.value >= FINE_MM and lost > SHORT else side


def kerf_style(settings: Iterable[Setting], style: LengthStyle) -> LengthStyle:
    """The style for the kerf of a tool: as much finer as its ends ask for that differ from it."""
    told = (setting.value for setting in settings if setting.key in KERFS)
    return fine_enough(style, [value.value for value in told if isinstance(value, Quantity)])


def _sided(value: str) -> str:
    """Sides of a piece by the catalogue, though a piece of the design may be called like one; other words as names."""
    parts = value.split(", ")
    return ", ".join(map(say, parts)) if set(parts) <= set(FACES) else _names(value)


def _names(value: str) -> str:
    """A text, or names with commas, in the language spoken."""
    said = told(value)
    return said if said != value else ", ".join(map(told, value.split(", ")))


def _point(right: Quantity, up: Quantity, style: LengthStyle) -> str:
    """How far a point lies from where it is measured, and which way."""
    ways = [(right, "right" if right.value > 0 else "left"), (up, "up" if up.value > 0 else "down")]
    far = [f"{show_fine(Quantity(abs(q.value), length=1), style)} {say(way)}" for q, way in ways if q.value]
    return ", ".join(far) or show_fine(right, style)


def _counted(key: str, value: Any) -> tuple[str, Any]:
    """How many holes of a stencil: the sheet shows them, but not by their names."""
    return (BORED, say_many("{count} hole", "{count} holes", len(value))) if value else (key, value)


def _evaluated(key: str, expr: Expr, timeline: Timeline) -> Setting | None:
    try:
        return Setting(key, evaluate(expr, timeline.sizes))
    except UnitProblem:
        return None


def _settings(key: str, value: Any) -> Iterator[Setting]:
    """One setting, or one for each point of several; nothing for what was left empty or at zero."""
    if value is None or value is False or value in ("", (), 0):
        return
    if isinstance(value, tuple) and isinstance(value[0], tuple):
        for number, point in enumerate(value, start=1):
            yield from _settings(f"{key} {number}" if len(value) > 1 else key, point)
    elif isinstance(value, tuple) and not all(isinstance(item, str) for item in value):
        yield Setting(key, tuple(_quantity(key, item) for item in value))
    elif isinstance(value, tuple):
        yield Setting(key, ", ".join(value))
    elif value is True:
        yield Setting(key, "yes")
    elif key == "kerf side" and value in ("left", "right"):
        # Left and right are those of a line's own direction, which only its maker knows; the stencil shows the side.
        yield Setting(key, "at the ticks")
    elif isinstance(value, str):
        yield Setting(key, value)
    elif key in TIMES:
        yield Setting(key, show_minutes(Fraction(value)))
    else:
        yield Setting(key, _quantity(key, value))


def _quantity(key: str, value: Any) -> Quantity:
    if isinstance(value, Quantity):
        return value
    if isinstance(value, int):
        return Quantity(Fraction(value))
    number = value if isinstance(value, Fraction) else exact(float(value))
    if key in ANGLES:
        return Quantity(number, angle=1)
    return Quantity(number, length=2 if key in AREAS else 1)
