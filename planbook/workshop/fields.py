"""Fields of operations: binds the TOML of a fenced block to an operation's record; knows no operation."""

import dataclasses
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Annotated, Any, ClassVar, Literal, TypeVar, get_args, get_origin, get_type_hints

from planbook.model import FACES, Node, Operation
from planbook.text import Place
from planbook.units import Formula, Quantity, UnitProblem, near, parse_formula, read_minutes
from planbook.workshop.patterns import ANY, patterns_of, spelled
from planbook.workshop.reflection import Reflection
from planbook.workshop.snags import Snag
from planbook.workshop.timeline import Trouble


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

Compute = Callable[[Formula], Quantity]
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


@dataclass(frozen=True, slots=True)
class Spec:
    """One field of an operation's record."""

    name: str
    what: str
    choices: tuple[str, ...]
    required: bool
    default: Any
    mirrored: str = ""


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
        singles = list(_list(table.pop("pieces"))) or [None]
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
            values[spec.name] = _READERS[spec.what](spec, node, compute)
        except Wrong as wrong:
            troubles.append(Trouble(wrong.kind, wrong.place, written.step, {**facts, **wrong.facts}))
    return values


def read(name: str, what: str, node: Node, compute: Compute) -> Any:
    """A value of one of the sorts of fields. Raises Wrong."""
    return _READERS[what](Spec(name, what, (), True, None), node, compute)


class Wrong(Exception):  # noqa: N818 - a fact about the design, not a failure of the program
    """A value cannot be read: the kind of trouble, its place and facts."""

    def __init__(self, kind: str, place: Place, /, **facts: Any) -> None:
        super().__init__(kind)
        self.kind, self.place, self.facts = kind, place, facts


def _text(spec: Spec, node: Node, compute: Compute) -> str:
    if not isinstance(node.value, str) or not node.value.strip():
        raise Wrong("wrong-field", node.place, expected=spec.what)
    return node.value


def _choice(spec: Spec, node: Node, compute: Compute) -> str:
    choices = FACES if spec.what == "face" else spec.choices
    text = _text(spec, node, compute)
    if text not in choices:
        raise Wrong("wrong-choice", node.place, value=text, choices=tuple(choices), near=near(text, choices))
    return text


def _list(node: Node) -> tuple[Node, ...]:
    return node.value if isinstance(node.value, tuple) else (node,)


def _texts(spec: Spec, node: Node, compute: Compute) -> tuple[str, ...]:
    listed = tuple(_text(spec, item, compute) for item in _list(node))
    if not listed:
        raise Wrong("wrong-field", node.place, expected=spec.what)
    return listed


def _faces(spec: Spec, node: Node, compute: Compute) -> tuple[str, ...]:
    face = Spec(spec.name, "face", (), True, None)
    return tuple(_choice(face, item, compute) for item in _list(node))


def _flag(spec: Spec, node: Node, compute: Compute) -> bool:
    if not isinstance(node.value, bool):
        raise Wrong("wrong-field", node.place, expected=spec.what)
    return node.value


def _count(spec: Spec, node: Node, compute: Compute) -> int:
    if isinstance(node.value, bool) or not isinstance(node.value, int) or not 0 < node.value <= 1000:
        raise Wrong("wrong-field", node.place, expected="whole number from 1 to 1000")
    return node.value


def quantity(node: Node, compute: Compute, expected: str = "length") -> Quantity:
    """A node's formula computed. Raises an internal error that `bind` turns into a trouble."""
    if isinstance(node.value, int | float) and not isinstance(node.value, bool):
        raise Wrong("needs-unit", node.place, value=node.value)
    if not isinstance(node.value, str):
        raise Wrong("wrong-field", node.place, expected=expected)
    try:
        return compute(parse_formula(node.value))
    except UnitProblem as problem:
        place = node.place.within(problem.offset, problem.length)
        raise Wrong("bad-formula", place, problem=problem.kind, message=problem.message, **problem.facts) from None


def _length(spec: Spec, node: Node, compute: Compute) -> Fraction:
    found = quantity(node, compute)
    if not found.is_length and not (found.is_number and found.value == 0):
        raise Wrong("not-a-length", node.place, found=found.kind_name)
    if spec.what == "length above zero" and found.value <= 0:
        raise Wrong("not-positive", node.place, value=float(found.value))
    return found.value


def _angle(spec: Spec, node: Node, compute: Compute) -> Fraction:
    found = quantity(node, compute, "angle")
    if not found.is_angle:
        raise Wrong("not-an-angle", node.place, found=found.kind_name)
    if found.value <= 0:
        raise Wrong("not-positive", node.place, value=float(found.value))
    return found.value


def _several(count: int) -> Callable[[Spec, Node, Compute], Any]:
    def read(spec: Spec, node: Node, compute: Compute) -> Any:
        items = node.value if isinstance(node.value, tuple) else ()
        if len(items) != count:
            raise Wrong("wrong-field", node.place, expected=f"list of {count} lengths")
        return tuple(_length(spec, item, compute) for item in items)

    return read


MOST_POINTS = 400
"""In one block, as many as a `repeat` makes: more takes minutes to work out, and nobody marks them out by hand."""


def _points(spec: Spec, node: Node, compute: Compute) -> Any:
    if isinstance(node.value, tuple) and len(node.value) > MOST_POINTS:
        raise Wrong("wrong-field", node.place, expected=f"list of at most {MOST_POINTS} points")
    return tuple(_several(2)(spec, item, compute) for item in _list(node))


def _minutes(spec: Spec, node: Node, compute: Compute) -> Fraction:
    text = _text(spec, node, compute)
    try:
        found = read_minutes(text)
    except UnitProblem as problem:
        place = node.place.within(problem.offset, problem.length)
        raise Wrong("bad-formula", place, problem=problem.kind, message=problem.message) from None
    if found < 0:
        raise Wrong("not-positive", node.place, value=float(found))
    return found


def _makes(spec: Spec, node: Node, compute: Compute) -> dict[str, str]:
    if isinstance(node.value, str):
        return {_text(spec, node, compute): ""}
    if not isinstance(node.value, Mapping) or not node.value:
        raise Wrong("wrong-field", node.place, expected='table such as { lid = "inside", rim = "outside" }')
    return {name: _text(spec, item, compute) for name, item in node.table().items()}


def _moves(spec: Spec, node: Node, compute: Compute) -> Any:
    if not isinstance(node.value, Mapping):
        raise Wrong("wrong-field", node.place, expected="table of moves by piece")
    return {name: _several(3)(spec, item, compute) for name, item in node.table().items()}


_READERS: dict[str, Callable[[Spec, Node, Compute], Any]] = {
    "piece": _text,
    "stencil": _text,
    "tool": _text,
    "supply": _text,
    "text": _text,
    "face": _choice,
    "one of": _choice,
    "piece names": _texts,
    "stock names": _texts,
    "names": _texts,
    "face names": _faces,
    "true or false": _flag,
    "whole number": _count,
    "length": _length,
    "length above zero": _length,
    "point": _several(2),
    "points": _points,
    "three lengths": _several(3),
    "time": _minutes,
    "angle": _angle,
    "makes": _makes,
    "moves": _moves,
}
