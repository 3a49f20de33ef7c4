"""The tools that a build uses with their settings, and how they are set for each cut."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import replace
from typing import Any

from planbook.takeoff.clamps import clamp_settings, steps_reaching
from planbook.takeoff.implied import implied
from planbook.takeoff.machines import SAW, machines
from planbook.takeoff.named import steps_naming_tool
from planbook.takeoff.records import CutRow, Safety, Setting, ToolRow
from planbook.takeoff.safety import safety
from planbook.takeoff.schedule.records import Wait
from planbook.takeoff.settings import RADIUS, SIDES, settings_of, settings_of_tool
from planbook.takeoff.uses import STICKING, is_tool, tool_kind, tools_used
from planbook.takeoff.worn import worn
from planbook.workshop import Event, Timeline, Use
from planbook.workshop.patterns import ANY

FENCE, CLAMPS, ROUTER, DRILL = "fence", "clamps", "router", "drill"
SMALL_CLAMPS, REACH_IN = "small clamps", "they reach in through an opening"
MORE = {ROUTER: (RADIUS,), DRILL: ("depth of cut",)}
"""What else of its settings a tool is chosen by."""
STENCIL = "stencil"
CUT_OUT = (*SIDES, "grain", "hardware", "count")
"""What is told of something that is cut out, or put on, by hand; of a stencil that is stuck on, its name."""


def tools(
    timeline: Timeline, whole: Container[str] = (), told: Safety | None = None, waits: Sequence[Wait] = ()
) -> tuple[ToolRow, ...]:
    """The machines; the tools used, in order of first use; those that words alone name; the small ones that the work
    implies; and what is worn. `whole` are the woods that no cut layout saws, `told` the cautions where they are known,
    `waits` what rests at which time.
    """
    used = tools_used(timeline)
    every = tuple(dict.fromkeys((*(tool.name for tool in used), *timeline.design.tools)))
    rows = [
        _row(
            timeline,
            waits,
            name=tool.name,
            kind=tool_kind(Use(tool.name, tool.kind), timeline),
            steps=tuple(sorted({*tool.steps, *steps_naming_tool(timeline, tool.name, every)})),
        )
        for tool in used
    ]
    for tool in timeline.design.tools.values():
        spoken = steps_naming_tool(timeline, tool.name, every)
        if spoken and tool.name not in {row.name for row in rows}:
            rows.append(_row(timeline, waits, tool.name, tool.kind, spoken))
    rows += _small_clamps(timeline, waits)
    running = dict(machines(timeline, {row.name: row.steps for row in rows}, whole))
    sawn = running.get(SAW, ())
    rows = [_also(row, running.pop(row.name, ())) for row in rows]
    rows = [*(ToolRow(name, name, (), steps, "", implied=True) for name, steps in running.items()), *rows]
    for name, steps in implied(timeline, sawn):
        known = _known(name, rows)
        if not known:
            rows.append(ToolRow(name, "hand tool", (), steps, "", implied=True))
        elif len(known) == 1:
            rows[known[0]] = _also(rows[known[0]], steps)
    return (*rows, *worn(told or safety(timeline, whole), rows))


def _small_clamps(timeline: Timeline, waits: Sequence[Wait]) -> tuple[ToolRow, ...]:
    settings, steps = clamp_settings(timeline, waits, reaching=True), steps_reaching(timeline)
    return (ToolRow(SMALL_CLAMPS, CLAMPS, settings, steps, REACH_IN, implied=True),) if steps else ()


def _known(name: str, rows: Sequence[ToolRow]) -> list[int]:
    """The numbers of the rows that are called so, such as a machine; else of those that are of that kind."""
    called = [n for n, row in enumerate(rows) if row.name == name]
    return called or [n for n, row in enumerate(rows) if row.kind == name]


def _also(row: ToolRow, steps: tuple[int, ...]) -> ToolRow:
    """A row for these steps as well."""
    return replace(row, steps=tuple(sorted({*row.steps, *steps})))


def cuts(timeline: Timeline) -> tuple[CutRow, ...]:
    """How the tools were set for each operation that used a tool and recorded settings, in order.

    What is cut out with no tool of the design, such as a strip that is to be glued in, has a row for its size; what is
    only stuck on in a step has one for its stencil.
    """
    rows = [_cut(event, timeline) for event in timeline.events]
    worked = {(row.step, setting) for row in rows if row.tools for setting in row.settings}
    return tuple(
        row for row in rows if row.settings and not (_only_stuck(row) and (row.step, row.settings[0]) in worked)
    )


def _only_stuck(row: CutRow) -> bool:
    return not row.tools and [setting.key for setting in row.settings] == [STENCIL]


def _row(timeline: Timeline, waits: Sequence[Wait], name: str, kind: str, steps: tuple[int, ...]) -> ToolRow:
    tool = timeline.design.tools.get(name)
    fixed = settings_of_tool(tool, timeline) if tool else ()
    if any(use.name == name and use.kind == CLAMPS for event in timeline.events for use in event.uses):
        fixed = (*fixed, *clamp_settings(timeline, waits))
    return ToolRow(
        name, kind, (*fixed, *_chosen(timeline, name, kind)), steps, tool.note if tool else "", implied=tool is None
    )


def _chosen(timeline: Timeline, name: str, kind: str) -> tuple[Setting, ...]:
    """Each once: every distance at which the fence of a tool is set, every radius that a bit is bought by, and how far
    a long drill has to reach."""
    wanted = (FENCE, *MORE.get(kind, ()))
    found: dict[Setting, None] = {}
    for event in timeline.events:
        if any(use.name == name for use in event.uses):
            found.update((s, None) for s in settings_of(event.settings) if s.key in wanted)
    return tuple(found)


def _cut(event: Event, timeline: Timeline) -> CutRow:
    used = [use.name for use in event.uses if is_tool(use, timeline) and use.kind != CLAMPS]
    settings = settings_of(_pairs(event))
    return CutRow(
        step=event.at.step,
        number=event.at.number,
        operation=event.operation.kind,
        pieces=tuple(dict.fromkeys(piece.name for piece in event.taken)),
        tools=tuple(dict.fromkeys(used)),
        settings=settings if used else tuple(s for s in settings if s.key in _by_hand(event)),
    )


def _by_hand(event: Event) -> tuple[str, ...]:
    return (*CUT_OUT, STENCIL) if event.operation.kind == STICKING else CUT_OUT


def _pairs(event: Event) -> tuple[tuple[str, Any], ...]:
    """The settings of an event; where a stencil shows the points, they are not repeated as numbers."""
    on_paper = any(key == "stencil" and value for key, value in event.settings)
    origin = dict(event.settings).get("measured from")
    if origin and dict(event.settings).get("at") == ((0.0, 0.0),):
        # Nobody measures nothing: the one hole is where others would be measured from.
        return tuple((key, origin if key == "at" else value) for key, value in _left(event, {"measured from"}))
    if any(key in ("fence", "stop") for key, _ in event.settings) and origin:
        # From which end is measured says all: what comes off is at the other.
        return tuple(_left(event, {"face"}))
    return tuple(_left(event, {"at"} if on_paper else ()))


def _left(event: Event, out: Container[str]) -> Iterator[tuple[str, Any]]:
    return ((key, _named(value, event)) for key, value in event.settings if key not in out)


def _named(value: Any, event: Event) -> Any:
    """Names with a `*` for each piece that was worked, such as the waste of several."""
    if not isinstance(value, tuple) or not any(isinstance(item, str) and ANY in item for item in value):
        return value
    return tuple(dict.fromkeys(item.replace(ANY, piece.name) for piece in event.taken for item in value))
