"""Orders the cuts of a sheet, moves waste together and says how the fence is set (draws nothing).

Numbers are real sizes in any one exact unit: between neighbours there is one kerf.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

Way = Literal["rip", "crosscut"]


@dataclass(frozen=True, slots=True)
class Block:
    """A part on its sheet: its number and rectangle; x across the sheet, y along it."""

    number: int
    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Region:
    """A rectangle of the sheet."""

    x: int
    y: int
    width: int
    height: int

    @property
    def area(self) -> int:
        """Its area."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Saw:
    """One cut: where its kerf begins, from where to where it runs, and the size that comes off before it."""

    way: Way
    at: int
    start: int
    end: int
    fence: int


@dataclass(frozen=True, slots=True)
class Sawn:
    """A sheet taken apart: its parts (perhaps moved), the cuts in order and the rectangles left over."""

    blocks: tuple[Block, ...]
    cuts: tuple[Saw, ...]
    rests: tuple[Region, ...]

    @property
    def largest(self) -> int:
        """The area of the largest rest."""
        return max((rest.area for rest in self.rests), default=0)

    @property
    def settings(self) -> int:
        """How often the fence is set."""
        kinds = [(cut.way, cut.fence) for cut in self.cuts]
        return sum(a != b for a, b in zip([None, *kinds], kinds, strict=False))


def take_apart(region: Region, blocks: Sequence[Block], kerf: int, move: bool) -> Sawn | None:
    """The cuts for all blocks in a region, or None if no full-width cuts part them.

    With `move`, strips change places so that equal ones lie together and waste is at the far end.
    """
    done: list[Block] = []
    cuts: list[Saw] = []
    rests: list[Region] = []
    todo: list[tuple[Region, list[Block]]] = [(region, list(blocks))]
    while todo:
        area, inside = todo.pop(0)
        if not inside:
            if area.width > 0 and area.height > 0:
                rests.append(area)
            continue
        if len(inside) == 1 and _same(area, inside[0]):
            done += inside
            continue
        step = _cut(area, inside, kerf, move)
        if step is None:
            return None
        made, pieces = step
        cuts += made
        todo = pieces + todo
    return Sawn(tuple(sorted(done, key=lambda block: block.number)), tuple(cuts), tuple(rests))


def _same(area: Region, block: Block) -> bool:
    return (area.x, area.y, area.width, area.height) == (block.x, block.y, block.width, block.height)


def _cut(
    area: Region, inside: Sequence[Block], kerf: int, move: bool
) -> tuple[list[Saw], list[tuple[Region, list[Block]]]] | None:
    """All cuts of one direction: the one that leaves the larger waste in one piece, then the fewer strips."""
    ways: list[tuple[int, int, bool]] = []
    for upright in (True, False):
        groups = _groups(inside, kerf, upright)
        spare = _spare(area, groups, kerf, upright, move)
        needed = len(groups) > 1 or not _fills(area, groups[0], upright)
        if needed:
            ways.append((-spare, len(groups), not upright))
    if not ways:
        return None
    # When a block stands alone in a group that no cut can part, the other direction is the only one.
    upright = not min(ways)[2]
    return _strips(area, _groups(inside, kerf, upright), kerf, upright, move)


def _span(block: Block, upright: bool) -> tuple[int, int]:
    return (block.x, block.x + block.width) if upright else (block.y, block.y + block.height)


def _groups(inside: Sequence[Block], kerf: int, upright: bool) -> list[list[Block]]:
    """Blocks that no cut in this direction can part stay together; groups in their order."""
    order = sorted(inside, key=lambda block: (_span(block, upright), block.number))
    groups, reach = [[order[0]]], _span(order[0], upright)[1]
    for block in order[1:]:
        low, high = _span(block, upright)
        if low >= reach + kerf and low >= reach:
            groups.append([block])
        else:
            groups[-1].append(block)
        reach = max(reach, high)
    return groups


def _reach(group: Sequence[Block], upright: bool) -> tuple[int, int]:
    spans = [_span(block, upright) for block in group]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _fills(area: Region, group: Sequence[Block], upright: bool) -> bool:
    low, high = _reach(group, upright)
    start, size = (area.x, area.width) if upright else (area.y, area.height)
    return low == start and high == start + size


def _spare(area: Region, groups: Sequence[Sequence[Block]], kerf: int, upright: bool, move: bool) -> int:
    """The area of the waste at the far end."""
    start, size, other = (area.x, area.width, area.height) if upright else (area.y, area.height, area.width)
    if move:
        used = sum(high - low + kerf for low, high in (_reach(group, upright) for group in groups))
        return max(0, size - used) * other
    return max(0, start + size - _reach(groups[-1], upright)[1] - kerf) * other


def _strips(
    area: Region, groups: list[list[Block]], kerf: int, upright: bool, move: bool
) -> tuple[list[Saw], list[tuple[Region, list[Block]]]]:
    start, size = (area.x, area.width) if upright else (area.y, area.height)
    if move:
        groups = sorted(groups, key=lambda g: (-_length(g, upright), g[0].number))
    cuts: list[Saw] = []
    pieces: list[tuple[Region, list[Block]]] = []
    at, end = start, start + size
    for group in groups:
        low, high = _reach(group, upright)
        if move:
            group = [_moved(block, at - low, upright) for block in group]
            low, high = at, high + at - low
        if low > at:
            # Waste before the strip: the kerf ends where the strip begins.
            cuts.append(_saw(area, low - kerf, max(0, low - kerf - at), upright))
            pieces.append((_piece(area, at, max(0, low - kerf - at), upright), []))
        if high < end:
            cuts.append(_saw(area, high, high - low, upright))
        pieces.append((_piece(area, low, high - low, upright), group))
        at = min(high + kerf, end)
    pieces.append((_piece(area, at, end - at, upright), []))
    return cuts, pieces


def _length(group: Sequence[Block], upright: bool) -> int:
    low, high = _reach(group, upright)
    return high - low


def _moved(block: Block, by: int, upright: bool) -> Block:
    return replace(block, x=block.x + by) if upright else replace(block, y=block.y + by)


def _saw(area: Region, at: int, fence: int, upright: bool) -> Saw:
    if upright:
        return Saw("rip", at, area.y, area.y + area.height, fence)
    return Saw("crosscut", at, area.x, area.x + area.width, fence)


def _piece(area: Region, at: int, size: int, upright: bool) -> Region:
    if upright:
        return Region(at, area.y, size, area.height)
    return Region(area.x, at, area.width, size)
