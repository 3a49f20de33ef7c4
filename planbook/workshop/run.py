"""Runs the steps of a design in order and leaves a timeline; knows no operation by name."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from planbook.model import Design, Node, Operation
from planbook.model.sizes import evaluate_sizes
from planbook.solids import Outline
from planbook.units import Quantity, near
from planbook.workshop.copies import carried_out
from planbook.workshop.ending import fates_of, object_of
from planbook.workshop.fitting import measure_fits
from planbook.workshop.memory import Memory, watched
from planbook.workshop.one_go import goes_on
from planbook.workshop.patterns import matching, meant
from planbook.workshop.registry import operations
from planbook.workshop.shapes import draw_shapes
from planbook.workshop.shop import Gone, Joining, Outcome, Shop, Work
from planbook.workshop.snags import Snag
from planbook.workshop.standing import parts_after, shut_in_after, standing_in, with_parts, with_shut_in
from planbook.workshop.timeline import At, Event, Piece, Timeline, Trouble
from planbook.workshop.varying import NOMINAL, Variation

CONSERVED = 1e-6
"""Pieces in = pieces out + kerf + dust + holes, to this share of the volume."""


@dataclass
class _Run:
    """What changes while the steps are carried out."""

    design: Design
    sizes: Mapping[str, Quantity]
    shapes: Mapping[str, Outline]
    planned: dict[str, At]
    bench: dict[str, Piece] = field(default_factory=dict)
    pieces: dict[str, Piece] = field(default_factory=dict)
    gone: dict[str, Gone] = field(default_factory=dict)
    joined: dict[str, Joining] = field(default_factory=dict)
    unknown: set[str] = field(default_factory=set)
    stuck_ever: dict[str, At] = field(default_factory=dict)
    kept: dict[str, At] = field(default_factory=dict)
    parts: dict[str, At] = field(default_factory=dict)
    shut_in: dict[str, str] = field(default_factory=dict)
    """In which piece each of those lies that cannot come out of it."""
    events: list[Event] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    clock: float = 0.0
    clamped: float = 0.0
    """Until when clamps of the operation before stay on, where this one is glued in one go with it."""
    varied: Variation = NOMINAL
    memory: Memory | None = None
    nominal: bool = True

    def shop(self, at: At) -> Shop:
        return Shop(
            self.design,
            self.sizes,
            self.shapes,
            dict(self.bench),
            self.gone,
            frozenset(self.unknown),
            self.planned,
            self.stuck_ever,
            self.clock,
            at,
            frozenset(self.parts),
            kerfs=self.varied.kerfs,
            allowances=self.varied.allowances,
            timed=self.nominal,
            joined=self.joined,
            shown=self.nominal,
        )


@dataclass(frozen=True, eq=False)
class Finished:
    """A build that is done, and the shop as it was left: fits can be measured in it again."""

    timeline: Timeline
    shop: Shop


def build(design: Design, sizes: Mapping[str, Quantity] | None = None) -> Timeline:
    """Carry out every step of a design. Never raises for what a maker can write: troubles are in the timeline."""
    return finish(design, sizes).timeline


def finish(
    design: Design,
    sizes: Mapping[str, Quantity] | None = None,
    varied: Variation = NOMINAL,
    memory: Memory | None = None,
) -> Finished:
    """Carry out every step of a design, with the kerfs and allowances of a variation.

    With a `memory`, what an earlier build of the same design has done is not done again, and the clock is that of
    the first of them: a wider kerf changes a step by seconds, and nothing that is measured hangs on it.
    """
    values = {k.lower(): v for k, v in (sizes or evaluate_sizes(design)[0]).items()}
    start = Shop(design, values, {}, {}, {}, frozenset(), {}, {}, 0.0, _nowhere(design))
    shapes, troubles = _shapes(design, start, memory)
    run = _Run(design, values, shapes, _planned(design), troubles=list(troubles), varied=varied, memory=memory)
    run.nominal = memory is None or not memory.starts
    for number, operation in enumerate(design.operations):
        _go_on(run, operation)
        if memory is not None and run.nominal:
            memory.starts.append(run.clock)
        elif memory is not None:
            run.clock = memory.starts[number]
        _carry_out(run, operation)
    pieces = object_of(run.bench, run.parts, run.kept)
    shop = run.shop(_nowhere(design))
    fits, misfits = measure_fits(shop, memory, pointed=run.nominal)
    timeline = Timeline(
        design,
        values,
        shapes,
        tuple(run.events),
        (*run.troubles, *misfits),
        fates_of(run.pieces, run.bench, run.gone, run.parts, run.kept, pieces),
        dict(run.pieces),
        pieces,
        fits,
    )
    return Finished(timeline, shop)


def _shapes(design: Design, shop: Shop, memory: Memory | None) -> tuple[dict[str, Outline], tuple[Trouble, ...]]:
    """The shapes of the design, from memory where they have been drawn with the same sizes."""
    if memory is None:
        return draw_shapes(design, shop.compute)
    drawn: tuple[dict[str, Outline], tuple[Trouble, ...]] | None = memory.recall("shapes", shop)
    if drawn is None:
        asking, log = watched(shop)
        drawn = draw_shapes(design, asking.compute)
        memory.keep("shapes", log, shop, drawn)
    return drawn


def _nowhere(design: Design) -> At:
    return At(len(design.steps), 0, design.card.place)


def _planned(design: Design) -> dict[str, At]:
    """Where each piece is said to be made, first mention first."""
    found: dict[str, At] = {}
    for operation in design.operations:
        for name, node in _names_made(operation, (*found, *design.stock)):
            found.setdefault(name, At(operation.step, operation.number, node.named_at))
    return found


def _names_made(operation: Operation, names: Collection[str]) -> list[tuple[str, Node]]:
    """What a block makes, by name; `names` are the pieces (or boards) that its patterns may mean."""
    table = operation.fields.table()
    found: list[tuple[str, Node]] = []
    for key in ("makes", "offcut", "rest"):
        node = table.get(key)
        if node is None:
            continue
        each = node.value if isinstance(node.value, tuple) else (node,)
        made = list(node.table().items()) or [(str(item.value), item) for item in each]
        for name, where in made:
            found.extend((full, where) for full in _spelled(name, table, names))
    if operation.kind == "mill" and "boards" in table:
        boards = table["boards"].value
        listed = boards if isinstance(boards, tuple) else (table["boards"],)
        found.extend((name, n) for n in listed for name in matching(str(n.value), names) or (str(n.value),))
    return found


def _spelled(name: str, table: Mapping[str, Node], names: Collection[str]) -> list[str]:
    """A name with `*` stands for one name per piece of the block, and the partner of a mirrored one."""
    if "*" not in name:
        return [name]
    each = meant(table.get("pieces") or table.get("piece"), names)
    return [name.replace("*", piece) for piece in (*each, *_partner(table))]


def _partner(table: Mapping[str, Node]) -> tuple[str, ...]:
    node = table["mirror"].table().get("piece") if "mirror" in table else None
    return (str(node.value),) if node else ()


def _go_on(run: _Run, operation: Operation) -> None:
    """Nobody waits for clamps before gluing what they do not hold up: they come off with the last ones."""
    run.clamped, kind = 0.0, operations().get(operation.kind)
    if kind and run.events and goes_on(kind, operation, run.events[-1], tuple(run.bench)):
        last = run.events[-1]
        run.events[-1], run.clamped = replace(last, wait=0.0), run.clock
        run.clock -= last.wait


def _carry_out(run: _Run, operation: Operation) -> None:
    at = At(operation.step, operation.number, operation.place)
    kind = operations().get(operation.kind)
    if kind is None:
        known = tuple(operations())
        facts = {"operation": operation.kind, "near": near(operation.kind, known), "known": known}
        run.troubles.append(Trouble("unknown-operation", operation.place, operation.step, facts))
        return _lose(run, operation)
    try:
        shop = run.shop(at)
        outcome = _outcome(run, operation, kind, shop)
        _check_names(run, outcome, operation)
    except Snag as found:
        run.troubles.extend(found.troubles)
        _lose_meant(run, found.troubles)
        return _lose(run, operation)
    _accept(run, operation, at, _in_place(run, kind, outcome), min(shop.set_up(operation.kind), outcome.hands_on))
    return None


def _in_place(run: _Run, kind: type[Work], outcome: Outcome) -> Outcome:
    """The outcome with the parts of the object that stand about those worked on, in a build that is drawn."""
    if outcome.show is None or not run.nominal:
        return outcome
    taken = {piece.name for piece in outcome.taken}
    left = {name: piece for name, piece in run.bench.items() if name not in taken}
    show = with_shut_in(outcome.show, run.shut_in, left) if run.shut_in else outcome.show
    return replace(outcome, show=with_parts(show, () if kind.DRAWN.taken_out else run.parts, left))


def _outcome(run: _Run, operation: Operation, kind: type[Work], shop: Shop) -> Outcome:
    """What an operation does, from memory where it has been done on the same things. Raises Snag."""
    key, memory = (operation.step, operation.number), run.memory
    if memory is None:
        return carried_out(kind, operation, shop)
    recalled: Outcome | None = memory.recall(key, shop)
    if recalled is not None:
        return recalled
    asking, log = watched(shop)
    outcome = memory.settled(key, carried_out(kind, operation, asking))
    memory.keep(key, log, shop, outcome)
    return outcome


def _lose(run: _Run, operation: Operation) -> None:
    """Nothing is known any more of what a broken operation takes and makes: no finding follows from it."""
    table, known = operation.fields.table(), (*run.bench, *run.design.stock)
    for name, _ in _names_made(operation, known):
        run.unknown.add(name)
    taken = [name for key in ("piece", "pieces", "boards", "dry") for name in meant(table.get(key), known)]
    each = [full for key in ("plug", "shim") if key in table for full in _spelled(str(table[key].value), table, known)]
    for name in (*taken, *each, *_partner(table)):
        if name in run.bench:
            run.unknown.add(name)
            del run.bench[name]


def _lose_meant(run: _Run, troubles: tuple[Trouble, ...]) -> None:
    """A mistyped name most likely meant the nearest one, which then was not worked on: it is unknown too."""
    for trouble in troubles:
        meant = trouble.facts.get("near") if trouble.kind == "piece-unknown" else None
        if meant and meant[0] in run.bench:
            run.unknown.add(meant[0])


def _check_names(run: _Run, outcome: Outcome, operation: Operation) -> None:
    """A piece is made once: a new name must not be another piece's, now or earlier."""
    taken = {piece.name for piece in outcome.taken}
    fresh = [piece.name for piece in outcome.made if piece.name not in taken]
    troubles = []
    for name in fresh:
        earlier = run.pieces.get(name)
        if earlier is not None or fresh.count(name) > 1:
            also = ((earlier.at.place, f"made here, in step {earlier.at.step}"),) if earlier else ()
            facts = {"piece": name, "earlier": earlier.at.step if earlier else operation.step}
            place = dict(_names_made(operation, (*run.bench, *run.design.stock))).get(name)
            where = place.named_at if place else operation.place
            troubles.append(Trouble("piece-made-twice", where, operation.step, facts, also))
    if troubles:
        raise Snag(*troubles)


def _accept(run: _Run, operation: Operation, at: At, outcome: Outcome, set_up: float) -> None:
    run.troubles.extend(outcome.troubles)
    run.troubles.extend(_unbalanced(outcome, operation))
    made = {piece.name for piece in outcome.made}
    taken_out = operations()[operation.kind].DRAWN.taken_out
    beside = standing_in(outcome.taken, () if taken_out else run.parts, run.shut_in)
    before = Joining(len(run.events), at, dict(run.bench))
    into = {name for piece in outcome.made for name in piece.sources}
    for piece in outcome.taken:
        run.bench.pop(piece.name, None)
        if piece.name not in made:
            how = "discarded" if piece.name in outcome.discarded else operation.kind
            run.gone[piece.name] = Gone(how, at, tuple(p.name for p in outcome.made))
            if piece.name in into:
                run.joined[piece.name] = before
    for piece in outcome.made:
        run.bench[piece.name] = piece
        run.pieces[piece.name] = piece if piece.name not in run.pieces else _first_made(run, piece)
        run.kept.pop(piece.name, None)
    run.kept.update(dict.fromkeys(outcome.kept, at))
    run.parts.update(dict.fromkeys((*outcome.parts, *parts_after(run.parts, outcome.made)), at))
    if run.shut_in or outcome.shut_in:
        run.shut_in = shut_in_after(run.shut_in, outcome.made, outcome.shut_in)
    if outcome.stuck is not None:
        run.stuck_ever[outcome.stuck.stencil.name] = at
    wait = max(outcome.wait, run.clamped - run.clock - outcome.hands_on)
    run.events.append(
        Event(
            operation,
            at,
            outcome.taken,
            outcome.made,
            outcome.lost,
            outcome.uses,
            outcome.show,
            dict(run.bench),
            outcome.hands_on,
            wait,
            run.clock,
            outcome.settings,
            outcome.stuck,
            set_up=set_up,
            beside=tuple(name for name in beside if name in run.bench),
        )
    )
    run.clock += outcome.hands_on + wait


def _first_made(run: _Run, piece: Piece) -> Piece:
    """A piece that is worked on keeps the moment when it was first made."""
    return replace(piece, at=run.pieces[piece.name].at)


def _unbalanced(outcome: Outcome, operation: Operation) -> list[Trouble]:
    if operation.kind == "mill" or not outcome.taken:
        return []
    before = sum(p.solid.volume for p in outcome.taken)
    after = sum(p.solid.volume for p in outcome.made) + sum(loss.volume for loss in outcome.lost)
    if outcome.discarded:
        after += sum(p.solid.volume for p in outcome.taken if p.name in outcome.discarded)
    if abs(before - after) <= CONSERVED * before:
        return []
    facts = {"before": before, "after": after, "operation": operation.kind}
    return [Trouble("volume-not-conserved", operation.place, operation.step, facts)]
