"""Which pieces share a measured sheet, and which have none since a stencil tells them better; it draws nothing."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from planbook.drawing.measured import Measured, measured
from planbook.workshop import Piece

FREE = 2
"""A piece with free curves and so many arcs beside is left to its stencil."""


def alike(pieces: Mapping[str, Piece]) -> tuple[tuple[str, ...], ...]:
    """Names of pieces in order, those of the same dimensions together; without those that only a stencil can tell."""
    groups: dict[Measured, list[str]] = {}
    for name, piece in pieces.items():
        facts = measured(piece.solid)
        if not _drawn_by_hand(facts):
            groups.setdefault(_rounded(facts), []).append(name)
    return tuple(tuple(names) for names in groups.values())


def _drawn_by_hand(facts: Measured) -> bool:
    """Whether an outline is mostly curves, of which figures would say little beside its stencil."""
    arcs = [each for each in facts.rounds if not each.whole and not each.corner]
    return facts.freeform and len(arcs) >= FREE


def _rounded(facts: Measured) -> Measured:
    """Without differences that no drawing tells."""

    def near(value: Any) -> Any:
        if isinstance(value, float):
            return round(value, 2)
        return tuple(near(item) for item in value) if isinstance(value, tuple) else value

    rounds = tuple(
        replace(
            r, middle=near(r.middle), radius=near(r.radius), along=near(r.along), mark=near(r.mark), sunk=near(r.sunk)
        )
        for r in facts.rounds
    )
    return Measured(near(facts.size), near(facts.places), rounds, facts.freeform)
