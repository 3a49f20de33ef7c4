"""Which of the listed tools and supplies no step uses or speaks of."""

import re
from collections.abc import Iterator, Mapping
from typing import TypeVar

from planbook.model import Supply, Tool
from planbook.model.sizes import folded
from planbook.reader.markdown import without_comments
from planbook.review.written import named_anywhere
from planbook.workshop import Timeline

Listed = TypeVar("Listed", Tool, Supply)
SANDING = ("sand to line", "sand face", "sand flush", "round over")
TAKEN = ("glue", "finish", "lining")
"""Supplies that operations take by name; other kinds are used where the prose speaks of them."""


def idle(table: Mapping[str, Listed], what: str, timeline: Timeline) -> Iterator[Listed]:
    """The entries of a table that no operation uses and no sentence names."""
    fields = named_anywhere(timeline, what)
    used = {use.name for event in timeline.events for use in event.uses}
    named = {folded(m.name) for step in timeline.design.steps for p in step.prose for m in p.mentions}
    for each in table.values():
        if each.name in fields or each.name in used or folded(each.name) in named:
            continue
        if not _used_without_name(each, timeline):
            yield each


def _used_without_name(each: Tool | Supply, timeline: Timeline) -> bool:
    """Clamps where something is glued, abrasives where something is sanded, the rest where prose has the word."""
    if each.kind == "clamps":
        return any("glue" in operation.fields.table() for operation in timeline.design.operations)
    if each.kind == "abrasive":
        return not _kinds(timeline).isdisjoint(SANDING) or _spoken(each.name, timeline)
    return (isinstance(each, Tool) or each.kind not in TAKEN) and _spoken(each.name, timeline)


def _kinds(timeline: Timeline) -> set[str]:
    """The operations of the design, and those that a mistyped one may stand for."""
    written = {operation.kind for operation in timeline.design.operations}
    return written.union(*(trouble.facts["near"] for trouble in timeline.troubles_of("unknown-operation")))


def _spoken(name: str, timeline: Timeline) -> bool:
    word = re.compile(rf"(?<!\w){re.escape(name)}s?(?!\w)", re.IGNORECASE)
    return any(word.search(without_comments(prose.text)) for step in timeline.design.steps for prose in step.prose)
