"""What is left of a piece from which a step first saws what its picture is about; draws nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planbook.solids.frames import plus
from planbook.workshop.timeline import Event, Piece, Shown


def with_sawn_off(event: Event, others: Sequence[Event]) -> Event:
    """The event of a picture, with what a piece was sawn off earlier in the step, as far from it as it lay there.

    A reader who starts with that has it before him: the block behind the layer of which plugs are cut.
    """
    if event.show is None:
        return event
    taken, pieces = {piece.name for piece in event.taken}, event.show.pieces
    made = {piece.name: piece for each in others for piece in each.made}
    for other in reversed(others):
        rest = _rest(other, taken, made)
        own = next((s for s in other.show.pieces if s.piece.name in taken), None) if other.show and rest else None
        shown = {s.piece.name for s in pieces}
        if own is not None and not shown & {s.piece.name for s in rest}:
            pieces = (*(replace(s, apart=plus(s.apart, own.apart)) for s in pieces), *rest)
            taken |= {piece.name for piece in other.taken}
    return replace(event, show=replace(event.show, pieces=pieces)) if pieces is not event.show.pieces else event


def _rest(event: Event, taken: set[str], made: Mapping[str, Piece]) -> list[Shown]:
    """What an operation made besides a piece that is taken later, if nothing has been made of it since."""
    if event.show is None or not any(piece.name in taken for piece in event.made):
        return []
    still = {piece.name for piece in event.made if made[piece.name] is piece} - taken
    return [s for s in event.show.pieces if s.piece.name in still and s.role == "new"]
