"""Small tools and supplies that the work cannot do without although no operation names them, and their steps."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from planbook.takeoff.boards import of_sheets
from planbook.takeoff.boring import pilot_holes
from planbook.takeoff.named import names, steps_naming
from planbook.takeoff.pressed import clamped_minutes
from planbook.workshop import Event, Timeline

PUSH_STICK, PUSH_BLOCK, SQUARE = "push stick", "push block", "try square"
IMPLIED: dict[str, tuple[str, ...]] = {
    "clamps": ("bore", "counterbore", "countersink", "cut plugs"),
    "glue brush or spreader": ("glue up", "glue", "shim", "plug"),
    "steel rule and pencil": (
        *("mill", "square", "rip", "crosscut", "trim", "line", "shim", "dado", "groove", "rabbet"),
        *("bore", "counterbore", "countersink", "cut plugs", "dowel holes", "fit hardware"),
    ),
    SQUARE: ("mill", "square", "crosscut", "mortise", "tenon", "dado", "groove", "rabbet"),
    "craft knife and scissors": ("stick", "line", "shim"),
    "centre punch or awl": ("bore", "counterbore", "countersink", "dowel holes", "fit hardware"),
    "brush or lint-free cloth": ("finish",),
    "mallet": ("plug", "mortise"),
    "screwdriver": ("fit hardware",),
    PUSH_BLOCK: ("mill",),
    PUSH_STICK: ("saw", "slice", "trim", "rip", "crosscut", "mitre", "bevel"),
}
"""The tools, and the operations that all need them (common practice); what else asks for one stands in `ASKED`."""
SPOKEN: dict[str, tuple[str, ...]] = {
    "clamps": ("clamp", "clamped", "clamping"),
    "steel rule and pencil": (
        *("steel rule", "pencil", "with a rule", "measure", "diagonal"),
        *(f"mark {what}" for what in ("which", "left", "the", "them", "their", "inside", "every", "each", "through")),
    ),
    "mallet": (),
    "damp cloth": (),
    "chisel": (),
    "caliper": (),
    "marking gauge": (),
    "hand drill": (),
    "hand plane": (),
    "coping saw": (),
    "spokeshave": (),
    "card scraper": ("scraper", "scrape the"),
    "file": (),
    "rasp": (),
    "spirit level": (),
    PUSH_BLOCK: (),
}
"""Tools that are needed wherever the words of a step, or the note on the tool it works with, name them; and by which
other words in English."""
SPOKEN_SUPPLIES: dict[str, tuple[str, ...]] = {
    "masking tape": (),
    "packing tape": (),
    "double-sided tape": (),
    "anti-slip tape": (),
    "waxed paper": (),
    "wax": (),
    "thin card": (),
    "batten": (),
    "scrap board": ("boards of scrap",),
    "scrap wood": ("block of wood", "blocks of wood", "scrap block", "scrap of wood", "in scrap"),
}
"""Supplies that are needed wherever the words of a step name them; and by which other words in English."""
CHANNELS = ("dado", "groove", "rabbet")


def implied(timeline: Timeline, sawn: Iterable[int] = ()) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Every such tool that is needed, with its steps in order; in steps of `sawn` boards are cut by their layouts."""
    for name in dict.fromkeys((*IMPLIED, *SPOKEN, *ASKED)):
        kinds, asked = IMPLIED.get(name, ()), ASKED.get(name, _never)
        needed = (e for e in timeline.events if (e.operation.kind in kinds and _tried(name, e)) or asked(e, timeline))
        steps = {event.at.step for event in needed} | set(sawn if name == PUSH_STICK else ())
        for word in (name, *SPOKEN[name]) if name in SPOKEN else ():
            steps |= set(_spoken(word, timeline))
        if steps:
            yield name, tuple(sorted(steps))


def implied_supplies(timeline: Timeline) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Every supply that the words name and no entry of the design does, with its steps in order."""
    listed = [each for supply in timeline.design.supplies.values() for each in (supply.name, supply.product) if each]
    for name, others in SPOKEN_SUPPLIES.items():
        spoken = {step for word in (name, *others) for step in steps_naming(timeline, word, listed)}
        steps = tuple(sorted(spoken))
        if steps and not any(each.endswith(name) and names(each, name) for each in listed):
            yield name, steps


def _tried(name: str, event: Event) -> bool:
    """Whether an operation needs a tool: nothing of a sheet is planed or made square that is only looked at."""
    return name not in (SQUARE, PUSH_BLOCK) or event.operation.kind != "mill" or not of_sheets(event)


def _never(_: Event, __: Timeline) -> bool:
    return False


def _held(event: Event, timeline: Timeline) -> bool:
    """Whether clamps press a joint, or hold the work while a router is led over it, not it over a router table."""
    if any(use.kind == "router" for use in event.uses):
        return not any(names(_note(use.name, timeline), "router table") for use in event.uses)
    return bool(clamped_minutes(event))


def _note(tool: str, timeline: Timeline) -> str:
    known = timeline.design.tools.get(tool)
    return known.note if known else ""


def _pared(event: Event, _: Timeline) -> bool:
    """Whether something is trimmed, or a corner squared, that no machine leaves so."""
    kind, settings = event.operation.kind, dict(event.settings)
    if kind == "mortise":
        return settings.get("ends") != "left round"
    if kind in CHANNELS:
        ends = event.operation.fields.table().get("ends")
        stopped = any(key.startswith("stop before") for key in settings)
        return stopped and not (ends and ends.value == "round")
    return kind == "shim"


def _piloted(event: Event, _: Timeline) -> bool:
    return pilot_holes(event)


def _stopped(event: Event, _: Timeline) -> bool:
    """Whether what a table saw cuts is led by a gauge or a sled, as long as its stop says."""
    return "stop" in dict(event.settings) and any(use.kind == "table saw" for use in event.uses)


def _squared_at_a_saw(event: Event, _: Timeline) -> bool:
    return event.operation.kind == "square" and any(use.kind.endswith(" saw") for use in event.uses)


ASKED: Mapping[str, Callable[[Event, Timeline], bool]] = {
    "clamps": _held,
    "chisel": _pared,
    "hand drill": _piloted,
    PUSH_STICK: _squared_at_a_saw,
    "mitre gauge or sled, with a stop block": _stopped,
}


def _spoken(name: str, timeline: Timeline) -> Iterable[int]:
    yield from steps_naming(timeline, name)
    noted = {tool.name for tool in timeline.design.tools.values() if names(tool.note, name)}
    yield from (event.at.step for event in timeline.events if any(use.name in noted for use in event.uses))
