"""How the build ended: which pieces make the object, and what became of the others."""

from collections.abc import Mapping

from planbook.workshop.shop import Gone
from planbook.workshop.timeline import At, Ending, Fate, Piece


def object_of(bench: Mapping[str, Piece], parts: Mapping[str, At], kept: Mapping[str, At]) -> tuple[Piece, ...]:
    """The pieces of the finished object: those assembled; without an assembly, all that is not set aside."""
    chosen = [p for name, p in bench.items() if name in parts]
    return tuple(chosen or [p for name, p in bench.items() if name not in kept])


def fates_of(
    pieces: Mapping[str, Piece],
    bench: Mapping[str, Piece],
    gone: Mapping[str, Gone],
    parts: Mapping[str, At],
    kept: Mapping[str, At],
    made: tuple[Piece, ...],
) -> dict[str, Fate]:
    """What became of every piece that was on the bench at the end or was thrown away on purpose."""
    finished = {piece.name for piece in made}
    fates: dict[str, Fate] = {}
    for name, piece in pieces.items():
        if name in bench:
            ending: Ending = "part" if name in finished else "kept" if name in kept else "left over"
            moment = parts.get(name) or kept.get(name) or bench[name].at
            fates[name] = Fate(bench[name], ending, moment)
        elif name in gone and gone[name].how == "discarded":
            fates[name] = Fate(piece, "discarded", gone[name].at)
    return fates
