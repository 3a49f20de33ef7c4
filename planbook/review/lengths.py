"""Lengths in a design as plain numbers of millimetres, where they can be had; not why they cannot."""

from collections.abc import Iterator

from planbook.model import Expr, Node
from planbook.model.sizes import evaluate
from planbook.review.pointing import texts
from planbook.units import UnitProblem, parse_formula
from planbook.workshop import Timeline


def length_of(expr: Expr | None, timeline: Timeline) -> float | None:
    """The length that a formula comes to, in mm; None for any other value, and where it measures a piece."""
    if expr is None:
        return None
    try:
        value = evaluate(expr, timeline.sizes)
    except UnitProblem:
        return None
    return float(value.value) if value.is_length else None


def lengths_in(node: Node, timeline: Timeline) -> Iterator[float]:
    """Every length that a text in a value comes to, in mm."""
    for text in texts(node):
        try:
            found = length_of(Expr(parse_formula(text), node.place), timeline)
        except UnitProblem:
            continue
        if found is not None:
            yield found
