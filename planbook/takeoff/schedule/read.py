"""The tasks of a build: what each operation must wait for, read off the timeline."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from planbook.model import Node
from planbook.takeoff.schedule.graph import Link, Task
from planbook.takeoff.schedule.records import Waits
from planbook.units import UnitProblem, parse_formula
from planbook.workshop import Event, Piece, Timeline
from planbook.workshop.fields import specs
from planbook.workshop.registry import operations

EARLY = 0.01
"""Minutes by which a piece may be taken before it is dry and count as dry (rounding of the clock)."""
_MEASURE = re.compile(r"\b(?:width|depth|height)\s+of\b")


@dataclass(frozen=True, slots=True)
class Job:
    """One task of a build and the event it belongs to; a finish has one task for every coat."""

    task: Task
    event: Event
    kind: Waits

    @property
    def step(self) -> int:
        """The number of the step."""
        return self.event.at.step


@dataclass(slots=True)
class _Held:
    """What is known of a piece: the tasks it waits for (with their lags), its wetness, and who only looked at it."""

    links: tuple[Link, ...] = ()
    wet: float = 0.0
    cure: Link | None = None
    readers: list[int] = field(default_factory=list)


def jobs_of(timeline: Timeline, count: int = 1) -> tuple[Job, ...]:
    """The tasks of a build in its order, for `count` objects made together: each set-up once, waits shared.

    A task waits for those that made or last changed the pieces it takes or measures, and before a piece is
    changed, for those that only looked at it. It waits for the clamps of a joint; and where it was begun in the
    build only when the piece was dry, or another that stands in the work with it, for that too. Slices of one step
    with one setting are one pass of the saw. A stated wait holds up everything worked on in its step.
    """
    bench: dict[str, _Held] = {}
    jobs: list[Job] = []
    touched: tuple[int, tuple[str, ...]] = (0, ())
    for event in timeline.events:
        names = tuple(dict.fromkeys((*(p.name for p in event.taken), *_looked_at(event))))
        if not event.made and not event.hands_on and event.operation.kind == "wait":
            _rest(bench, touched[1], event)
            continue
        first = len(jobs)
        links = _links(event, names, bench)
        if jobs and _one_cut(jobs[-1].event, event):
            links[first - 1] = max(0, links.get(first - 1, 0))
        jobs += _jobs(event, count, tuple(Link(*link) for link in sorted(links.items())), first)
        _changed(event, names, bench, len(jobs) - 1)
        before = touched[1] if touched[0] == event.at.step else ()
        touched = (event.at.step, (*before, *(p.name for p in event.made)))
    return _with_tails(jobs, bench, timeline.object)


def minutes(value: float) -> int:
    """A time in whole minutes; halves go up, so that two equal ones do not differ."""
    return int(value + 0.5)


def _jobs(event: Event, count: int, links: tuple[Link, ...], first: int) -> Iterator[Job]:
    """The tasks of one event: one, or one for every coat of a finish."""
    settings = dict(event.settings)
    coats, between = int(settings.get("coats") or 1), float(settings.get("between coats") or 0)
    each = (event.hands_on - event.set_up) * count / coats
    kind = _kind(event)
    whole = minutes(event.set_up + each * coats)
    worked = 0
    for coat in range(coats):
        end = whole if coat == coats - 1 else minutes(event.set_up + each * (coat + 1))
        yield Job(Task(end - worked, links), event, kind)
        links, worked = (Link(first + coat, minutes(between)),), end


def _kind(event: Event) -> Waits:
    kinds = {use.kind for use in event.uses}
    return "dry" if "finish" in kinds else "cure" if "glue" in kinds else "rest"


def _one_cut(before: Event, event: Event) -> bool:
    """Whether two operations of a step are one pass of the saw through pieces that are held together."""
    alike = ("face", "fence", "kerf")
    one, two = ({key: value for key, value in each.settings if key in alike} for each in (before, event))
    return before.at.step == event.at.step and before.operation.kind == event.operation.kind == "slice" and one == two


def _links(event: Event, names: Sequence[str], bench: dict[str, _Held]) -> dict[int, int]:
    """What an event waits for: the numbers of tasks, and how long after each."""
    found: dict[int, int] = {}
    taken = {piece.name for piece in event.taken}
    for name in names:
        held = bench.get(name)
        if held is None:
            continue
        cure = (held.cure,) if held.cure and event.start + EARLY >= held.wet else ()
        readers = tuple(Link(k) for k in held.readers) if name in taken else ()
        for link in (*held.links, *cure, *readers):
            found[link.before] = max(link.lag, found.get(link.before, 0))
    for held in (bench[name] for name in event.beside if name in bench):
        if held.cure and event.start + EARLY >= held.wet:
            found[held.cure.before] = max(held.cure.lag, found.get(held.cure.before, 0))
    return found


def _changed(event: Event, names: Sequence[str], bench: dict[str, _Held], number: int) -> None:
    """What is known of the pieces after the event, whose last task has this number."""
    coated = dict(event.settings).get("between coats")
    clamp = 0 if coated else minutes(event.wait)
    end = event.start + event.hands_on + (event.wait if coated else 0.0)
    before = {name: bench[name] for name in names if name in bench}
    for name in names:
        bench.setdefault(name, _Held()).readers.append(number)
    for piece in event.taken:
        bench.pop(piece.name, None)
    for piece in event.made:
        bench[piece.name] = _made(piece, before, Link(number, clamp), end)


def _made(piece: Piece, before: dict[str, _Held], link: Link, end: float) -> _Held:
    """A piece as it was made; one that was wet before and got no new glue or finish still waits for the old."""
    sources = (before[name] for name in (piece.name, *piece.sources) if name in before)
    old = next((held for held in sources if held.cure and held.wet == piece.wet), None)
    if old is not None:
        return _Held((link,), old.wet, old.cure)
    if piece.wet <= end + EARLY:
        return _Held((link,))
    return _Held((link,), piece.wet, Link(link.before, max(link.lag, minutes(piece.wet - end))))


def _rest(bench: dict[str, _Held], names: Sequence[str], event: Event) -> None:
    """A wait for dry pieces says nothing new; a stated time is added to what was worked on in the step."""
    if "time" not in event.operation.fields.table():
        return
    for name in names:
        held = bench.get(name)
        if held is not None:
            held.links = tuple(Link(k.before, k.lag + minutes(event.wait)) for k in held.links)


def _with_tails(jobs: Sequence[Job], bench: dict[str, _Held], parts: Sequence[Piece]) -> tuple[Job, ...]:
    """The tasks with what must still dry or be clamped of the finished object."""
    tails: dict[int, int] = {}
    for held in (bench[piece.name] for piece in parts if piece.name in bench):
        for link in (*held.links, *((held.cure,) if held.cure else ())):
            tails[link.before] = max(link.lag, tails.get(link.before, 0))
    return tuple(
        Job(Task(job.task.work, job.task.after, tails.get(i, 0)), job.event, job.kind) for i, job in enumerate(jobs)
    )


def _looked_at(event: Event) -> Iterator[str]:
    """The names of pieces in the fields of an operation, and of those that its formulas measure."""
    table = event.operation.fields.table()
    for key in _piece_fields(event.operation.kind):
        if key in table:
            yield from _texts(table[key])
    for text in _texts(event.operation.fields):
        if _MEASURE.search(text):
            yield from _measured(text)


def _piece_fields(kind: str) -> tuple[str, ...]:
    """The fields of an operation that name pieces, also those that it only looks at."""
    found = operations().get(kind)
    return ("pieces", *(s.name for s in specs(found) if s.what in ("piece", "piece names"))) if found else ()


def _measured(text: str) -> tuple[str, ...]:
    try:
        return tuple(measure.piece for measure in parse_formula(text).measures)
    except UnitProblem:
        return ()


def _texts(node: Node) -> Iterator[str]:
    if isinstance(node.value, str):
        yield node.value
    elif isinstance(node.value, tuple):
        for item in node.value:
            yield from _texts(item)
    for item in node.table().values():
        yield from _texts(item)
