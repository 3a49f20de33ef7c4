"""Which faces a step sands, whatever else it does, and which of those it sands, rounds or chamfers its picture does not
show; draws nothing.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from planbook.drawing.alt import listed
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import dot, negated, plus
from planbook.solids.visible import View
from planbook.speech import called, say
from planbook.workshop.timeline import Cue, Event, Shown

_AWAY = {
    "sand": "Faces to be sanded too, out of sight: {faces}.",
    "rounded": "Edges to be rounded too, out of sight: {faces}.",
    "chamfered": "Edges to be chamfered too, out of sight: {faces}.",
}
"""What is said below a picture of faces that look away, by the kind of their cues."""
SEEN = 0.01
"""What looks toward a reader by less than this, as a cosine, is seen from the side."""
LEVEL = 0.05
"""A face is where it was sanded if it is no farther from there than this, mm."""


def sanded_faces(cues: Iterable[Cue]) -> tuple[str, ...]:
    """The names of the faces that ticks are for, each once."""
    return tuple(dict.fromkeys(cue.text for cue in cues if cue.kind == "sand" and cue.text in FACE_FRAMES))


def with_sanding(event: Event, others: Sequence[Event]) -> Event:
    """The event with the ticks of other operations of its step on faces that are still there."""
    if event.show is None or sanded_faces(event.show.cues):
        return event
    shown = {s.piece.name: s for s in event.show.pieces}
    every = [(other, cue) for other in others if other.show for cue in other.show.cues if cue.text in FACE_FRAMES]
    cues = [_carried(cue, other, shown[cue.piece]) for other, cue in every if cue.kind == "sand" and cue.piece in shown]
    mine = [cue for cue in cues if _there(cue, shown[cue.piece])]
    return replace(event, show=replace(event.show, cues=(*event.show.cues, *mine))) if mine else event


def _carried(cue: Cue, other: Event, shown: Shown) -> Cue:
    """The ticks of an operation on a piece that has been moved since, as it is, to where it is glued or put in."""
    old = next((piece.solid for piece in other.made if piece.name == cue.piece), None)
    new = shown.piece.solid
    if old is None or any(abs(a - b) > LEVEL for a, b in zip(old.extent, new.extent, strict=True)):
        return cue
    by = plus(new.bounds[0], negated(old.bounds[0]))
    return replace(cue, points=tuple(plus(point, by) for point in cue.points))


def _there(cue: Cue, shown: Shown) -> bool:
    way = FACE_FRAMES[cue.text].n
    return abs(shown.piece.solid.reach(way) - dot(cue.points[0], way)) < LEVEL


def faces_away(views: Sequence[tuple[Sequence[Cue], View]]) -> str:
    """Sentences that name the faces to be sanded, rounded or chamfered which look away in all views; "" without."""
    every = [(cue, view) for cues, view in views for cue in cues if cue.kind in _AWAY and _ways(cue)]
    told = (_away(words, [each for each in every if each[0].kind == kind]) for kind, words in _AWAY.items())
    return " ".join(sentence for sentence in told if sentence)


def told_below(cue: Cue, view: View) -> bool:
    """Whether a cue is for a face that looks away, so that words below the picture tell it."""
    return cue.kind in _AWAY and bool(_ways(cue)) and not _seen(cue, view)


def _ways(cue: Cue) -> list[Vec3]:
    """Where the faces look that a cue names, if it names faces."""
    names = cue.text.split()
    return [FACE_FRAMES[name].n for name in names] if all(name in FACE_FRAMES for name in names) else []


def _seen(cue: Cue, view: View) -> bool:
    """Whether a face, or the chamfer between two of them, looks toward the reader."""
    return sum(dot(way, view.toward) for way in _ways(cue)) > SEEN


def _away(words: str, every: Sequence[tuple[Cue, View]]) -> str:
    """An edge is in sight where what it is worked to is; of one that is an outline nothing is seen of that."""
    face = {cue: cue.text.split()[0] for cue, _ in every}
    seen = {(cue.piece, face[cue]) for cue, view in every if _seen(cue, view)}
    hidden: dict[str, list[str]] = {}
    for piece, name in dict.fromkeys((cue.piece, face[cue]) for cue, _ in every):
        if (piece, name) not in seen:
            hidden.setdefault(piece, []).append(name)
    if not hidden:
        return ""
    told = {piece: listed([say(name) for name in names]) for piece, names in hidden.items()}
    alike = len({*told.values()}) == 1 and {cue.piece for cue, _ in every} == {*hidden}
    pieces = {names: [called(piece) for piece in told if told[piece] == names] for names in told.values()}
    named = [f"{names} ({', '.join(mine)})" for names, mine in pieces.items()]
    if alike:
        # A bare "bottom" could be taken for a piece of that name where there are several.
        only = next(iter(told.values()))
        named = [f"{only} ({say('each piece')})" if len(told) > 1 else only]
    return say(words, faces="; ".join(named))
