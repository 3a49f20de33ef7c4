"""The narrow end of a piece is routed across the grain without a backing block."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import events_of, place_of, setting
from planbook.review.grains import one_way
from planbook.review.heights import powered
from planbook.review.say import Say, short
from planbook.review.spoken import speaks_of
from planbook.solids import FACE_FRAMES, Vec3
from planbook.solids.frames import dot
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Piece, Timeline
from planbook.workshop.grain import runs_along

KIND = Kind(
    "MAC17",
    "narrow-end-routed",
    Severity.WARNING,
    "The end grain of a narrow piece is routed, and the step does not say what backs it.",
    "The end turns into the opening of the table, and its far corner splits out (common practice: below 3 in).",
    '```round over\npiece = "rail"\nfaces = ["top"]\nsides = ["left", "right"]\n```',
    'Push it with a square block behind it.\n\n```round over\npiece = "rail"\nfaces = ["top"]\nsides = ["left"]\n```',
)
BACKED = ("block", "backing", "backer", "backed", "scrap", "sled", "gauge", "gage", "jig")
"""Words of a step that say what backs an end."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Ends that are too narrow to be routed as they are."""
    say, least = Say(timeline), limit("routed end")
    for event in events_of(timeline, "round over", "chamfer", "rabbet"):
        tool = powered(event, timeline, "router")
        if tool is None or speaks_of(timeline, event.at.step, BACKED):
            continue
        for piece in filter(one_way, event.taken):
            wide = min((_width(event, piece, end) for end in _ends(event, piece)), default=None)
            if wide is not None and wide < least - 1e-6:
                yield KIND.at(
                    place_of(event, "sides", "edges"),
                    f"step {event.at.step} routs the end grain of {short(piece.name)}, which is only {say.length(wide)}"
                    " wide",
                    label=f"an end of {say.length(wide)}",
                    hint="say in the step that a square block backs it, or rout it while the piece is still wide",
                )


def _ends(event: Event, piece: Piece) -> list[Vec3]:
    sides = (*(setting(event, "sides") or ()), *(setting(event, "edges") or ()))
    normals = [FACE_FRAMES[side].n for side in sides if side in FACE_FRAMES]
    return [normal for normal in normals if runs_along(piece, normal)]


def _width(event: Event, piece: Piece, end: Vec3) -> float:
    """How wide the end is along the edge that is routed, mm."""
    faces = [FACE_FRAMES[face].n for face in setting(event, "faces", ()) or (setting(event, "face"),)]
    free = [k for k in range(3) if abs(end[k]) < 0.5]
    widths = [piece.solid.extent[k] for face in faces for k in free if abs(dot(face, _axis(k))) < 0.5]
    return min(widths, default=1e9)


def _axis(k: int) -> Vec3:
    return (float(k == 0), float(k == 1), float(k == 2))
