"""Dangers that lie in the shape of the work under a machine; named as the handbook's cautions name them."""

from collections.abc import Iterable

from planbook.solids import FACE_FRAMES, OPPOSITE, Solid
from planbook.workshop import Event, Piece

FINGER_MARGIN = 100.0
"""Fingers stay this far from a blade, in mm (published rule of a workshop, 100 mm)."""
SHORT = 2 * FINGER_MARGIN
"""Two hands that keep the margin on both sides of a blade cannot hold work shorter than this, in mm."""
SMALL = 50.0
"""A part with no side longer than this is smaller than the least margin that schools teach (2 in), in mm."""
THIN = 6.0
"""Wood thinner than this flutters under a machine, in mm (common practice: 1/4 in)."""
LARGE_BIT = 13.0
"""Bits wider than this run at the slowest speed, in mm (published rules of schools: 1/2 in)."""
RESTING = 0.1
"""A bottom that touches the table with less than this share of its outline does not lie flat."""

BLADES = ("saw", "slice", "trim", "rip", "crosscut", "mitre")
FREE_HAND = ("saw",)
"""Operations in which the piece lies on the table with the face shown upwards."""
MACHINES = ("band saw", "scroll saw", "table saw", "disc sander", "drum sander", "router")


def geometries(event: Event, kinds: Iterable[str]) -> tuple[str, ...]:
    """The dangerous shapes of an event, given the kinds of the tools it uses."""
    if event.operation.kind in ("bore", "counterbore"):
        return ("large bit",) if _diameter(event) > LARGE_BIT else ()
    if not any(kind in MACHINES for kind in kinds):
        return ()
    tests = {
        "short piece": event.operation.kind in BLADES and any(_longest(p) < SHORT for p in event.taken),
        "small part": any(_longest(piece) < SMALL for piece in event.made),
        "thin piece": any(min(piece.solid.extent) < THIN for piece in event.made),
        "curved bottom": event.operation.kind in FREE_HAND and _rocks(event),
    }
    return tuple(name for name, found in tests.items() if found)


def lies_flat(solid: Solid, face: str) -> bool:
    """Whether a solid rests on a flat bottom when `face` is turned up."""
    frame = FACE_FRAMES[OPPOSITE[face]]
    return solid.face(frame).size >= RESTING * solid.shadow(frame).size


def _rocks(event: Event) -> bool:
    face = event.show.face if event.show else "top"
    return not all(lies_flat(piece.solid, face) for piece in event.taken)


def _longest(piece: Piece) -> float:
    return max(piece.solid.extent)


def _diameter(event: Event) -> float:
    return max((float(value) for key, value in event.settings if key == "diameter"), default=0.0)
