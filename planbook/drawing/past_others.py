"""Leaders that pass over other pieces take a way past them, where their face and their column have one."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planbook.drawing.dodge import AIR, Signs, moved, off_marks, places, rooms, shifted
from planbook.drawing.names import KEEP, Label, Layout, crossing
from planbook.drawing.surfaces import Floats
from planbook.solids.hatch import Grounds

OVER = 3.0
"""A leader that lies over other pieces for no more than this, mm, is left as it is."""
LESS = 1 / 3
"""It is moved only where that leaves no more than this share of it over them."""
LONGER = 1.25
"""A leader gets no more than so many times as long, and the room that a dot keeps besides."""
SPOTS = 60
"""So many places of a face are tried at most, in turn with all places of the name."""
BEST = 40
"""So many ways are looked at closely."""
_LOOKS = (np.arange(24) + 0.5) / 24


def past_others(layout: Layout, pieces: Grounds, signs: Signs) -> Layout:
    """The layout with leaders led past other pieces; `pieces` are what is seen of each, mm of the view."""
    labels = list(layout.labels)
    led = [n for n, k in enumerate(labels) if k.side != "on" and k.wanted.faces and not k.ring]
    if not led or len(pieces) < 2:
        return layout
    whole = replace(signs, heads=signs.whole)
    dots = np.array([labels[n].dot for n in led])
    own = pieces.hold(lifted(dots, layout))
    over = _over([labels[n] for n in led], pieces, layout)
    for n, mine, far in zip(led, own.T, (over * ~own).sum(axis=0).tolist(), strict=True):
        if far > OVER:
            labels[n] = _past(labels[n], far, [*labels[:n], *labels[n + 1 :]], pieces.only(~mine), whole, layout)
    return replace(layout, labels=tuple(labels))


def _past(label: Label, before: float, names: Sequence[Label], others: Grounds, signs: Signs, layout: Layout) -> Label:
    """The label with the best way past other pieces, or as it is, `before` mm over them."""
    long = math.dist(label.start, label.dot)
    spots = off_marks(places(label, layout), signs)
    spots = spots[:: max(1, math.ceil(len(spots) / SPOTS))]
    most = LONGER * long + KEEP
    ends = [(name, name.start) for name in shifted(label, names, layout)]
    tried = [moved(name, spot) for name, start in ends for spot in spots if math.dist(start, spot) <= most]
    if not tried:
        return label
    ways = [
        (far + (math.dist(each.start, each.dot) + math.dist(each.start, label.start)) / 2, k)
        for k, (each, far) in enumerate(zip(tried, _over(tried, others, layout).sum(axis=0).tolist(), strict=True))
        if far <= LESS * before
    ]
    best = [tried[k] for _, k in sorted(ways)[:BEST]]
    for each, room in zip(best, rooms(best, signs, layout.size), strict=True):
        if room >= AIR and not any(crossing(each, other) for other in names if other.side != "on"):
            return each
    return label


def _over(labels: Sequence[Label], pieces: Grounds, layout: Layout) -> Floats:
    """For how far each leader lies over each piece, mm (pieces, leaders)."""
    starts, dots = (np.array(ends) for ends in ([k.start for k in labels], [k.dot for k in labels]))
    return over(starts, dots, pieces, layout, _LOOKS)


def over(starts: Floats, ends: Floats, pieces: Grounds, layout: Layout, looks: Floats) -> Floats:
    """For how far stretches of the paper lie over each piece, mm (pieces, stretches), looked at in these shares."""
    one, two = starts[:, None], ends[:, None]
    points = one + (two - one) * looks[:, None]
    shares = pieces.hold(lifted(points.reshape(-1, 2), layout)).reshape(len(pieces), len(one), -1).mean(axis=2)
    found: Floats = shares * np.linalg.norm(two - one, axis=2)[:, 0]
    return found


def lifted(points: Floats, layout: Layout) -> Floats:
    """Points of the paper (n,2) back in the view."""
    paper = layout.paper
    found: Floats = (points - np.array([paper.x, paper.y])) / np.array([paper.scale, -paper.scale])
    return found
