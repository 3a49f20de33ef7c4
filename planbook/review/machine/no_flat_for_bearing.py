"""An edge bit has no flat left for its bearing to run on."""

from collections.abc import Iterator

from planbook.handbook import limit
from planbook.review.cuts import events_of, place_of, setting
from planbook.review.heights import powered
from planbook.review.say import Say, short
from planbook.solids import FACE_FRAMES, OPPOSITE
from planbook.solids.frames import negated
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Piece, Timeline

KIND = Kind(
    "MAC16",
    "no-flat-for-bearing",
    Severity.WARNING,
    "Edges are routed so far from both faces that nothing flat is left between them.",
    "The bearing of the bit runs on the edge that is left; without one the bit cuts in (common practice: 2 mm).",
    '```round over\nfaces = ["front", "back"]\nradius = "6 mm"\n```   (of a board of 12 mm)',
    '```round over\nfaces = ["front", "back"]\nradius = "5 mm"\n```   (of a board of 12 mm)',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Edges on which no bearing runs."""
    say, least = Say(timeline), limit("flat for a bearing")
    for event in events_of(timeline, "round over", "chamfer"):
        tool = powered(event, timeline, "router")
        for piece in event.taken if tool else ():
            left = _left(event, piece)
            if tool and left < least - 1e-6:
                flat = "nothing" if left < 1e-6 else f"only {say.length(left)}"
                yield KIND.at(
                    place_of(event, "radius", "width"),
                    f"step {event.at.step} leaves {flat} flat between the faces of {short(piece.name)} for the bearing"
                    f" of {short(tool.name)}",
                    label=f"{flat} is left",
                    hint="work the second face against a fence, or take less",
                )


def _left(event: Event, piece: Piece) -> float:
    """The least that is left flat between two faces, mm."""
    size = setting(event, "radius") or setting(event, "width") or 0.0
    faces = setting(event, "faces", ())
    flats = []
    for face in faces:
        normal = FACE_FRAMES[face].n
        thick = piece.solid.reach(normal) + piece.solid.reach(negated(normal))
        flats.append(thick - size * (2 if OPPOSITE[face] in faces else 1))
    return min(flats, default=1e9)
