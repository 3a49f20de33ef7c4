"""Which faces a step sands, whatever else it does, and which of them its picture does not show; draws nothing."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from planbook.drawing.alt import listed
from planbook.solids import FACE_FRAMES
from planbook.solids.frames import dot
from planbook.solids.visible import View
from planbook.speech import called, say
from planbook.workshop.timeline import Cue, Event, Shown

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
    cues = [cue for other in others if other.show for cue in other.show.cues if cue.text in FACE_FRAMES]
    mine = [cue for cue in cues if cue.kind == "sand" and cue.piece in shown and _there(cue, shown[cue.piece])]
    return replace(event, show=replace(event.show, cues=(*event.show.cues, *mine))) if mine else event


def _there(cue: Cue, shown: Shown) -> bool:
    way = FACE_FRAMES[cue.text].n
    return abs(shown.piece.solid.reach(way) - dot(cue.points[0], way)) < LEVEL


def faces_away(views: Sequence[tuple[Sequence[Cue], View]]) -> str:
    """A sentence that names the faces to be sanded which look away in all views; "" if there are none."""
    every = [(cue, view) for cues, view in views for cue in cues if cue.kind == "sand" and cue.text in FACE_FRAMES]
    seen = {(cue.piece, cue.text) for cue, view in every if dot(FACE_FRAMES[cue.text].n, view.toward) > 0}
    hidden: dict[str, list[str]] = {}
    for piece, face in dict.fromkeys((cue.piece, cue.text) for cue, _ in every):
        if (piece, face) not in seen:
            hidden.setdefault(piece, []).append(face)
    if not hidden:
        return ""
    told = {piece: listed([say(face) for face in faces]) for piece, faces in hidden.items()}
    alike = len({*told.values()}) == 1 and {cue.piece for cue, _ in every} == {*hidden}
    named = [*told.values()][:1] if alike else [f"{faces} ({called(piece)})" for piece, faces in told.items()]
    return say("To be sanded too, out of sight: {faces}.", faces="; ".join(named))
