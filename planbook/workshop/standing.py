"""Parts that are in place in the object stand in the pictures of work on the others there; it moves nothing."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from planbook.workshop.timeline import Piece, Show, Shown


def parts_after(parts: Collection[str], made: Iterable[Piece]) -> tuple[str, ...]:
    """The names of pieces that became part of the object because one of its parts was joined into them."""
    joined = (piece for piece in made if len(piece.sources) > 1)
    return tuple(piece.name for piece in joined if any(name in parts for name in piece.sources))


def standing_in(taken: Iterable[Piece], parts: Collection[str], shut_in: Mapping[str, str]) -> tuple[str, ...]:
    """The names of other pieces that stand in the object with those taken up, or lie loose in or about them."""
    names = {piece.name for piece in taken}
    loose = {each for pair in shut_in.items() if names & {*pair} for each in pair}
    return tuple(sorted((loose | (names & {*parts} and {*parts})) - names))


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


def with_shut_in(show: Show, shut_in: Mapping[str, str], bench: Mapping[str, Piece]) -> Show:
    """The picture of work on pieces, with what lies loose in them and cannot come out; `shut_in` says in which."""
    moves = {s.piece.name: s.apart for s in show.pieces}
    inner = [(bench[name], moves[holder]) for name, holder in shut_in.items() if name in bench and holder in moves]
    found = tuple(Shown(piece, "context", by) for piece, by in inner if piece.name not in moves)
    return replace(show, pieces=(*show.pieces, *found)) if found else show


def shut_in_after(shut_in: Mapping[str, str], made: Iterable[Piece], names: Collection[str]) -> dict[str, str]:
    """In which piece each of those lies that are shut in: what that was joined into, and none that was cut open.

    `names` are those that what was made is now glued around.
    """
    made = tuple(made)
    into = {name: piece.name for piece in made for name in piece.sources} if len(made) == 1 else {}
    gone = {name for piece in made for name in piece.sources} - {piece.name for piece in made}
    kept = {name: into.get(holder, holder) for name, holder in shut_in.items() if holder in into or holder not in gone}
    return kept | {name: piece.name for name in names for piece in made[:1]}
