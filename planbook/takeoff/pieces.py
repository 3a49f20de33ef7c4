"""The pieces of the finished object with those joined into them, and what is left over; not the boards."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planbook.handbook import BUILT_IN, Handbook
from planbook.takeoff.boards import MM3_PER_M3, density_of
from planbook.takeoff.measure import dimensions, exact
from planbook.takeoff.named import steps_naming
from planbook.takeoff.records import Dimensions, Ending, LeftoverRow, PieceRow
from planbook.workshop import Event, Piece, Timeline
from planbook.workshop.members import volumes
from planbook.workshop.pieces import as_cut, woods

KEEP_LENGTH, KEEP_WIDTH = 100, 25
"""An offcut longer and wider than this, in mm, is worth keeping (common practice)."""
KEEP_SHARE = 0.5
"""An offcut that fills less than this of its box is a frame, a sickle or a heap of strips (our own limit)."""


CLOSING = "shim"
"""The operation that glues a strip into a cut."""


@dataclass(frozen=True, slots=True)
class _End:
    """How a piece ended: `event` is the number of the event that joined it into another, or -1."""

    ending: Ending
    part_of: str = ""
    event: int = -1


def piece_rows(timeline: Timeline) -> tuple[PieceRow, ...]:
    """A row for each piece that ends in the object or is joined into one, in order of making; then what is kept."""
    ends = _ends(timeline)
    every = {**_lost_in_slices(timeline, ends), **ends}
    order = {name: i for i, name in enumerate(dict.fromkeys(p.name for e in timeline.events for p in e.made))}
    names = sorted(every, key=lambda name: (every[name].ending == "kept", order.get(name, -1)))
    single = ends.keys() - _wholes(ends, timeline)
    return tuple(_row(number, name, every, name in single, timeline) for number, name in enumerate(names, start=1))


def _lost_in_slices(timeline: Timeline, ends: Mapping[str, _End]) -> dict[str, _End]:
    """Strips that close a cut of what is sawn apart later, so that no piece is made of them alone."""
    found: dict[str, _End] = {}
    for index, event in enumerate(timeline.events):
        if event.operation.kind != CLOSING:
            continue
        names = {name for piece in event.made for name in _joined_in(event, piece)} - ends.keys()
        found |= {name: _End("joined", event.made[0].name, index) for name in names}
    return found


def single_pieces(timeline: Timeline) -> tuple[str, ...]:
    """The names of the pieces that are drawn one by one: all of the list that are not put together or kept."""
    ends = _ends(timeline)
    whole = _wholes(ends, timeline)
    return tuple(name for name in ends if name not in whole)


def _wholes(ends: Mapping[str, _End], timeline: Timeline) -> set[str]:
    """What is kept, or put together from pieces that are listed themselves."""
    whole = {name for name, end in ends.items() if end.ending == "kept"}
    whole |= {
        end.part_of for end in ends.values() if end.event >= 0 and _is_new(timeline.events[end.event], end.part_of)
    }
    return whole


def _ends(timeline: Timeline) -> dict[str, _End]:
    """Every piece to be listed: walks back from the end to find what was joined into a listed piece."""
    ends = {name: _End(fate.ending) for name, fate in timeline.fates.items() if fate.ending in ("part", "kept")}
    for index in range(len(timeline.events) - 1, -1, -1):
        event = timeline.events[index]
        for piece in event.made:
            if piece.name in ends:
                for name in _joined_in(event, piece):
                    ends.setdefault(name, _End("joined", piece.name, index))
    return ends


def _joined_in(event: Event, made: Piece) -> tuple[str, ...]:
    """The pieces that an event used up in joining them into the piece it made."""
    if len(made.sources) < 2:
        return ()
    staying = {piece.name for piece in event.made}
    taken = {piece.name for piece in event.taken}
    return tuple(name for name in made.sources if name in taken and name not in staying)


def _is_new(event: Event, name: str) -> bool:
    """Whether an event made a piece out of others, and did not only add something to it."""
    return all(piece.name != name for piece in event.taken)


def leftovers(timeline: Timeline) -> tuple[LeftoverRow, ...]:
    """Pieces thrown away or left over, largest first."""
    fates = [fate for fate in timeline.fates.values() if fate.ending in ("discarded", "left over")]
    fates.sort(key=lambda fate: -fate.piece.solid.volume)
    return tuple(_leftover(timeline, fate.piece, fate.ending) for fate in fates)


def worth_keeping(size: Dimensions, volume: float) -> bool:
    """Whether an offcut is big enough for another job, and not just a frame or a thin curve in a big box."""
    longest, middle, _ = size.sides
    return longest > KEEP_LENGTH and middle > KEEP_WIDTH and volume >= KEEP_SHARE * float(size.volume)


def kilograms(piece: Piece, book: Handbook = BUILT_IN) -> float | None:
    """The weight of a piece's wood at 12 % moisture; None where one of its woods is not in the handbook."""
    total = 0.0
    for member, volume in volumes(piece):
        weight = density_of(member.wood, book)
        if weight is None:
            return None
        total += volume / MM3_PER_M3 * weight
    return total


def _row(number: int, name: str, ends: Mapping[str, _End], single: bool, timeline: Timeline) -> PieceRow:
    end = ends[name]
    last = _find(timeline.events[end.event].taken, name) if end.event >= 0 else timeline.fates[name].piece
    final = as_cut(last, ends) if single else last
    size = dimensions(final if single else as_cut(last, {each for each in ends if ends[each].part_of == name}))
    first, made_in = _first(timeline, name)
    return PieceRow(
        number=number,
        name=name,
        made=dimensions(first) if first else size,
        final=size,
        woods=woods(final),
        made_in=made_in,
        used_in=_used_in(timeline, name, made_in, end.ending),
        ending=end.ending,
        part_of=end.part_of,
        single=single,
        cubic_metres=exact(final.solid.volume) / MM3_PER_M3,
        kilograms=kilograms(final, timeline.design.handbook),
    )


def _used_in(timeline: Timeline, name: str, made_in: int, ending: Ending) -> tuple[int, ...]:
    """The other steps that take a piece; of one that is kept, also those whose words say what is done with it."""
    steps = {event.at.step for event in timeline.events if _has(event.taken, name)} - {made_in}
    if ending == "kept":
        steps |= {step for step in steps_naming(timeline, name) if step > made_in}
    return tuple(sorted(steps))


def _first(timeline: Timeline, name: str) -> tuple[Piece | None, int]:
    """A piece as it was made, and the step; (None, 0) for a board used as it was bought."""
    for event in timeline.events:
        if _has(event.made, name):
            return _find(event.made, name), event.at.step
    return None, 0


def _has(pieces: Iterable[Piece], name: str) -> bool:
    return any(piece.name == name for piece in pieces)


def _find(pieces: Iterable[Piece], name: str) -> Piece:
    return next(piece for piece in pieces if piece.name == name)


def _leftover(timeline: Timeline, piece: Piece, ending: Ending) -> LeftoverRow:
    size = dimensions(piece)
    return LeftoverRow(
        name=piece.name,
        size=size,
        woods=woods(piece),
        made_in=_first(timeline, piece.name)[1],
        ending=ending,
        worth_keeping=worth_keeping(size, piece.solid.volume),
    )
