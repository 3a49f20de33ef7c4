"""Values of the fields of operations, read from the nodes of a block by their sort; knows no operation."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from planbook.model import FACES, Node
from planbook.text import Place
from planbook.units import Formula, Quantity, UnitProblem, near, parse_formula, read_minutes

Compute = Callable[[Formula], Quantity]
MOST_POINTS = 400
"""In one block, as many as a `repeat` makes: more takes minutes to work out, and nobody marks them out by hand."""


@dataclass(frozen=True, slots=True)
class Spec:
    """One field of an operation's record."""

    name: str
    what: str
    choices: tuple[str, ...]
    required: bool
    default: Any
    mirrored: str = ""


class Wrong(Exception):  # noqa: N818 - a fact about the design, not a failure of the program
    """A value cannot be read: the kind of trouble, its place and facts."""

    def __init__(self, kind: str, place: Place, /, **facts: Any) -> None:
        super().__init__(kind)
        self.kind, self.place, self.facts = kind, place, facts


def read(spec: Spec, node: Node, compute: Compute) -> Any:
    """A value of a field. Raises Wrong."""
    return _READERS[spec.what](spec, node, compute)


def read_as(name: str, what: str, node: Node, compute: Compute) -> Any:
    """A value of one of the sorts of fields, which needs no field of an operation. Raises Wrong."""
    return read(Spec(name, what, (), True, None), node, compute)


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


def items_of(node: Node) -> tuple[Node, ...]:
    """The nodes of a list, or the one that stands for it."""
    return node.value if isinstance(node.value, tuple) else (node,)


def _texts(spec: Spec, node: Node, compute: Compute) -> tuple[str, ...]:
    listed = tuple(_text(spec, item, compute) for item in items_of(node))
    if not listed:
        raise Wrong("wrong-field", node.place, expected=spec.what)
    return listed


def _faces(spec: Spec, node: Node, compute: Compute) -> tuple[str, ...]:
    face = Spec(spec.name, "face", (), True, None)
    return tuple(_choice(face, item, compute) for item in items_of(node))


def _flag(spec: Spec, node: Node, compute: Compute) -> bool:
    if not isinstance(node.value, bool):
        raise Wrong("wrong-field", node.place, expected=spec.what)
    return node.value


def _count(spec: Spec, node: Node, compute: Compute) -> int:
    if isinstance(node.value, bool) or not isinstance(node.value, int) or not 0 < node.value <= 1000:
        raise Wrong("wrong-field", node.place, expected="whole number from 1 to 1000")
    return node.value


def _quantity(node: Node, compute: Compute, expected: str = "length") -> Quantity:
    """A node's formula computed. Raises Wrong."""
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
    found = _quantity(node, compute)
    if not found.is_length and not (found.is_number and found.value == 0):
        raise Wrong("not-a-length", node.place, found=found.kind_name)
    if spec.what == "length above zero" and found.value <= 0:
        raise Wrong("not-positive", node.place, value=float(found.value))
    return found.value


def _angle(spec: Spec, node: Node, compute: Compute) -> Fraction:
    found = _quantity(node, compute, "angle")
    if not found.is_angle:
        raise Wrong("not-an-angle", node.place, found=found.kind_name)
    if found.value <= 0:
        raise Wrong("not-positive", node.place, value=float(found.value))
    return found.value


def _several(count: int) -> Callable[[Spec, Node, Compute], Any]:
    def several(spec: Spec, node: Node, compute: Compute) -> Any:
        items = node.value if isinstance(node.value, tuple) else ()
        if len(items) != count:
            raise Wrong("wrong-field", node.place, expected=f"list of {count} lengths")
        return tuple(_length(spec, item, compute) for item in items)

    return several


def _points(spec: Spec, node: Node, compute: Compute) -> Any:
    if isinstance(node.value, tuple) and len(node.value) > MOST_POINTS:
        raise Wrong("wrong-field", node.place, expected=f"list of at most {MOST_POINTS} points")
    return tuple(_several(2)(spec, item, compute) for item in items_of(node))


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
