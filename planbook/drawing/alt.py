"""What a picture shows, in words, for readers who cannot see it; made from the facts of the build alone."""

from collections.abc import Iterable, Sequence

from planbook.speech import called, labelled, say
from planbook.workshop.timeline import Event, Role, Shown

_WORDS: dict[Role, str] = {
    "worked": "Worked on",
    "new": "New",
    "waste": "Waste",
    "context": "Beside it",
}
_CUES = {
    "cut line": "a line to cut",
    "printed line": "the lines of the stencil",
    "drill axis": "the middle of a hole",
    "push": "an arrow that shows which way to push",
    "clamp": "where the clamps press, and which way",
    "sand": "ticks where it is sanded",
    "glue face": "rings where glue goes",
    "lining": "in a tone of its own, where it is lined",
}
MOST = 6
"""Names told one by one in one sentence; the rest is counted."""


def of_step(event: Event, face: str, seen_from: str, *beside: str, before: bool = False) -> str:
    """Alternative text of a step picture: operation, pieces by role, view (and views beside it) and signs.

    `before` says that it shows what was there before.
    """
    show = event.show
    if show is None:
        return say("Step {step}, {kind}.", step=event.at.step, kind=say(event.operation.kind))
    sentences = [say("Step {step}, {kind}.", step=event.at.step, kind=say(event.operation.kind))]
    sentences += [
        labelled(say(_WORDS[role]), f"{listed(_names(show.pieces, role))}.")
        for role in _WORDS
        if _names(show.pieces, role)
    ]
    seen = (
        say("The {face} face is turned to the reader, seen from the {view}.") if face else say("Seen from the {view}.")
    )
    sentences.append(seen.format(face=say(face), view=say(seen_from)))
    sentences += [say("Beside it: seen from the {view}.", view=say(other)) for other in beside]
    apart = [s.piece.name for s in show.pieces if any(s.apart)]
    if apart:
        sentences.append(say("The pieces are drawn pulled apart."))
    if before:
        sentences.append(say("A thin line shows what was there before."))
    cues = [say(_CUES[kind]) for kind in _CUES if any(cue.kind == kind for cue in show.cues)]
    if cues:
        sentences.append(say("Marked: {signs}.", signs=listed(cues)))
    sentences += [say("Note: {text}.", text=cue.text) for cue in show.cues if cue.kind == "note" and cue.text]
    return " ".join(sentences)


def of_object(title: str, names: Iterable[str], exploded: bool = False) -> str:
    """Alternative text of the cover picture or of the exploded view."""
    whole = title or say("The finished object")
    said = say("{title}, its pieces pulled apart and numbered.", title=whole) if exploded else f"{whole}."
    every = [called(name) for name in names]
    return f"{said} {say('Pieces: {names}.', names=listed(every))}" if every else f"{title}."


def of_opened(names: Iterable[str]) -> str:
    """What to add where the object is shown opened as well: the pieces that were moved."""
    return say("Beside it the same, opened: {names}.", names=listed([called(name) for name in names]))


def of_piece(name: str, extent: Sequence[float]) -> str:
    """Alternative text of the small picture of a piece; its size in mm."""
    wide, deep, tall = (round(side) for side in extent)
    return say(
        "The piece {name}, {wide} mm wide, {deep} mm deep and {tall} mm high.",
        name=called(name),
        wide=wide,
        deep=deep,
        tall=tall,
    )


def listed(names: Sequence[str]) -> str:
    """Names in a sentence; of many, the first ones and how many more there are."""
    if len(names) > MOST + 1:
        return f"{', '.join(names[:MOST])} {say('and {count} more', count=len(names) - MOST)}"
    return say(" and ").join(part for part in (", ".join(names[:-1]), names[-1]) if part) if names else ""


def _names(shown: Sequence[Shown], role: Role) -> list[str]:
    return [called(s.piece.name) for s in shown if s.role == role]
