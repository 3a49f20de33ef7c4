"""Work that is written once and done several times: to several pieces, in a row, mirrored; it knows no operation."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from math import prod
from typing import Any, TypeVar

from planbook.model import Node, Operation
from planbook.solids import FACE_FRAMES
from planbook.solids.frames import dot
from planbook.units import near
from planbook.workshop.fields import Op, bind, general, specs
from planbook.workshop.pieces import face_frame
from planbook.workshop.reflection import ACROSS, Reflection, reflection
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import Snag, snag
from planbook.workshop.timeline import Piece, Show, Shown, Trouble
from planbook.workshop.values import Compute, Wrong, read_as

MOST = 400
"""More places than this in one block are a slip."""
ALIKE = 0.05
"""Pieces that differ by more than this (mm) in any direction are no mirrored pair."""
POINTS = ("at", "at on the other", "holes")
"""Settings that tell one place after the other."""
CUT_TO = ("strip", "cut to")
"""Keys of the sizes of what is cut out for a piece, which may be another for every piece."""
FURTHER = "each further by"
"""What a setting ends with that tells how far the places of a row lie apart."""
ROW = 'table such as { count = 4, by = ["32 mm", "0 mm"] }'
TWIN = 'table such as { piece = "right side", across = "x" }'
T = TypeVar("T")
By = tuple[Fraction, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """So many in a row, each further on than the last by `by`: right and up on the face, or away from the edge."""

    count: int
    by: By


@dataclass(frozen=True, slots=True)
class Mirror:
    """The name of the partner as written (None for the piece itself), and the axis across which it is mirrored."""

    piece: Node | None
    across: str


def carried_out(kind: type[Work], operation: Operation, shop: Shop) -> Outcome:
    """Everything that one block asks for, as one outcome. Raises Snag with all troubles."""
    troubles: list[Trouble] = []
    rows = _read("repeat", lambda node: _rows(kind, node, shop.compute), kind, operation, troubles) or ()
    mirror = _read("mirror", lambda node: _mirror(node, shop.compute), kind, operation, troubles)
    if mirror and mirror.piece and "pieces" in operation.fields.table():
        troubles.append(Trouble("mirror-unfit", mirror.piece.place, operation.step, {"why": "several"}))
    written: list[Work] = []
    try:
        written = bind(kind, operation, shop.compute, (*shop.bench, *shop.unknown))
    except Snag as wrong:
        if not wrong.troubles:
            raise
        troubles += wrong.troubles
    if troubles:
        raise Snag(*troubles)
    stated = written[0].takes if written else None
    if stated is None:
        done = [outcome for op in written for outcome in _done(kind, op, rows, mirror, shop)]
        return done[0] if len(done) == 1 else merged(done, shop.set_up(kind.KIND))
    each = replace(shop, stated=float(stated) / len(written))
    done = [outcome for op in written for outcome in _done(kind, op, rows, mirror, each)]
    return replace(merged(done), hands_on=float(stated))


def _read(
    name: str, reader: Callable[[Node], T], kind: type[Work], operation: Operation, troubles: list[Trouble]
) -> T | None:
    """A general field of a block, or None where it has none that can be read."""
    node = operation.fields.table().get(name)
    if node is None or name not in general(kind):
        return None
    try:
        return reader(node)
    except Wrong as wrong:
        facts = {"operation": kind.KIND, "field": name, "what": "", **wrong.facts}
        troubles.append(Trouble(wrong.kind, wrong.place, operation.step, facts))
        return None


def _done(kind: type[Work], op: Work, rows: Sequence[Row], mirror: Mirror | None, shop: Shop) -> list[Outcome]:
    """What a block does to one of its pieces, and to the partner of that."""
    outcomes = _in_rows(op, rows, shop)
    if mirror is None:
        return outcomes
    twin = _twin(kind, op, mirror, shop)
    told = ("mirrored on", str(mirror.piece.value)) if mirror.piece else ("mirrored", ACROSS[mirror.across])
    first = replace(outcomes[0], settings=(*outcomes[0].settings, told))
    return [first, *outcomes[1:], *_in_rows(twin, _rows_of_twin(rows, op, twin), _after(shop, outcomes))]


def _rows(kind: type[Op], node: Node, compute: Compute) -> tuple[Row, ...]:
    """One row, or rows of rows."""
    each = node.value if isinstance(node.value, tuple) else (node,)
    if not 1 <= len(each) <= 2:
        raise Wrong("wrong-field", node.place, field="repeat", expected=ROW)
    what = next(spec.what for spec in specs(kind) if spec.name == "at")
    rows = tuple(_row(item, "point" if what == "points" else "length", compute) for item in each)
    if prod(row.count for row in rows) > MOST:
        raise Wrong("repeat-unfit", node.place, why="many", most=MOST, count=prod(row.count for row in rows))
    return rows


def _row(node: Node, what: str, compute: Compute) -> Row:
    table = _entries(node, "repeat", ("count", "by"), (), ROW)
    count = read_as("count", "whole number", table["count"], compute)
    if count < 2:
        raise Wrong("repeat-unfit", table["count"].place, why="once")
    by = read_as("by", what, table["by"], compute)
    way: By = by if isinstance(by, tuple) else (by,)
    if not any(way):
        raise Wrong("repeat-unfit", table["by"].place, why="nowhere")
    return Row(count, way)


def _mirror(node: Node, compute: Compute) -> Mirror:
    table = _entries(node, "mirror", ("across",), ("piece",), TWIN)
    across = read_as("across", "text", table["across"], compute)
    if across not in ACROSS:
        facts = {"value": across, "choices": tuple(ACROSS), "near": near(across, ACROSS)}
        raise Wrong("wrong-choice", table["across"].place, field="across", **facts)
    return Mirror(table.get("piece"), across)


def _entries(
    node: Node, field: str, needed: tuple[str, ...], free: tuple[str, ...], example: str
) -> Mapping[str, Node]:
    table = node.table()
    strangers = [item for key, item in table.items() if key not in (*needed, *free)]
    if strangers or any(key not in table for key in needed):
        place = strangers[0].named_at if strangers else node.place
        raise Wrong("wrong-field", place, field=field, expected=example)
    return table


def _in_rows(op: Work, rows: Sequence[Row], shop: Shop) -> list[Outcome]:
    """A block in all its places: holes at once, channels one after the other."""
    if not rows:
        return [op.work(shop)]
    at, shifts = getattr(op, "at", None), _shifts(rows)
    if at is None:
        raise snag("repeat-unfit", op.where("repeat"), shop.at.step, why="stencil")
    if isinstance(at, tuple):
        # Points: all are bored at once.
        if len(at) * len(shifts) > MOST:
            facts = {"why": "many", "most": MOST, "count": len(at) * len(shifts)}
            raise snag("repeat-unfit", op.where("repeat"), shop.at.step, **facts)
        found = {name: getattr(op, name, None) for name in ("at", "other_at")}
        points: dict[str, Any] = {
            # The face that meets it is seen from the other side, so that right becomes left.
            name: tuple((u + (du if name == "at" else -du), v + dv) for du, dv in shifts for u, v in written)
            for name, written in found.items()
            if written
        }
        return [_in_few_words(replace(op, **points).work(shop), len(at), rows)]
    outcomes: list[Outcome] = []
    for (further,) in shifts:
        moved: dict[str, Any] = {"at": at + further}
        outcomes.append(replace(op, **moved).work(_after(shop, outcomes)))
    return [_in_few_words(outcomes[0], 1, rows), *outcomes[1:]]


def _shifts(rows: Sequence[Row]) -> list[By]:
    """How far each place lies from the first, that one too."""
    each = [[tuple(k * part for part in row.by) for k in range(row.count)] for row in rows]
    return [tuple(sum(parts, Fraction(0)) for parts in zip(*ways, strict=True)) for ways in product(*reversed(each))]


def _in_few_words(outcome: Outcome, points: int, rows: Sequence[Row]) -> Outcome:
    """A row is told by its first place, how many there are and how far apart, not by the place of each."""
    kept = tuple(
        (key, value[:points] if key in POINTS and isinstance(value, tuple) else value)
        for key, value in outcome.settings
    )
    told = tuple(
        (f"{row.count} such rows, {FURTHER}" if k else f"in a row of {row.count}, {FURTHER}", tuple(map(float, row.by)))
        for k, row in enumerate(rows)
    )
    return replace(outcome, settings=(*kept, *told))


def _twin(kind: type[Work], op: Work, mirror: Mirror, shop: Shop) -> Work:
    """The same work on the partner, mirrored. Raises Snag where they are no pair."""
    fields = {key: node for key, node in op.written.fields.table().items() if key not in ("pieces", "piece")}
    own: str = vars(op)["piece"]
    partner = mirror.piece or Node(own, op.where("piece", "pieces"))
    twin = bind(kind, replace(op.written, fields=Node({**fields, "piece": partner}, op.written.place)), shop.compute)[0]
    of, onto = shop.piece(own, partner.place), shop.piece(vars(twin)["piece"], partner.place)
    if any(abs(a - b) > ALIKE for a, b in zip(of.solid.extent, onto.solid.extent, strict=True)):
        facts = {"first": of.name, "second": onto.name, "sizes": (of.solid.extent, onto.solid.extent)}
        raise snag("mirror-unlike", partner.place, shop.at.step, **facts)
    laid = reflection(mirror.across, of.name, of.solid.bounds, onto.solid.bounds)
    return replace(twin, reflection=laid, **_reflected(twin, of, onto, laid))


def _reflected(op: Work, of: Piece, onto: Piece, laid: Reflection) -> dict[str, Any]:
    """The fields that are other in the mirror image."""
    values = vars(op)
    face = values.get("face") or values.get("end") or "front"
    found: dict[str, Any] = {"face": laid.face(face)} if "face" in values else {}
    for spec in specs(type(op)):
        value = values[spec.name]
        if value is None:
            continue
        if spec.what == "face":
            found[spec.name] = laid.face(value)
        elif spec.what == "face names":
            found[spec.name] = tuple(map(laid.face, value))
        elif spec.mirrored == "spots":
            found[spec.name] = _seen(value, face, values.get("origin", "lower left"), of, onto, laid)
        elif spec.mirrored == "shift":
            turns = laid.turns(face)
            found[spec.name] = (
                _turned(value, turns) if spec.what == "point" else tuple(_turned(way, turns) for way in value)
            )
        elif spec.mirrored == "stops":
            edge: str = values.get("edge") or values["edges"][0]
            # The two ends are told as they are seen: from left to right on the face, or from below upwards.
            along = "v" if abs(dot(FACE_FRAMES[edge].n, FACE_FRAMES[face].u)) > 0.5 else "u"
            found[spec.name] = value[::-1] if laid.turns(face) == along else value
    return found


def _seen(
    places: Sequence[tuple[Fraction, Fraction]], face: str, origin: str, of: Piece, onto: Piece, laid: Reflection
) -> tuple[tuple[Fraction, Fraction], ...]:
    """Places on a face of the piece, measured on the partner's face that answers to it."""
    here, there = face_frame(of, face, origin), face_frame(onto, laid.face(face), origin)
    images = (there.local(laid.point(here.world(float(u), float(v)))) for u, v in places)
    return tuple((_exact(u), _exact(v)) for u, v, _ in images)


def _exact(mm: float) -> Fraction:
    return Fraction(str(round(mm, 9)))


def _turned(way: By, turned: str) -> By:
    u, v = way
    return (-u, v) if turned == "u" else (u, -v)


def _rows_of_twin(rows: Sequence[Row], op: Work, twin: Work) -> tuple[Row, ...]:
    if twin.reflection is None or any(len(row.by) != 2 for row in rows):
        return tuple(rows)
    turned = twin.reflection.turns(vars(op).get("face") or "front")
    return tuple(replace(row, by=_turned(row.by, turned)) for row in rows)


def _after(shop: Shop, outcomes: Sequence[Outcome]) -> Shop:
    """The shop when some of the work of a block is done; glue of the same block is not waited for."""
    if not outcomes:
        return shop
    first = {piece.name: piece for outcome in reversed(outcomes) for piece in outcome.taken}
    changed: dict[str, Piece | None] = {}
    for outcome in outcomes:
        for piece in outcome.taken:
            changed[piece.name] = None
        for piece in outcome.made:
            changed[piece.name] = replace(piece, wet=first.get(piece.name, piece).wet)
    return replace(shop, bench=_Bench(shop.bench, changed))


class _Bench(Mapping[str, Piece]):
    """A bench on which some pieces have changed or gone (None); what has not changed is asked of the bench before."""

    def __init__(self, before: Mapping[str, Piece], changed: Mapping[str, Piece | None]) -> None:
        self._before, self._changed = before, changed

    def __getitem__(self, name: str) -> Piece:
        found = self._changed[name] if name in self._changed else self._before[name]
        if found is None:
            raise KeyError(name)
        return found

    def __iter__(self) -> Iterator[str]:
        names = dict.fromkeys((*self._before, *self._changed))
        return (name for name in names if self._changed.get(name, True) is not None)

    def __len__(self) -> int:
        return sum(1 for _ in self)


def merged(outcomes: Sequence[Outcome], setup: float = 0.0) -> Outcome:
    """What one block did in several places, as one outcome; the tool is set up (minutes) once."""
    first = outcomes[0]
    made = {piece.name: piece for outcome in outcomes for piece in outcome.made}
    taken: dict[str, Piece] = {}
    for outcome in outcomes:
        for piece in outcome.taken:
            taken.setdefault(piece.name, piece)
    return Outcome(
        taken=tuple(taken.values()),
        made=tuple(made.values()),
        lost=tuple(p for o in outcomes for p in o.lost),
        uses=tuple(p for o in outcomes for p in o.uses),
        show=_shown([o.show for o in outcomes if o.show is not None]),
        hands_on=sum(o.hands_on for o in outcomes) - setup * (len(outcomes) - 1),
        wait=max(o.wait for o in outcomes),
        settings=(*first.settings, *_own_sizes(outcomes)),
        stuck=first.stuck,
        troubles=tuple(p for o in outcomes for p in o.troubles),
        kept=tuple(p for o in outcomes for p in o.kept),
        parts=tuple(p for o in outcomes for p in o.parts),
        discarded=tuple(p for o in outcomes for p in o.discarded),
    )


def _own_sizes(outcomes: Sequence[Outcome]) -> tuple[tuple[str, Any], ...]:
    """What is cut out for the further pieces, where that is of another size than all before it."""
    sizes = [pair for outcome in outcomes for pair in outcome.settings if pair[0] in CUT_TO]
    return tuple(dict.fromkeys(pair for pair in sizes if pair not in outcomes[0].settings))


def _shown(shows: Sequence[Show]) -> Show | None:
    """One picture of several; a piece that was worked more than once is shown as it is in the end."""
    if not shows:
        return None
    last: dict[str, Shown] = {}
    for show in shows:
        for shown in show.pieces:
            last[shown.piece.name] = shown if show.face == shows[0].face else replace(shown, face=show.face)
    return replace(shows[0], pieces=tuple(last.values()), cues=tuple(c for s in shows for c in s.cues))
