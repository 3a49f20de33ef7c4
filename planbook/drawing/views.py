"""Which way a step is looked at: the worked face turned to the reader, the home view wherever it shows that face."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import chain, product

from planbook.drawing.glimpse import Glimpse, glimpse
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
BARELY = 0.15
"""The same where all other views are from below the floor, from where a reader seldom looks."""
LEAST = 0.01
"""Share of the largest visible piece below which a piece counts as hidden."""
LITTLE = 4.0
"""The same, mm2."""
TRACE = 0.1
"""The same, of what would be seen of it if nothing stood before it: a name would point at a scrap."""
MANY = 8_000
"""Pieces with so many triangles are looked at by samples before they are drawn, if others may hide them."""
ALIKE = 0.97
"""Cosine to the direction of a face for a surface to belong to it."""

Judged = tuple[tuple[int, ...], float]
"""The pieces that matter but are hidden from a side, and the share of their worked face that is seen."""

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


def choose(
    placed: tuple[Placed, ...], face: str, matters: Sequence[int], two: bool = True, also: Sequence[str] = ()
) -> Choice:
    """The first of the eight isometric views that shows the face and every piece that matters.

    Where there is none, `two` views: the most familiar pair that shows them all, or as many as two views can. Which
    views are worth it is found by looking at samples; what they show is then made sure of. `also` are other faces that
    are worked: of the views of the first, those come into question that look at most of them.
    """
    direction, matters = direction_of(face), tuple(matters)
    facing = _looking_at([direction, *(direction_of(each) for each in also)])
    found, rest = dict[int, Judged](), dict[int, Judged]()
    for k in _promising(placed, face, matters, facing, rest):
        found[k] = unseen, share = _judged(placed, isometric(*ORDER[k]), direction, matters)
        if not unseen and (share >= ENOUGH or face not in FACE_FRAMES):
            above = {n: each for n, each in found.items() if ORDER[n][1] and not each[0] and each[1] >= BARELY}
            return _choice(k if ORDER[k][1] or not above else _best(above), ())
    if two and all(unseen for unseen, _ in chain(found.values(), rest.values())):
        pair, lost = _pair(placed, direction, facing, matters, found)
        if not lost:
            return pair
    if rest:
        k = _best(rest)
        found[k] = _judged(placed, isometric(*ORDER[k]), direction, matters)
    best = _best(found)
    alone = _choice(best, found[best][0])
    if two and alone.unseen:
        pair, lost = _pair(placed, direction, facing, matters, found)
        return pair if len(lost) < len(alone.unseen) else alone
    return alone


def fair(
    placed: tuple[Placed, ...], face: str, matters: Sequence[int], shows: Callable[[View], bool]
) -> Iterator[Choice]:
    """The views from above that show a face, every piece that matters, and what `shows` asks, most familiar first."""
    direction, matters = direction_of(face), tuple(matters)
    for k, way in enumerate(ORDER):
        if way[1] and dot(isometric(*way).toward, direction) > 0 and shows(isometric(*way)):
            unseen, share = _judged(placed, isometric(*way), direction, matters)
            if not unseen and share >= BARELY:
                yield _choice(k, ())


def _looking_at(directions: Sequence[Vec3]) -> list[int]:
    """The places of the views that look at the first of some faces and at most others; from below one counts less."""
    many = {k: sum(dot(isometric(*way).toward, each) > 0 for each in directions) for k, way in enumerate(ORDER)}
    facing = [k for k, way in enumerate(ORDER) if dot(isometric(*way).toward, directions[0]) > 0]
    worth = {k: many[k] - (not ORDER[k][1]) for k in facing}
    return [k for k in facing if worth[k] == max(worth.values())] if len(directions) > 1 else facing


def from_side(quarter: int, above: bool) -> Choice:
    """A view by its quarter and whether it is from above, whatever it shows."""
    return _choice(ORDER.index((quarter, above)), ())


def _choice(place: int, unseen: tuple[int, ...]) -> Choice:
    quarter, above = ORDER[place]
    return Choice(isometric(quarter, above), _words(quarter, above), unseen)


def _worth(unseen: Sequence[int], share: float) -> tuple[int, float]:
    """What a view is worth that does not show all."""
    return (-len(unseen) - 2 * (share < 0.02), round(share, 3))


def _best(judged: Mapping[int, Judged]) -> int:
    """The place of the view that is worth most, the most familiar of equals."""
    return max(judged, key=lambda k: (_worth(*judged[k]), -k))


def _promising(
    placed: tuple[Placed, ...], face: str, matters: tuple[int, ...], places: Sequence[int], rest: dict[int, Judged]
) -> Iterator[int]:
    """Those of the views at these places of the order that show all by their samples; the `rest` is filled with what
    the samples say of the others. The first is given up only if they show nothing at all of a piece.
    """
    asked = len(matters) < len(placed) and sum(len(piece.solid.mesh[1]) for piece, _ in placed) > MANY
    for k in places:
        if k == places[0] and not (asked and _plainly_hides(placed, isometric(*ORDER[k]), direction_of(face), matters)):
            yield k
            continue
        unseen, share = _glimpsed(placed, isometric(*ORDER[k]), direction_of(face), matters)
        if k != places[0] and not unseen and (share >= ENOUGH or face not in FACE_FRAMES):
            yield k
        else:
            rest[k] = unseen, share


def _pair(
    placed: tuple[Placed, ...],
    direction: Vec3,
    facing: Sequence[int],
    matters: tuple[int, ...],
    found: Mapping[int, Judged],
) -> tuple[Choice, frozenset[int]]:
    """Two views of which the second shows what is not seen in the first, home views first; and what neither shows.

    What is `found` already is not looked at again.
    """

    @cache
    def lost(place: int) -> frozenset[int]:
        known = found.get(place) or _glimpsed(placed, isometric(*ORDER[place]), direction, matters)
        return frozenset(known[0])

    pairs = sorted((p for p in product(facing, range(len(ORDER))) if p[0] != p[1]), key=lambda p: (max(p), sum(p)))
    # The first pair that shows all, so that no view beyond it is looked at, or the first of the best.
    whole = next((p for p in pairs if not lost(p[0]) & lost(p[1])), None)
    best = whole or min(pairs, key=lambda p: len(lost(p[0]) & lost(p[1])))
    hidden = [_hidden(placed, isometric(*ORDER[k]), matters) for k in best]
    first, second = (_choice(k, unseen) for k, unseen in zip(best, hidden, strict=True))
    return (replace(first, other=second) if first.unseen else first), frozenset(hidden[0]) & frozenset(hidden[1])


def _words(quarter: int, above: bool) -> str:
    return f"{_SIDES[quarter]} and {'above' if above else 'below'}"


def _hidden(placed: tuple[Placed, ...], view: View, matters: tuple[int, ...]) -> tuple[int, ...]:
    """The pieces that matter but are not seen, or hardly."""
    seen = plain_look(placed, view)
    largest = max((seen.area_of(n) for n in range(len(placed))), default=0.0)
    return tuple(n for n in matters if _scrap(seen.area_of(n), largest, placed[n], view))


def _scrap(area: float, largest: float, placed: Placed, view: View) -> bool:
    """Whether so little is seen of a piece, mm2, that it counts as hidden."""
    alone = facing_area(placed[0], view, view.toward, 0.0)
    return area <= max(min(LEAST * largest, LITTLE), TRACE * alone)


def _judged(placed: tuple[Placed, ...], view: View, direction: Vec3, matters: tuple[int, ...]) -> Judged:
    """What is seen from there."""
    seen, unseen = plain_look(placed, view), _hidden(placed, view, matters)
    for cosine in (ALIKE, 0.3):
        whole = sum(facing_area(placed[n][0], view, direction, cosine) for n in matters)
        if whole > 0:
            shown = sum(_facing(f, placed, view, direction, cosine) for f in seen.faces if f.piece in matters)
            return unseen, shown / whole
    return unseen, 0.0


def _glimpsed(placed: tuple[Placed, ...], view: View, direction: Vec3, matters: tuple[int, ...]) -> Judged:
    """The same as `_judged` by samples, for a tenth of the work."""
    seen, whole = _samples(placed, view, direction, matters)
    unseen = tuple(n for n in matters if _scrap(seen.areas[n], max(seen.areas), placed[n], view))
    return unseen, sum(seen.facing) / whole if whole > 0 else 0.0


def _plainly_hides(placed: tuple[Placed, ...], view: View, direction: Vec3, matters: tuple[int, ...]) -> bool:
    """Whether none of the samples of a piece that matters is seen."""
    seen, _ = _samples(placed, view, direction, matters)
    return any(seen.areas[n] == 0.0 for n in matters)


@lru_cache(maxsize=16)
def _samples(
    placed: tuple[Placed, ...], view: View, direction: Vec3, matters: tuple[int, ...]
) -> tuple[Glimpse, float]:
    """What samples show of the pieces that matter, and what of their worked face there is to see, mm2."""
    cosine, whole = ALIKE, 0.0
    for cosine in (ALIKE, 0.3):
        whole = sum(facing_area(placed[n][0], view, direction, cosine) for n in matters)
        if whole > 0:
            break
    return glimpse([(piece.solid, by) for piece, by in placed], view, matters, direction, cosine), whole


def _facing(face: Face, placed: Sequence[Placed], view: View, direction: Vec3, cosine: float) -> float:
    """How much of a visible face looks in the direction, mm2; of a curved one at most all that does."""
    if not face.curved:
        return face.area if dot(face.normal, direction) >= cosine else 0.0
    return min(face.area, facing_area(placed[face.piece][0], view, direction, cosine, face.surface))
