"""Pieces that are told together in a list: alike, and named with one name and a number each; it measures nothing."""

from collections.abc import Iterable

from planbook.speech import called
from planbook.takeoff.records import PieceRow, in_short, parted

SAME = 1e-6
"""Pieces whose volumes differ by more than this share are not alike, whatever their outer size."""


def together(rows: Iterable[PieceRow]) -> tuple[tuple[PieceRow, ...], ...]:
    """The pieces in the order of the list; those of one name with a number and of one size form a group."""
    groups: list[list[PieceRow]] = []
    for row in rows:
        group = next((group for group in groups if _alike(group[0], row)), None)
        if group is None:
            groups.append([row])
        else:
            group.append(row)
    return tuple(map(tuple, groups))


def _alike(a: PieceRow, b: PieceRow) -> bool:
    (stem, number), (other, another) = parted(a.name), parted(b.name)
    same = (a.final, a.woods, a.ending, parted(a.part_of)[0]) == (b.final, b.woods, b.ending, parted(b.part_of)[0])
    volumes = abs(float(a.cubic_metres) - float(b.cubic_metres)) <= SAME * float(a.cubic_metres)
    return stem == other and number is not None and another is not None and same and volumes


def group_name(group: tuple[PieceRow, ...]) -> str:
    """How a group is called: "4 × leg (1 to 4)"; a piece alone has its own name."""
    if len(group) == 1:
        return called(group[0].name)
    stem, short = called(parted(group[0].name)[0]), in_short(row.name for row in group)
    return f"{len(group)} × {stem} ({short[len(stem) + 1 :]})"
