"""Which drill turns the bit: the one that the words name, else for hardware that in the hand, else the drill press."""

from planbook.takeoff.named import names, steps_naming
from planbook.workshop import Event, Timeline

DRILLS = ("drill press", "hand drill")


def pilot_holes(event: Event) -> bool:
    """Whether an event bores the holes of hardware: into what is put together, which no drill press takes."""
    return event.operation.kind == "fit hardware" and bool(dict(event.settings).get("diameter"))


def drills(event: Event, timeline: Timeline) -> tuple[str, ...]:
    """The drills of an event that bores: as the words of its step say, else as the notes on its tools do."""
    spoken = tuple(drill for drill in DRILLS if event.at.step in steps_naming(timeline, drill))
    used = {use.name for use in event.uses}
    notes = [tool.note for tool in timeline.design.tools.values() if tool.name in used]
    noted = tuple(drill for drill in DRILLS if any(names(note, drill) for note in notes))
    return spoken or noted or (DRILLS[1:] if pilot_holes(event) else DRILLS[:1])
