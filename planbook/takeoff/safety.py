"""The cautions of each step, each in full where it first matters, and the page of general precautions."""

from collections.abc import Container, Iterator, Sequence
from itertools import chain

from planbook.handbook import Caution, cautions_for, general_precautions
from planbook.handbook.records import SIGNALS
from planbook.model import Step
from planbook.takeoff.boards import of_sheets
from planbook.takeoff.boring import DRILLS, drills
from planbook.takeoff.geometry import geometries
from planbook.takeoff.machines import SAW, to_size
from planbook.takeoff.named import names, steps_naming
from planbook.takeoff.records import CautionHere, Safety, StepSafety
from planbook.takeoff.sanding import sands, spoken_sanding
from planbook.takeoff.uses import SANDING, is_supply, is_tool, tool_kind
from planbook.workshop import Event, Timeline
from planbook.workshop.patterns import meant

DUSTY = (*SANDING, "mill", "square", "round over", "chamfer", "rabbet", "groove", "dado")
"""Operations that make dust even where the build records no wood lost."""
POWERED = ("round over", "chamfer", "sand flush")
"""Operations whose cautions are those of a machine; with abrasive in the hand those of sanding hold."""
WALL = "wall fixings"
"""What the caution is about that belongs to hardware for a wall."""

BY_HAND = ("rabbet", "groove", "dado", "tenon")
"""Operations whose cautions are those of a cutter or a circular blade; with a hand saw alone those of that hold."""


def safety(timeline: Timeline, whole: Container[str] = ()) -> Safety:
    """Every caution of the build; a step without any has no entry. `whole` are the woods that no cut layout saws."""
    first: dict[str, int] = {}
    rows = []
    sanded, drilled = spoken_sanding(timeline), steps_naming(timeline, DRILLS[1])
    for step in timeline.design.steps:
        events = [event for event in timeline.events if event.at.step == step.number]
        by_hand = _spoken(timeline, events, step, step.number in sanded, step.number in drilled)
        found = _cautions(timeline, events, by_hand, whole)
        for caution in found:
            first.setdefault(caution.key, step.number)
        here = tuple(CautionHere(c, first[c.key], first[c.key] < step.number) for c in found)
        if here:
            rows.append(StepSafety(step.number, step.title, here))
    return Safety(general_precautions(), tuple(rows))


def _cautions(
    timeline: Timeline, events: Sequence[Event], by_hand: Sequence[Caution], whole: Container[str]
) -> tuple[Caution, ...]:
    """The cautions of all operations of a step, and of what its words alone ask for; each once, the gravest first."""
    every = [*chain.from_iterable(_cautions_of(timeline, event) for event in events), *by_hand]
    book = timeline.design.handbook
    # Boards are sawn as their layouts show, and glue is wet wherever it is used.
    cut_up = any(SAW in to_size(event, whole) for event in events)
    glued = any(use.kind == "glue" for event in events for use in event.uses)
    every += cautions_for(geometries=("cut layout",) if cut_up else (), operation="glue" if glued else "", book=book)
    found = {caution.key: caution for caution in every}
    return tuple(sorted(found.values(), key=lambda caution: SIGNALS.index(caution.signal)))


def _spoken(
    timeline: Timeline, events: Sequence[Event], step: Step, sanded: bool, drilled: bool
) -> tuple[Caution, ...]:
    """The cautions of sanding that no operation does, with the dust of the pieces that the words name, or else of all
    that the step works on, and of a hand drill that words take up.
    """
    sanded = sanded and not any(sands(event, timeline) for event in events)
    pieces = {piece.name: piece for event in events for piece in (event.taken or event.made)}
    words = " ".join(prose.text for prose in step.prose)
    named = [piece for name, piece in pieces.items() if f"{{{name}" in words]
    woods = {member.wood for piece in named or pieces.values() for member in piece.members}
    return cautions_for(
        operation="sand face" if sanded else "",
        tools=[DRILLS[1]] if drilled else (),
        woods=woods if sanded else (),
        book=timeline.design.handbook,
    )


def _cautions_of(timeline: Timeline, event: Event) -> tuple[Caution, ...]:
    tools = {tool_kind(use, timeline) for use in event.uses if is_tool(use, timeline)}
    products = {name for use in event.uses if is_supply(use, timeline) for name in _products(use.name, timeline)}
    pieces = (event.taken or event.made) if event.lost or event.operation.kind in DUSTY else ()
    return cautions_for(
        operation="" if event.operation.kind == "wait" and not _glued(event, timeline) else _operation(event, tools),
        tools=[name for kind in tools for name in (drills(event, timeline) if kind == "drill" else (kind,))],
        supplies=products,
        woods={member.wood for piece in pieces for member in piece.members},
        geometries=geometries(event, tools),
        book=timeline.design.handbook,
    )


def _operation(event: Event, tools: set[str]) -> str:
    """The operation whose cautions hold.

    Nobody planes a sheet or forces one piece alone together, no router turns in the hand that sands, and what a sled
    leads is not ripped.
    """
    kind = event.operation.kind
    if kind == "mill" and of_sheets(event):
        return ""
    if kind == "assemble" and len(event.taken) < 2:
        return ""
    if kind in BY_HAND and tools == {"hand saw"}:
        return ""
    if kind == "rip" and "stop" in dict(event.settings):
        return "crosscut"
    return "sand face" if kind in POWERED and tools == {"hand sanding"} else kind


def _glued(event: Event, timeline: Timeline) -> bool:
    """Whether a wait is for glue, not for a finish: what the pieces that it names, or all, were last wetted with."""
    named = meant(event.operation.fields.table().get("dry"), event.bench)
    last: dict[str, bool] = {}
    for before in reversed(timeline.events[: timeline.events.index(event)]):
        if kinds := {use.kind for use in before.uses} & {"glue", "finish"}:
            last = dict.fromkeys((piece.name for piece in before.made), "glue" in kinds) | last
    return any(last.get(name, False) for name in named or last)


def _products(name: str, timeline: Timeline) -> Iterator[str]:
    """What a supply is known by; whatever holds to a wall goes in where cables and pipes run."""
    supply = timeline.design.supplies.get(name)
    yield (supply.product if supply else "") or name
    if supply and supply.kind == "hardware" and any(names(t, "wall") for t in (name, supply.product, supply.note)):
        yield WALL
