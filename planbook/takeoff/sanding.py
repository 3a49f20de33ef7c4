"""The steps that sand with a grit: whatever sands or is said to, unless the note on a tool tells other grits."""

import re

from planbook.handbook import Handbook
from planbook.model import Supply, Tool
from planbook.speech import say
from planbook.takeoff.named import steps_naming, steps_naming_tool
from planbook.takeoff.uses import SANDING, is_tool, tool_kind
from planbook.workshop import Event, Timeline

BY_HAND = "hand sanding"
"""The kind of a tool that is abrasive in the hand, whatever is done with it."""
SANDERS = (BY_HAND, "disc sander", "drum sander", "belt sander")
"""Kinds of tools that sand wherever words name them."""
SPOKEN = ("abrasive", "sand the", "sand both", "sand all", "sand it", "sand them")
"""Words of a step that ask for abrasive although no operation sands; the others in English."""
_NUMBER = re.compile(r"(?<![\w.])P?(\d{2,4})(?![\w.])")


def sanded_with(supply: Supply, timeline: Timeline) -> tuple[int, ...]:
    """The steps that sand with an abrasive of the design, and those whose words name it, a sander, or sanding.

    A tool sands with the grits that its note names, and with any where it names none. A grit that nothing asks for
    is one for all that is sanded.
    """
    events = [event for event in timeline.events if sands(event, timeline)]
    grit = _grit(supply, timeline.design.handbook)
    fitting = [event for event in events if not (told := _grits(event, timeline)) or grit in told]
    steps = {event.at.step for event in fitting} | set(steps_naming(timeline, supply.name))
    if steps:
        steps |= _spoken(timeline, {event.at.step for event in events}, grit)
    return tuple(sorted(steps or {event.at.step for event in events})) if events else ()


def _spoken(timeline: Timeline, sanding: set[int], grit: int) -> set[int]:
    """The steps beside those of `sanding` whose words name a sander that has the grit, or none and yet sanding."""
    sanders = [tool for tool in timeline.design.tools.values() if tool.kind in SANDERS]
    named = {tool.name: set(steps_naming_tool(timeline, tool.name)) - sanding for tool in sanders}
    fitting = {step for tool in sanders if grit in (_noted(tool) or {grit}) for step in named[tool.name]}
    said = _said(timeline) - sanding
    return fitting | said.difference(*named.values())


def spoken_sanding(timeline: Timeline) -> set[int]:
    """The steps whose words ask for sanding or name what sands."""
    sanders = [tool.name for tool in timeline.design.tools.values() if tool.kind in SANDERS]
    return _said(timeline) | {step for name in sanders for step in steps_naming_tool(timeline, name)}


def _said(timeline: Timeline) -> set[int]:
    return {step for words in SPOKEN for step in steps_naming(timeline, words)}


def sands(event: Event, timeline: Timeline) -> bool:
    """Whether an operation sands by what it is, or by what it is done with."""
    by_hand = any(is_tool(use, timeline) and tool_kind(use, timeline) == BY_HAND for use in event.uses)
    return by_hand or event.operation.kind in SANDING


def _grit(supply: Supply, book: Handbook) -> int:
    """The grit of an abrasive; 0 where the handbook does not know it."""
    row = book.abrasive(supply.product or supply.name)
    return row.grit if row else 0


def _grits(event: Event, timeline: Timeline) -> set[int]:
    """The grits that the notes on the tools of an event name; none where one of them names none."""
    tools = timeline.design.tools
    found = [_noted(tools[use.name]) for use in event.uses if use.name in tools]
    return set().union(*found) if all(found) else set()


def _noted(tool: Tool) -> set[int]:
    note = tool.note.casefold()
    about = any(word.casefold() in note for word in ("grit", say("grit")))
    return {int(number) for number in _NUMBER.findall(tool.note)} if about else set()
