"""Which way a step is looked at: the worked face turned to the reader, the home view wherever it shows that face."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import product

from planbook.drawing.look import Face, Placed, facing_area, plain_look
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import dot
from planbook.solids.visible import View, isometric

HOME = isometric(0, above=True)
"""From the front, right and above."""

ORDER: tuple[tuple[int, bool], ...] = (
    (0, True),
    (3, True),
    (1, True),
    (2, True),
    (0, False),
    (3, False),
    (1, False),
    (2, False),
)
"""Quarters and above or below, the most familiar first."""

ENOUGH = 0.3
"""Share of the worked face that must be seen before another view is tried."""
LEAST = 0.01
"""Share of the largest visible piece below which a piece counts as hidden."""
ALIKE = 0.97
"""Cosine to the direction of a face for a surface to belong to it."""

_SIDES = {0: "front right", 1: "back right", 2: "back left", 3: "front left"}


@dataclass(frozen=True, slots=True)
class Choice:
    """The view of a picture, how to say it in words, and which of the pieces that matter cannot be seen in it.

    `other` is a second view, from which some of those are seen that are not seen here.
    """

    view: View
    words: str
    unseen: tuple[int, ...]
    other: "Choice | None" = None


def direction_of(face: str) -> Vec3:
    """The outward direction of a face by name; up for a name that is none of the six."""
    return FACE_FRAMES[face].n if face in FACE_FRAMES else FACE_FRAMES["top"].n


def choose(placed: tuple[Placed, ...], face: str, matters: Sequence[int], two: bool = True) -> Choice:
    """The first of the eight isometric views that shows the face and every piece that matters.

    Where there is none, `two` views: the most familiar pair that shows them all, or as many as two views can.
    """
    direction = direction_of(face)
    best: tuple[tuple[int, float], Choice] | None = None
    for quarter, above in ORDER:
        view = isometric(quarter, above)
        if dot(view.toward, direction) <= 0:
            continue
        unseen, share = _judged(placed, view, direction, matters)
        choice = Choice(view, _words(quarter, above), unseen)
        if not unseen and (share >= ENOUGH or face not in FACE_FRAMES):
            return choice
        worth = (-len(unseen) - 2 * (share < 0.02), round(share, 3))
        if best is None or worth > best[0]:
            best = (worth, choice)
    assert best is not None  # every direction faces four of the eight views
    return _pair(placed, direction, matters, best[1]) if two and best[1].unseen else best[1]


def _pair(placed: tuple[Placed, ...], direction: Vec3, matters: Sequence[int], alone: Choice) -> Choice:
    """The view alone, or two views of which the second shows what is not seen in the first, home views first."""

    @cache
    def hidden(place: int) -> frozenset[int]:
        return frozenset(_hidden(placed, isometric(*ORDER[place]), matters))

    facing = [k for k, (quarter, above) in enumerate(ORDER) if dot(isometric(quarter, above).toward, direction) > 0]
    pairs = sorted((p for p in product(facing, range(len(ORDER))) if p[0] != p[1]), key=lambda p: (max(p), sum(p)))
    best: tuple[int, int] | None = None
    for pair in pairs:
        if best is None or len(hidden(pair[0]) & hidden(pair[1])) < len(hidden(best[0]) & hidden(best[1])):
            best = pair
            if not hidden(pair[0]) & hidden(pair[1]):
                break
    if best is None or len(hidden(best[0]) & hidden(best[1])) >= len(alone.unseen):
        return alone
    first, second = (
        Choice(isometric(*ORDER[k]), _words(*ORDER[k]), tuple(n for n in matters if n in hidden(k))) for k in best
    )
    return replace(first, other=second) if first.unseen else first


def _words(quarter: int, above: bool) -> str:
    return f"{_SIDES[quarter]} and {'above' if above else 'below'}"


def _hidden(placed: tuple[Placed, ...], view: View, matters: Sequence[int]) -> tuple[int, ...]:
    """The pieces that matter but are not seen, or hardly."""
    seen = plain_look(placed, view)
    largest = max((seen.area_of(n) for n in range(len(placed))), default=0.0)
    return tuple(n for n in matters if seen.area_of(n) <= min(LEAST * largest, 4.0) or seen.area_of(n) <= 0)


def _judged(
    placed: tuple[Placed, ...], view: View, direction: Vec3, matters: Sequence[int]
) -> tuple[tuple[int, ...], float]:
    """The pieces that matter but are hidden, and the share of their worked face that is seen."""
    seen, unseen = plain_look(placed, view), _hidden(placed, view, matters)
    for cosine in (ALIKE, 0.3):
        whole = sum(facing_area(placed[n][0], view, direction, cosine) for n in matters)
        if whole > 0:
            shown = sum(_facing(f, placed, view, direction, cosine) for f in seen.faces if f.piece in matters)
            return unseen, shown / whole
    return unseen, 0.0


def _facing(face: Face, placed: Sequence[Placed], view: View, direction: Vec3, cosine: float) -> float:
    """How much of a visible face looks in the direction, mm2; of a curved one at most all that does."""
    if not face.curved:
        return face.area if dot(face.normal, direction) >= cosine else 0.0
    return min(face.area, facing_area(placed[face.piece][0], view, direction, cosine, face.surface))
