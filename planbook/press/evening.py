"""Where pages had better break so that none is half empty: heights and shares only, it sets no page."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

SPARSE = 0.62
"""A page filled less than this, with more of the same run to come, is worth another breaking."""
LEAST = 0.86
"""A picture is drawn no smaller than this share of its size; words in it stay legible."""
GROWN = 1.2
"""A picture alone with its words on a sparse page is drawn so many times as large, above them."""
_SHARES = tuple(round(1 - 0.02 * n, 2) for n in range(1, 8))
_END = 0.3
"""The last page of a run counts so much where something else follows there."""
_SLACK = 6.0
"""A page is taken to be so much lower where pictures are drawn smaller, since what is beside them may not give way."""


@dataclass(frozen=True, slots=True)
class Block:
    """What stays on one page: its height, the space above it where another one comes before it, and its picture.

    `picture` is the height of the picture, `spare` by how much the block is lower at most if that is drawn smaller, and
    `grown` by how much it is higher at most if that is drawn larger, above the words; 0 where it cannot be. Any unit,
    the same for all.
    """

    height: float
    above: float
    picture: float = 0.0
    spare: float = 0.0
    grown: float = 0.0

    def gain(self, share: float) -> float:
        """By how much it is lower with its picture at a share of its size."""
        return min(self.picture * (1 - share), self.spare)


@dataclass(frozen=True, slots=True)
class Breaking:
    """Which blocks (from 0) begin a page, the shares of the size of the pictures that are drawn smaller, and the blocks
    with a larger picture.
    """

    starts: tuple[int, ...]
    shares: tuple[tuple[int, float], ...]
    larger: tuple[int, ...] = ()


_Way = tuple[float, tuple[int, ...], tuple[tuple[int, float], ...]]
"""What is lost on the pages so far, where they begin, and which pictures are smaller."""


@dataclass(frozen=True, slots=True)
class Run:
    """Blocks one below the other, of which the first lies `offset` below the head of its page.

    `room` is the height of a page; `followed` tells that something else stands below the last block on its page.
    """

    blocks: tuple[Block, ...]
    offset: float
    room: float
    followed: bool = True


def evened(run: Run, starts: Sequence[int]) -> Breaking | None:
    """A breaking on fewer pages, or on as many of which the emptiest is fuller; None without one or a need of one.

    Blocks that are left alone on a sparse page get a larger picture where they can. `starts` are the blocks that begin
    a page now, the first of them the first block, which stays where it is.
    """
    emptiest = _emptiest(run, starts)
    if len(starts) < 2 or emptiest >= SPARSE:
        return None
    best = _best(run, len(starts))
    better = best is not None and (len(best[1]) < len(starts) or _emptiest(run, best[1]) > emptiest)
    _, found, shares = best if best is not None and better else (0.0, tuple(starts), ())
    larger = tuple(_alone(run, found))
    return Breaking(found[1:], shares, larger) if better or larger else None


def _alone(run: Run, starts: Sequence[int]) -> Iterable[int]:
    """The blocks alone on a sparse page that has room for a larger picture."""
    for start, stop in pairwise((*starts, len(run.blocks))):
        used, grown = _used(run, start, stop), run.blocks[start].grown
        last = run.followed and stop == len(run.blocks)
        if stop == start + 1 and not last and used < SPARSE * run.room and 0 < grown <= run.room - used:
            yield start


def _emptiest(run: Run, starts: Sequence[int]) -> float:
    """How full the emptiest page is, without the last one where something follows there."""
    fills = [_used(run, one, two) / run.room for one, two in pairwise((*starts, len(run.blocks)))]
    return min(fills[:-1] if run.followed else fills, default=1.0)


def _used(run: Run, start: int, stop: int) -> float:
    first = run.blocks[start].height + (run.offset if start == 0 else 0.0)
    return first + sum(block.above + block.height for block in run.blocks[start + 1 : stop])


def _best(run: Run, most: int) -> _Way | None:
    """The breaking on at most so many pages that loses least, page by page (as paragraphs are broken into lines)."""
    ways: dict[int, _Way] = {0: (0.0, (), ())}
    found: list[_Way] = []
    for _ in range(most):
        longer: dict[int, _Way] = {}
        for start, (lost, starts, shares) in ways.items():
            for stop, here, smaller in _pages(run, start):
                way = (lost + here, (*starts, start), (*shares, *smaller))
                if stop not in longer or way < longer[stop]:
                    longer[stop] = way
        found += [longer.pop(len(run.blocks))] if len(run.blocks) in longer else []
        ways = longer
    return min(found, default=None)


def _pages(run: Run, start: int) -> Iterable[tuple[int, float, tuple[tuple[int, float], ...]]]:
    """Pages that begin with a block: up to which other one, what is lost there, and which pictures are smaller."""
    for stop in range(start + 1, len(run.blocks) + 1):
        used = _used(run, start, stop)
        weight = _END if run.followed and stop == len(run.blocks) else 1.0
        if used <= run.room:
            yield stop, weight * (1 - used / run.room) ** 2, ()
            continue
        here = range(start, stop)
        needed = used - run.room + _SLACK
        share = next((s for s in _SHARES if sum(run.blocks[n].gain(s) for n in here) >= needed), None)
        if share is None:
            return
        smaller = tuple((n, share) for n in here if run.blocks[n].gain(share) > 0)
        yield stop, 1 - share, smaller
