"""Plain facts of an event that rules ask for: its tool, its settings, where it is written; it judges nothing."""

from collections.abc import Iterator
from typing import Any

from planbook.handbook import Blade, blades, least_radius_mm
from planbook.model import Tool
from planbook.review.lengths import length_of
from planbook.review.pointing import narrowed
from planbook.text import Place
from planbook.workshop import Event, Piece, Timeline

CUTS = ("saw", "slice", "trim", "rip", "crosscut", "mitre", "bevel")
"""Operations in which a saw goes through a piece."""
FENCED = ("slice", "rip")
"""Cuts that are fed along a fence."""
POWERED = ("band saw", "scroll saw", "table saw")
ON_THE_SPOT = 2.0
"""Blades up to this width (mm) turn on the spot (common practice of the scroll saw)."""
WIDTH_SLACK = 0.2
"""A blade of the handbook stands for one of the design when its width differs by less than this share."""


def events_of(timeline: Timeline, *kinds: str) -> Iterator[Event]:
    """The events of certain operations, in order."""
    return (event for event in timeline.events if event.operation.kind in kinds)


def setting(event: Event, key: str, otherwise: Any = None) -> Any:
    """One of the settings that the build recorded."""
    return dict(event.settings).get(key, otherwise)


def tool_of(event: Event, timeline: Timeline) -> Tool | None:
    """The first tool of the design that an event uses."""
    found = (timeline.design.tools.get(use.name) for use in event.uses)
    return next((tool for tool in found if tool is not None), None)


def place_of(event: Event, *fields: str) -> Place:
    """The place of the first of these fields that is written, else of the block."""
    table = event.operation.fields.table()
    return next((table[field].place for field in fields if field in table), event.at.place)


def place_of_name(event: Event, name: str, timeline: Timeline, *fields: str) -> Place:
    """The place of a name in the first of these fields that is written, else of that field."""
    return narrowed(place_of(event, *fields), name, timeline.design)


def blade_like(tool: Tool, timeline: Timeline) -> Blade | None:
    """The band of the handbook that is about as wide as the blade of a tool."""
    width = length_of(tool.width, timeline)
    if width is None:
        return None
    rows = [row for row in blades().values() if row.kind == tool.kind and row.width_mm]
    nearest = min(rows, key=lambda row: abs(float(row.width_mm or 0) - width), default=None)
    if nearest is None or abs(float(nearest.width_mm or 0) - width) > WIDTH_SLACK * width:
        return None
    return nearest


def body_of(tool: Tool, timeline: Timeline) -> float | None:
    """The thickness of a blade behind its teeth, mm: as the design says, else as the handbook does."""
    stated = length_of(tool.body, timeline)
    row = blade_like(tool, timeline) or _widest(tool, timeline)
    return stated if stated is not None else float(row.body_mm) if row else None


def _widest(tool: Tool, timeline: Timeline) -> Blade | None:
    """The widest band of the handbook, for a blade that is wider still and surely no thinner."""
    width = length_of(tool.width, timeline)
    rows = [row for row in blades().values() if row.kind == tool.kind and row.width_mm]
    widest = max(rows, key=lambda row: row.width_mm or 0, default=None)
    return widest if widest and width is not None and width > float(widest.width_mm or 0) else None


def least_radius(tool: Tool, timeline: Timeline) -> float | None:
    """The tightest curve (mm) that a band follows, of a scroll saw one too wide to turn; None where it is not known."""
    width, kerf, body = length_of(tool.width, timeline), length_of(tool.kerf, timeline), body_of(tool, timeline)
    turns = tool.kind not in ("band saw", "scroll saw") or (tool.kind == "scroll saw" and (width or 0) <= ON_THE_SPOT)
    if turns or width is None or kerf is None or body is None or kerf <= body:
        return None
    return least_radius_mm(width, kerf, body)


def turning_width(tool: Tool, timeline: Timeline) -> float | None:
    """The width (mm) of a blade that cannot turn on the spot: a band; the others are narrow, or saw straight."""
    width = length_of(tool.width, timeline)
    return width if tool.kind == "band saw" and width is not None and width > ON_THE_SPOT else None


def name_of_made(event: Event, region: str) -> str:
    """The name that a cut gives to one of its regions ("layer"), or nothing."""
    makes = event.operation.fields.table().get("makes")
    found = (name for name, node in (makes.table() if makes else {}).items() if node.value == region)
    return next(found, "")


def thrown_away(piece: Piece, event: Event, timeline: Timeline) -> bool:
    """Whether a part that a cut made is waste: it says so, or the part is thrown away as it is."""
    waste = set(setting(event, "waste", ()))
    makes = event.operation.fields.table().get("makes")
    patterns = {name for name in (makes.table() if makes else {}) if name in waste}
    fate = timeline.fates.get(piece.name)
    starred = any(piece.name == name.replace("*", taken.name) for name in patterns for taken in event.taken)
    return piece.name in waste or starred or (fate is not None and fate.ending == "discarded")
