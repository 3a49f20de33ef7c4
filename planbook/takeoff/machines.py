"""The machines that blades and bits run on, and what boards are brought to size with, which no design lists."""

from collections.abc import Container, Iterable, Iterator, Mapping

from planbook.speech import say
from planbook.takeoff.boards import of_sheets
from planbook.takeoff.boring import drills
from planbook.takeoff.named import names
from planbook.takeoff.uses import is_tool, tool_kind
from planbook.workshop import Event, Timeline, Use

PLANER, SAW = "planer and jointer, or hand plane", "saw for the cut layouts"
MACHINES = ("table saw", "band saw", "scroll saw", "router")
"""Kinds of tools that are the machine itself: a design names its blades and bits."""
SANDERS: Mapping[str, str] = {"disc": "disc sander", "drum": "drum sander"}
"""Sanders by the word that asks for one; what is called "disc and drum" needs both."""


def machines(
    timeline: Timeline, spoken: Mapping[str, Iterable[int]], whole: Container[str] = ()
) -> Iterator[tuple[str, tuple[int, ...]]]:
    """Every machine with its steps in order, by first use; none for a tool whose own name says which it is.

    `spoken` are the steps whose words name a tool, by its name: then it runs there too. A drill may run on another.
    `whole` are the woods that no cut layout saws: they are bought as large as they are.
    """
    steps: dict[str, set[int]] = {}
    for event in timeline.events:
        for name in to_size(event, whole):
            steps.setdefault(name, set()).add(event.at.step)
        for use in event.uses:
            said = () if tool_kind(use, timeline) == "drill" else spoken.get(use.name, ())
            for name in _turning(use, event, timeline):
                steps.setdefault(name, set()).update((event.at.step, *said))
    return ((name, tuple(sorted(found))) for name, found in steps.items())


def to_size(event: Event, whole: Container[str]) -> Iterator[str]:
    """What boards are milled with; sheets come as thick as they are, and are only sawn. `whole` as in `machines`."""
    kind = event.operation.kind
    if kind == "mill":
        woods = {member.wood for piece in event.made for member in piece.members}
        if not of_sheets(event):
            yield PLANER
        if any(wood not in whole for wood in woods):
            yield SAW
    elif kind == "square" and not event.uses:
        yield PLANER


def _turning(use: Use, event: Event, timeline: Timeline) -> Iterator[str]:
    """The machines that a tool runs on."""
    if not is_tool(use, timeline):
        return
    kind = tool_kind(use, timeline)
    if kind == "drill":
        kinds = drills(event, timeline)
    elif kind in SANDERS.values():
        kinds = sanders_called(use.name) or (kind,)
    else:
        kinds = (kind,) if kind in MACHINES else ()
    yield from (each for each in kinds if not _is(use.name, each))


def sanders_called(tool: str) -> tuple[str, ...]:
    """The sanders that the name of a tool asks for."""
    return tuple(each for word, each in SANDERS.items() if names(tool, word))


def _is(name: str, machine: str) -> bool:
    """Whether a tool is called the machine itself, such as "trimming router"; a "scroll saw blade" is not."""
    words = name.casefold()
    return any(words.endswith(each.casefold()) for each in (machine, say(machine)))
