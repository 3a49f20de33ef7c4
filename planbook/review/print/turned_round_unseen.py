"""A part that is nearly symmetric is put back without having been marked."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, name_of_made, place_of_name, setting
from planbook.review.say import short
from planbook.review.spoken import speaks_of
from planbook.solids import FACE_FRAMES
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Piece, Timeline

KIND = Kind(
    "PRT04",
    "turned-round-unseen",
    Severity.WARNING,
    "A layer that is later put back is almost its own mirror image, and no step has it marked.",
    "Turned round it seems to fit, and is out by a little everywhere. One that is quite symmetric fits either way.",
    'Slice off the face.\n\n```slice\nmakes = { face = "layer", rest = "rest" }\n```   (nearly symmetric)',
    'Slice off the face. Mark which way is up.\n\n```slice\nmakes = { face = "layer", rest = "rest" }\n```',
)
SAME = 0.9995
"""Share of a shape that its mirror image covers, above which the two are the same."""
ALIKE = 0.97
"""Above this the eye does not tell them apart (common practice)."""
MARKED = ("mark", "label", "number", "pencil", "chalk", "which way", "triangle")
"""Words that say that a part is marked."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Layers that can be put back the wrong way round."""
    glued = {piece.name for event in events_of(timeline, "glue", "glue up") for piece in event.taken}
    for event in events_of(timeline, "slice"):
        if speaks_of(timeline, event.at.step, MARKED):
            continue
        pattern = name_of_made(event, "layer")
        names = {pattern.replace("*", taken.name) for taken in event.taken}
        for piece in event.made:
            if piece.name in names & glued and ALIKE < _alike(event, piece) < SAME:
                yield KIND.at(
                    place_of_name(event, piece.name, timeline, "makes"),
                    f"step {event.at.step} slices off {short(piece.name)}, which is almost its own mirror image and is"
                    " not marked",
                    label="fits the wrong way round, nearly",
                    notes=(f"{_alike(event, piece):.1%} of it and its mirror image are the same",),
                    hint="let the step mark which way is up, or make it quite symmetric",
                )


def _alike(event: Event, piece: Piece) -> float:
    """The share of a layer, seen from its face, that its mirror image from side to side covers."""
    frame = FACE_FRAMES[setting(event, "face")]
    seen = piece.solid.face(frame)
    left, _, right, _ = seen.bounds
    return seen.meet(seen.mirrored("u", (left + right) / 2)).size / seen.size if seen.size else 0.0
