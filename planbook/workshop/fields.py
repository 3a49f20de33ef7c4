"""Fields of operations: binds the TOML of a fenced block to an operation's record; knows no operation."""

import dataclasses
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Annotated, Any, ClassVar, Literal, TypeVar, get_args, get_origin, get_type_hints

from planbook.model import Node, Operation
from planbook.text import Place
from planbook.units import near
from planbook.workshop.patterns import ANY, patterns_of, spelled
from planbook.workshop.reflection import Reflection
from planbook.workshop.snags import Snag
from planbook.workshop.timeline import Trouble
from planbook.workshop.values import Compute, Spec, Wrong, items_of, read


@dataclass(frozen=True, slots=True)
class Field:
    """What a field holds: its name for people, and how its values change in a mirror image.

    A mirror swaps faces by themselves; "spots" are places on the face, "shift" is a move on it, "stops" are the two
    ends of a run.
    """

    what: str
    mirrored: Literal["", "spots", "shift", "stops"] = ""


PieceName = Annotated[str, Field("piece")]
PieceNames = Annotated[tuple[str, ...], Field("piece names")]
StencilName = Annotated[str, Field("stencil")]
ToolName = Annotated[str, Field("tool")]
SupplyName = Annotated[str, Field("supply")]
StockNames = Annotated[tuple[str, ...], Field("stock names")]
Face = Annotated[str, Field("face")]
FaceNames = Annotated[tuple[str, ...], Field("face names")]
Names = Annotated[tuple[str, ...], Field("names")]
Text = Annotated[str, Field("text")]
Flag = Annotated[bool, Field("true or false")]
Count = Annotated[int, Field("whole number")]
Length = Annotated[Fraction, Field("length")]
Positive = Annotated[Fraction, Field("length above zero")]
Point = Annotated[tuple[Fraction, Fraction], Field("point")]
OffMiddle = Annotated[tuple[Fraction, Fraction], Field("point", "shift")]
Offsets = Annotated[tuple[tuple[Fraction, Fraction], ...], Field("points", "shift")]
Stops = Annotated[tuple[Fraction, Fraction], Field("point", "stops")]
Points = Annotated[tuple[tuple[Fraction, Fraction], ...], Field("points", "spots")]
Triple = Annotated[tuple[Fraction, Fraction, Fraction], Field("three lengths")]
Minutes = Annotated[Fraction, Field("time")]
Angle = Annotated[Fraction, Field("angle")]
Makes = Annotated[Mapping[str, str], Field("makes")]
Moves = Annotated[Mapping[str, tuple[Fraction, Fraction, Fraction]], Field("moves")]

UNWRITTEN = ("written", "reflection")
"""What every operation has that is no field of its block."""
REPEATING = ("points", "length")
"""The sorts of the field `at` that `repeat` can move on."""
PIECE_NAMES = ("piece", "piece names", "moves")
"""The sorts of fields that name pieces."""


@dataclass(frozen=True, kw_only=True)
class Op:
    """What every operation has: the block it was written in. Subclasses add their fields and `work`."""

    KIND: ClassVar[str] = ""
    EACH: ClassVar[bool] = False
    """True if `pieces = [...]` may stand for `piece = "..."`, doing the same to each, and `mirror` be added."""
    MIRRORS: ClassVar[bool] = True
    """False if `mirror` means nothing to an operation that may be done to each of several pieces."""

    written: Operation
    reflection: Reflection | None = None
    """Set on the mirrored twin of what is written."""

    def where(self, *names: str) -> Place:
        """The place of the first of these fields that is written, or of the operation itself."""
        table = self.written.fields.table()
        for name in names:
            if name in table:
                return table[name].place
        return self.written.place


T = TypeVar("T", bound=Op)


@cache
def _specs_of(kind: Any) -> tuple[Spec, ...]:
    hints = get_type_hints(kind, include_extras=True)
    return tuple(_spec(field, hints[field.name]) for field in dataclasses.fields(kind) if field.name not in UNWRITTEN)


def specs(kind: type[Op]) -> tuple[Spec, ...]:
    """The fields that an operation's block may hold."""
    key: Any = kind
    return _specs_of(key)


def _spec(field: "dataclasses.Field[Any]", hint: Any) -> Spec:
    required = field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
    args = [a for a in get_args(hint) if a is not type(None)] if get_origin(hint) is not Annotated else []
    if get_origin(hint) is Literal:
        return Spec(field.name, "one of", tuple(map(str, get_args(hint))), required, field.default)
    if args and get_origin(hint) is not Literal:
        hint = args[0]
    marks = [m for m in getattr(hint, "__metadata__", ()) if isinstance(m, Field)]
    return Spec(field.name, marks[0].what, (), required, field.default, marks[0].mirrored)


def general(kind: type[Op]) -> tuple[str, ...]:
    """The fields that a block may hold beside its own: what they mean is the same for every operation."""
    repeats = any(spec.name == "at" and spec.what in REPEATING for spec in specs(kind))
    each = ("pieces", "mirror") if kind.MIRRORS else ("pieces",)
    return (*(each if kind.EACH else ()), *(("repeat",) if repeats else ()))


def bind(kind: type[T], written: Operation, compute: Compute, bench: Collection[str] = ()) -> list[T]:
    """The record of an operation, or several where `pieces` stands for `piece`. Raises Snag with all troubles.

    A `*` in the name of a piece stands for all those on the bench (by name) that fit; elsewhere for the piece's name.
    """
    troubles: list[Trouble] = []
    table = _named(kind, written, bench, troubles)
    singles: list[Node | None] = [table.get("piece") if kind.EACH else None]
    if kind.EACH and "pieces" in table:
        singles = list(items_of(table.pop("pieces"))) or [None]
    troubles += _strangers(kind, table, written)
    bound: list[T] = []
    for single in singles:
        row = {**_each(kind, table, single), "piece": single} if single is not None else table
        values = _values(kind, row, written, compute, troubles)
        if not troubles:
            bound.append(kind(written=written, **values))
    if troubles:
        # What is wrong with a field is said once, however many pieces share it.
        raise Snag(*{(t.kind, t.place): t for t in troubles}.values())
    return bound


def _named(kind: type[Op], written: Operation, bench: Collection[str], troubles: list[Trouble]) -> dict[str, Node]:
    """The fields as written, with the patterns in lists of pieces spelled out; one that means nothing is a trouble."""
    table = dict(written.fields.table())
    for name in ["pieces", *(s.name for s in specs(kind) if s.what in PIECE_NAMES and s.what != "piece")]:
        if name in table:
            table[name] = spelled(table[name], bench)
            troubles += [_meaningless(node, text, written, bench) for text, node in _patterns(table[name], bench)]
    return table


def _patterns(node: Node, bench: Collection[str]) -> Iterator[tuple[str, Node]]:
    """The patterns that are left in a list or table, each with the node at whose place it stands."""
    if isinstance(node.value, Mapping):
        yield from ((key, item) for key, item in node.table().items() if ANY in key and key not in bench)
    for item in node.value if isinstance(node.value, tuple) else ():
        if isinstance(item.value, str) and ANY in item.value and item.value not in bench:
            yield item.value, item


def _meaningless(node: Node, pattern: str, written: Operation, bench: Collection[str]) -> Trouble:
    facts = {"pattern": pattern, "bench": tuple(bench), "near": near(pattern, patterns_of(bench))}
    place = node.place if node.value == pattern else node.named_at
    return Trouble("pattern-meaningless", place, written.step, facts)


def _each(kind: type[Op], table: Mapping[str, Node], single: Node) -> dict[str, Node]:
    """The fields for one of several pieces: a `*` in the name of another piece stands for the name of this one."""
    others = [spec.name for spec in specs(kind) if spec.what == "piece" and spec.name != "piece"]
    return {
        name: Node(node.value.replace(ANY, str(single.value)), node.place, node.key)
        if name in others and isinstance(node.value, str)
        else node
        for name, node in table.items()
    }


def _strangers(kind: type[Op], table: Mapping[str, Node], written: Operation) -> list[Trouble]:
    names = [*(s.name for s in specs(kind)), *general(kind)]
    facts = {"operation": kind.KIND, "known": names}
    return [
        Trouble("unknown-field", node.named_at, written.step, {"field": name, **facts})
        for name, node in table.items()
        if name not in names
    ]


def _values(
    kind: type[Op], row: Mapping[str, Node], written: Operation, compute: Compute, troubles: list[Trouble]
) -> dict[str, Any]:
    """The fields that can be read; what is wrong with the others is added to `troubles`."""
    values: dict[str, Any] = {}
    for spec in specs(kind):
        facts = {"field": spec.name, "what": spec.what, "operation": kind.KIND}
        node = row.get(spec.name)
        if node is None:
            if spec.required:
                troubles.append(Trouble("missing-field", written.place, written.step, facts))
            continue
        try:
            values[spec.name] = read(spec, node, compute)
        except Wrong as wrong:
            troubles.append(Trouble(wrong.kind, wrong.place, written.step, {**facts, **wrong.facts}))
    return values
