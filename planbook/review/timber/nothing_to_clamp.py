"""Pieces are clamped where no faces are square to the clamps."""

from collections.abc import Iterator

import numpy as np

from planbook.handbook import limit
from planbook.review.cuts import events_of, place_of, setting
from planbook.review.say import name_list
from planbook.review.spoken import speaks_of
from planbook.solids import AXES, Solid, Vec3
from planbook.solids.frames import negated
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Event, Timeline

KIND = Kind(
    "TIM07",
    "nothing-to-clamp",
    Severity.WARNING,
    "Pieces are glued along an axis to which hardly any of their faces is square: the clamps find nothing flat.",
    "Clamps slip off a curve and push the joint out of line; the offcuts of the curve make good cauls.",
    '```glue\npieces = ["left half", "right half"]\nalong = "x"\n```   (two halves of a disc)',
    'Clamp them between the offcuts.\n\n```glue\npieces = ["left half", "right half"]\nalong = "x"\n```',
)
HELD = ("caul", "offcut", "wedge", "band clamp", "strap", "tape", "rubber", "rub joint", "cradle", "weight")
"""Words of a step that say how such a joint is pressed."""
SQUARE = 0.999
"""Cosine of the lean (2.5 degrees) up to which a clamp does not slip."""


def check(timeline: Timeline) -> Iterator[Finding]:
    """Joints that clamps slip off."""
    least = limit("clamped share")
    for event in events_of(timeline, "glue", "glue up"):
        share = _share(event)
        if share is not None and share < least and not speaks_of(timeline, event.at.step, HELD):
            names = name_list((piece.name for piece in event.taken), "and")
            axis = setting(event, "along")
            yield KIND.at(
                place_of(event, "along", "pieces"),
                f"step {event.at.step} clamps {names} along {axis}, where hardly any face is square to the clamps",
                label="nothing flat to clamp",
                notes=(f"the faces square to {axis} come to {share:.0%} of the joint",),
                hint="say in the step what the clamps press on: cauls, the offcuts, or a band clamp",
            )


def _share(event: Event) -> float | None:
    """How much flat wood of the whole looks along the axis, both ways, for each part of the joint that it closes."""
    axis, mating = setting(event, "along"), setting(event, "mating area", 0.0)
    if axis not in AXES or not event.made or mating <= 0:
        return None
    joints = max(1, len(event.taken) - 1)
    return min(_facing(event.made[0].solid, way) for way in (AXES[axis], negated(AXES[axis]))) * joints / float(mating)


def _facing(solid: Solid, way: Vec3) -> float:
    """The area (mm2) of a solid that looks in a direction, at whatever height: clamps reach over what stands out."""
    vertices, triangles = solid.mesh
    corners = vertices[triangles]
    cross = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    doubled = np.linalg.norm(cross, axis=1)
    return float(doubled[cross @ np.asarray(way) > SQUARE * doubled].sum() / 2)
