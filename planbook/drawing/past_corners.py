"""Leaders that clip a corner of another piece, or touch its edge, are moved a little to the side."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planbook.drawing.dodge import AIR, Signs, moved, off_marks, places, rooms, shifted
from planbook.drawing.names import Label, Layout, crossing
from planbook.drawing.past_others import OVER, lifted, over
from planbook.drawing.surfaces import Floats
from planbook.solids.hatch import Grounds

BESIDE = 0.5
"""So near to a leader no other piece may begin, mm: the white beside it would break its edge."""
NEAR = 6.0
"""A dot is moved no further, mm."""
UP = 3.5
"""A name is moved no further up or down, mm."""
LONGER = 3.0
"""A leader gets no more than so much longer, mm."""
SPOTS = 16
"""So many places are tried for a dot at most."""
FEW = 24
"""So many ways are looked at in one go; mostly one of the first is clear."""
_LOOKS = (np.arange(60) + 0.5) / 60


def past_corners(layout: Layout, pieces: Grounds, signs: Signs) -> Layout:
    """The layout with its leaders clear of corners; `pieces` are what is seen of each, mm of the view.

    What has no clear place near by stays where it is, as do leaders that lie further over other pieces.
    """
    labels = list(layout.labels)
    led = [n for n, k in enumerate(labels) if k.side != "on" and k.wanted.faces and not k.ring]
    if not led or len(pieces) < 2:
        return layout
    own = pieces.hold(lifted(np.array([labels[n].dot for n in led]), layout)).T
    far = _over([labels[n] for n in led], pieces, layout).transpose(2, 0, 1)
    for n, mine, each in zip(led, own, far, strict=True):
        least, widest = each[0][~mine].sum(), each[:, ~mine].max(initial=0.0)
        if widest > 0 and least <= OVER:
            labels[n] = _moved(labels[n], [*labels[:n], *labels[n + 1 :]], pieces.only(~mine), signs, layout)
    return replace(layout, labels=tuple(labels))


def _moved(label: Label, names: Sequence[Label], others: Grounds, signs: Signs, layout: Layout) -> Label:
    """The label with the nearest way that is clear of other pieces, of signs and of other leaders."""
    ends = [name for name in shifted(label, names, layout) if math.dist(name.start, label.start) < UP]
    by_name = _first_clear(ends[1:], names, others, signs, layout)
    if by_name is not None:
        return by_name
    spots = off_marks([spot for spot in places(label, layout) if math.dist(spot, label.dot) < NEAR], signs)
    spots = spots[:: max(1, math.ceil(len(spots) / SPOTS))]
    most = math.dist(label.start, label.dot) + LONGER
    tried = [moved(name, spot) for name in ends for spot in spots if math.dist(name.start, spot) < most]
    tried.sort(key=lambda each: round(math.dist(each.start, label.start) + math.dist(each.dot, label.dot), 3))
    return _first_clear(tried, names, others, signs, layout) or label


def _first_clear(
    tried: Sequence[Label],
    names: Sequence[Label],
    others: Grounds,
    signs: Signs,
    layout: Layout,
) -> Label | None:
    """The first of some ways that is clear of all."""
    whole = replace(signs, heads=signs.whole)
    for start in range(0, len(tried), FEW):
        some = tried[start : start + FEW]
        far = _over(some, others, layout).max(axis=(0, 1))
        clear = [each for each, length in zip(some, far.tolist(), strict=True) if not length]
        for each, room in zip(clear, rooms(clear, whole, layout.size) if clear else (), strict=True):
            if room >= AIR and not any(crossing(each, other) for other in names if other.side != "on"):
                return each
    return None


def _over(labels: Sequence[Label], pieces: Grounds, layout: Layout) -> Floats:
    """For how far leaders, and lines to both sides of them, lie over each piece, mm (3, pieces, leaders)."""
    starts, dots = (np.array(ends) for ends in ([k.start for k in labels], [k.dot for k in labels]))
    way = dots - starts
    aside = np.stack([-way[:, 1], way[:, 0]], 1) / np.maximum(np.linalg.norm(way, axis=1), 1e-9)[:, None] * BESIDE
    ones, twos = (np.concatenate([ends + k * aside for k in (0, 1, -1)]) for ends in (starts, dots))
    found = over(ones, twos, pieces, layout, _LOOKS).reshape(len(pieces), 3, len(labels))
    return found.transpose(1, 0, 2)
