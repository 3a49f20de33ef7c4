"""The regions that a cut may name: those of the stencil it works to, and the sides of its lines."""

from planbook.model import Stencil
from planbook.review.pointing import operation_at
from planbook.workshop import Timeline, Trouble

SIDES = ("inside", "outside", "rest")


def stencil_of(trouble: Trouble, timeline: Timeline) -> Stencil | None:
    """The stencil that the operation of a trouble works to."""
    operation = operation_at(trouble.place, timeline.design)
    written = operation.fields.table().get("stencil") if operation else None
    return timeline.design.stencils.get(str(written.value)) if written else None


def regions_of(stencil: Stencil) -> tuple[str, ...]:
    """The names that `makes` may take from a stencil."""
    return (*(region.name for region in stencil.regions), *SIDES)


def has_mistyped_region(trouble: Trouble, timeline: Timeline) -> bool:
    """Whether the cut of a trouble also names a region that its stencil does not have."""
    stencil = stencil_of(trouble, timeline)
    beside = [t for t in timeline.troubles_of("region-not-loose") if t.place == trouble.place]
    return stencil is not None and any(t.facts["region"] not in regions_of(stencil) for t in beside)
