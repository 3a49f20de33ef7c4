"""A finish goes over faces that are as the saw left them."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of
from planbook.review.heights import flatness
from planbook.review.say import name_list, short
from planbook.review.spoken import speaks_of
from planbook.solids import FACE_FRAMES
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Piece, Timeline, Treated

KIND = Kind(
    "SUP07",
    "finish-over-sawn",
    Severity.WARNING,
    "A finish goes over flat faces that were sawn and never sanded or planed afterwards.",
    "Saw marks drink the finish and show for ever.",
    '```trim\npiece = "box"\nface = "left"\n```\n\n```finish\npieces = ["box"]\n```',
    '```trim\npiece = "box"\nface = "left"\n```\n\n```sand face\npiece = "box"\nfaces = ["left"]\n```\n\n'
    '```finish\npieces = ["box"]\n```',
)
SMOOTHED = ("sand", "scrape", "plane ", "planed")
"""Words that say that everything is made smooth, in the step of the finish or the one before."""
LEVEL = 0.5
"""Parts that reach as far as the outermost, but for so much (mm), form a side together with it."""
SEEN = 0.2
"""A side counts as a face where so much of it is flat."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Sawn faces under a finish."""
    for event in events_of(timeline, "finish"):
        if any(speaks_of(timeline, step, SMOOTHED) for step in (event.at.step, event.at.step - 1)):
            continue
        rough = {piece.name: _rough(piece, timeline) for piece in event.taken}
        for name, faces in rough.items():
            if faces:
                are = "are" if len(faces) > 1 else "is"
                yield KIND.at(
                    place_of(event, "pieces", "finish"),
                    f"step {event.at.step} finishes {short(name)}, whose {name_list(faces, 'and')} {are} as the saw"
                    f" left {'them' if len(faces) > 1 else 'it'}",
                    label="never sanded",
                    hint="sand the faces before, if only lightly: `sand flush` takes no more than it must",
                )


def _rough(piece: Piece, timeline: Timeline) -> list[str]:
    """The flat sides of a piece that were sawn later than they were sanded, or never sanded."""
    return [face for face in FACE_FRAMES if _sawn_last(piece, face, timeline) and flatness(piece.solid, face) > SEEN]


def _sawn_last(piece: Piece, face: str, timeline: Timeline) -> bool:
    """Whether a side was sawn last; a side of a glued piece is what the outermost of its parts brought along."""
    joined = max((_moment(done) for done in piece.treated if done.how == "glued"), default=(0, 0))
    parts = [timeline.pieces[name] for name in piece.sources if name in timeline.pieces]
    glued = len(parts) > 1 and piece.name not in piece.sources
    own = [done for done in piece.treated if done.face == face and done.how in ("sawn", "sanded")]
    own = [done for done in own if _moment(done) > joined] if glued else _without_set_in(own, piece, parts)
    if own or not glued:
        return bool(own) and max(own, key=_moment).how == "sawn"
    normal = FACE_FRAMES[face].n
    out = max(part.solid.reach(normal) for part in parts)
    return any(_sawn_last(part, face, timeline) for part in parts if part.solid.reach(normal) > out - LEVEL)


def _without_set_in(own: list[Treated], piece: Piece, parts: list[Piece]) -> list[Treated]:
    """What was done to a piece itself, without what plugs and shims brought into it."""
    strange = [
        done for part in parts if piece.name in piece.sources and part.name != piece.name for done in part.treated
    ]
    return [done for done in own if done not in strange]


def _moment(done: Treated) -> tuple[int, int]:
    return done.at.step, done.at.number
