"""Parts that are in place in the object stand in the pictures of work on the others there; it moves nothing."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from planbook.workshop.timeline import Piece, Show, Shown


def parts_after(parts: Collection[str], made: Iterable[Piece]) -> tuple[str, ...]:
    """The names of pieces that became part of the object because one of its parts was joined into them."""
    joined = (piece for piece in made if len(piece.sources) > 1)
    return tuple(piece.name for piece in joined if any(name in parts for name in piece.sources))


def with_parts(show: Show, parts: Collection[str], bench: Mapping[str, Piece]) -> Show:
    """The picture of work on parts of the object, with its other parts on the bench where they stand about them.

    Where those that are worked are drawn apart, the others stay with the largest of them.
    """
    names = {s.piece.name for s in show.pieces}
    worked = [s for s in show.pieces if s.piece.name in parts]
    others = [bench[name] for name in sorted(parts) if name in bench and name not in names]
    if not worked or not others:
        return show
    apart = max(worked, key=lambda s: s.piece.solid.volume).apart
    return replace(show, pieces=(*show.pieces, *(Shown(other, "context", apart) for other in others)))
