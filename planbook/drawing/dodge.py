"""Leaders, dots and numbers moved off what they would hide or pass over: one search, in which all has its price."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planbook.drawing.inset import boxed
from planbook.drawing.loose import loose_places
from planbook.drawing.marks import Fill, Mark, Ring, Stroke
from planbook.drawing.names import Label, Layout
from planbook.drawing.pads import UNSEEN
from planbook.drawing.surfaces import Floats
from planbook.drawing.ways import Ways, ways_of
from planbook.drawing.wedge import head
from planbook.drawing.words import DOT, disc
from planbook.solids.hatch import Grounds, Taken
from planbook.solids.hatch import taken as ground

Bools = NDArray[np.bool_]

ARROWS = ("push", "clamp", UNSEEN)
"""The layers of signs that lie over leaders."""
AIR = 0.7
"""Between a sign and a leader, the rim of its dot or a number on its disc, mm."""
OFF_LINES = 1.1
"""Between the middle of a dot and a line that it would hide, mm."""
BESIDE = 0.5
"""So near to a leader no other piece may begin, mm: the white beside it would break its edge."""
LINES = ("cut line", "printed line", "drill axis", "sand", "glue face")

HEAD, TAIL, ON_LINE = 60.0, 30.0, 5.0
"""What it costs, as mm of the leader, to hide a sign or the head of an arrow; no more than its tail; a thin line."""
OVER, CLIPPED = 2.0, 4.0
"""What each mm over other pieces costs, and that another piece is touched at all."""
NEXT, AT_JOINT = 1.0, 8.0
"""Nearer than this to another piece, mm, a dot seems to lie on the joint of both; and what that costs."""
CROSSED = 80.0
"""What it costs to cross another leader, or to run over a number or the dot of another leader."""
NEVER = 1000.0
"""What that costs where a name stands amid the drawing, and there to run over the words of another."""
NEAR_DOT = 0.8
"""So near to the dot of another leader no leader runs, mm."""
LOOSE_FROM = 12.0
"""From so much trouble on a name is tried amid the drawing."""
GAIN = 1.0
"""Nothing is moved that hides or passes over no more, nor for so little less."""
SOME = 40
"""So many ways are looked at in one go; mostly one of the first is clear."""
CLOSELY = 8
"""So many of them are looked at closely in one go."""
MOST = 500
"""So many ways are looked at closely at most."""
_LOOKS = (np.arange(24) + 0.5) / 24


@dataclass(frozen=True, slots=True)
class Signs:
    """Outlines of signs on paper: `whole` must not lie under a dot or a number, `heads` not over a leader either.

    `beside` are lines, such as those of a dimension, that no leader should cross; on `marks`, such as cut lines, no dot
    should lie.
    """

    whole: tuple[Ring, ...]
    heads: tuple[Ring, ...]
    beside: tuple[Ring, ...] = ()
    marks: tuple[Ring, ...] = ()


def taken(marks: Sequence[Mark], rings: Sequence[Ring] = (), beside: Sequence[Ring] = ()) -> Signs:
    """The arrows, clamps and lines among marks, rings of which all must stay whole, and lines beside them."""
    arrows = [ring for mark in marks if isinstance(mark, Fill) and mark.layer in ARROWS for ring in mark.rings]
    lines = tuple(
        (*mark.points, mark.points[0]) if mark.closed else mark.points
        for mark in marks
        if isinstance(mark, Stroke) and mark.layer in LINES
    )
    return Signs((*arrows, *rings), (*(head(ring) for ring in arrows), *rings), tuple(beside), lines)


@dataclass(frozen=True, eq=False, slots=True)
class _InTheWay:
    """What a leader meets: the heads of signs, all of them, thin lines, and pieces, mm of the view.

    Its `own` pieces do not matter, (pieces, 1), or (pieces, n) for n leaders; without `own` no piece does.
    """

    heads: Taken
    whole: Taken
    lines: Taken
    pieces: Grounds
    own: Bools | None = None


def clear_of(layout: Layout, signs: Signs, pieces: Grounds) -> Layout:
    """The layout with those dots, numbers and names moved whose leader or disc has a better place.

    `pieces` are what is seen of each piece, mm of the view. Notes, which point at one spot, stay where they are.
    """
    labels, met = list(layout.labels), _in_the_way(signs, pieces)
    troubled = {n: replace(met, own=own) for n, own in _troubled(labels, met, layout)}
    troubled |= {n: _in_the_way(signs, pieces, k.ring) for n, k in enumerate(labels) if k.ring and k.wanted.faces}
    for n, mine in sorted(troubled.items()):
        labels[n] = _better(labels[n], [*labels[:n], *labels[n + 1 :]], mine, layout)
    if layout.columns:  # what is still in trouble then may leave its column
        for n, mine in [(n, replace(met, own=own)) for n, own in _troubled(labels, met, layout, LOOSE_FROM)]:
            labels[n] = _better(labels[n], [*labels[:n], *labels[n + 1 :]], mine, layout, loose=True)
    return replace(layout, labels=tuple(labels))


def _troubled(
    labels: Sequence[Label], met: _InTheWay, layout: Layout, least: float = GAIN
) -> Iterator[tuple[int, Bools | None]]:
    """Which labels hide or pass over something where they are, and on which pieces their dots lie; rings not asked."""
    for on in (False, True):
        asked = [n for n, k in enumerate(labels) if k.wanted.faces and not k.ring and (k.side == "on") == on]
        if asked:
            now = Ways.present([labels[n] for n in asked])
            own = None if on else met.pieces.hold(lifted(now.dots, layout))
            each = replace(met, own=own)
            cost = _dear(now, each, layout) + _clipped(now, each, layout) + _on_line(now, met)
            cost += CROSSED * (_covered(now, labels, layout.size) - 1)  # a label covers itself
            for k in np.flatnonzero(cost >= least).tolist():
                yield asked[k], None if own is None else own[:, k : k + 1]


def _in_the_way(signs: Signs, pieces: Grounds, own: Ring = ()) -> _InTheWay:
    """What is in the way of a leader, but for the ring on which it ends."""
    whole, heads = ([(ring, ()) for ring in rings if ring != own] for rings in (signs.whole, signs.heads))
    lines = ground((), () if own else signs.marks)
    return _InTheWay(ground(heads, signs.beside), ground(whole, signs.beside), lines, pieces)


def _better(label: Label, others: Sequence[Label], met: _InTheWay, layout: Layout, *, loose: bool = False) -> Label:
    """The label where it costs least, if that is better than where it is; `loose`, amid the drawing as well."""
    now = Ways.present([label])
    best = float(_cheap(now, others, met, layout.size)[0] + _dear(now, met, layout)[0] + _clipped(now, met, layout)[0])
    trouble = best - float(now.long[0])
    if trouble < GAIN:
        return label
    amid = loose_places(label, others, layout, met.pieces, met.whole) if loose and label.side != "on" else []
    ways, found = ways_of(label, others, layout, amid), label
    cheap = _cheap(ways, others, met, layout.size)
    order = np.argsort(cheap, kind="stable")[:MOST]
    for some in np.split(order, range(SOME, len(order), SOME)):
        if cheap[some[0]] > best:
            break
        cost = cheap[some] + _dear(ways.only(some), met, layout)
        base = ways.long[some] + ways.price[some]
        dearer = np.argsort(cost, kind="stable")
        for few in np.split(dearer, range(CLOSELY, len(dearer), CLOSELY)):
            if cost[few[0]] > best:
                break
            each = cost[few] + _clipped(ways.only(some[few]), met, layout)
            fair = np.flatnonzero((each < best) & (each - base[few] < trouble - GAIN))
            if len(fair):
                least = fair[each[fair].argmin()]
                best, found = float(each[least]), ways.label(int(some[few[least]]))
    return found


def _cheap(ways: Ways, others: Sequence[Label], met: _InTheWay, size: float) -> Floats:
    """What ways cost at first sight: their length, what they cross of other names, thin lines that they hide."""
    found: Floats = ways.long + ways.price + _on_line(ways, met)
    loose = any(label.loose for label in (*ways.names, *others))
    if not ways.on:
        found += (NEVER if loose else CROSSED) * _crossed(ways, others)
    if loose:
        words = ground([boxed(other.box) for other in others if other.side != "on"], ())
        found += np.where(words.near(ways.starts, ways.dots, NEAR_DOT), NEVER, 0.0)
    return found + CROSSED * _covered(ways, others, size)


def _on_line(ways: Ways, met: _InTheWay) -> Floats:
    """What it costs to hide a thin line."""
    return np.where(met.lines.near(ways.spots, ways.spots, OFF_LINES), ON_LINE, 0.0)[ways.spot]


def _covered(ways: Ways, others: Sequence[Label], size: float) -> Floats:
    """How many other numbers, and dots of other leaders, each way covers: the leader, or the disc of a number."""
    spots = np.array([other.dot for other in others]).reshape(-1, 1, 2)
    wide = np.array([[disc(size) if other.side == "on" else NEAR_DOT] for other in others]).reshape(-1, 1)
    starts, along = (ways.dots, 0 * ways.dots) if ways.on else (ways.starts, ways.dots - ways.starts)
    square = np.maximum((along**2).sum(axis=1), 1e-9)
    share = np.clip(((spots - starts) * along).sum(axis=2) / square, 0.0, 1.0)
    far = np.linalg.norm(starts + share[:, :, None] * along - spots, axis=2)
    found: Floats = np.sum(far < wide + (disc(size) if ways.on else 0.0), axis=0, dtype=np.float64)
    return found


def _crossed(ways: Ways, others: Sequence[Label]) -> Floats:
    """How many leaders each way crosses."""
    led = [(other.start, other.dot) for other in others if other.side != "on"]
    if not led:
        return np.zeros(len(ways.long))
    a, b = ways.starts[:, None], ways.dots[:, None]
    c, d = np.array(led).transpose(1, 0, 2)[:, None]
    crossed = (_side(a, b, c) * _side(a, b, d) < 0) & (_side(c, d, a) * _side(c, d, b) < 0)
    found: Floats = np.sum(crossed, axis=1, dtype=np.float64)
    return found


def _side(p: Floats, q: Floats, r: Floats) -> Floats:
    """On which side of the lines from `p` to `q` the points `r` lie."""
    along, to = q - p, r - p
    found: Floats = along[..., 0] * to[..., 1] - along[..., 1] * to[..., 0]
    return found


def _dear(ways: Ways, met: _InTheWay, layout: Layout) -> Floats:
    """What ways cost for the signs and the other pieces that they pass, which takes longer to find."""
    starts, dots = ways.starts, ways.dots
    if ways.on:
        round_ = disc(layout.size)
        found = np.zeros(len(dots))
        for share in (0.2, 0.6, 1.0):
            found += HEAD / 3 * met.whole.near(dots, dots, share * round_ + AIR)
        return found
    found = np.where(met.whole.near(starts, dots, AIR), TAIL, 0.0)
    found[met.whole.near(dots, dots, DOT + AIR)] = TAIL
    hidden = found > 0
    found[hidden] += (HEAD - TAIL) * (
        met.heads.near(starts[hidden], dots[hidden], AIR) | met.whole.near(dots[hidden], dots[hidden], DOT + AIR)
    )
    if met.own is not None:
        found += OVER * (over(starts, dots, met.pieces, layout) * ~met.own).sum(axis=0)
    return found


def _clipped(ways: Ways, met: _InTheWay, layout: Layout) -> Floats:
    """What it costs to touch another piece or come near to one; slow to find, so that only the best ways are asked."""
    if met.own is None:
        return np.zeros(len(ways.long))
    one, two = lifted(ways.starts, layout), lifted(ways.dots, layout)
    own = np.broadcast_to(met.own, (len(met.own), len(one)))
    near = met.pieces.near(one, two, BESIDE / layout.paper.scale, own)
    joined = met.pieces.near(two, two, NEXT / layout.paper.scale, own)
    return np.where(near, CLIPPED, 0.0) + np.where(joined, AT_JOINT, 0.0)


def over(starts: Floats, ends: Floats, pieces: Grounds, layout: Layout) -> Floats:
    """For how far stretches of the paper lie over each piece, mm (pieces, stretches)."""
    one, two = starts[:, None], ends[:, None]
    points = one + (two - one) * _LOOKS[:, None]
    shares = pieces.hold(lifted(points.reshape(-1, 2), layout)).reshape(len(pieces), len(one), len(_LOOKS)).mean(axis=2)
    found: Floats = shares * np.linalg.norm(two - one, axis=2)[:, 0]
    return found


def lifted(points: Floats, layout: Layout) -> Floats:
    """Points of the paper (n,2) back in the view."""
    paper = layout.paper
    found: Floats = (points - np.array([paper.x, paper.y])) / np.array([paper.scale, -paper.scale])
    return found
