"""A stencil is stuck on and comes off again without any work done to it."""

from collections.abc import Iterator

from planbook.model import Operation
from planbook.review.say import short
from planbook.review.written import STICKING, named
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "FLO11",
    "stencil-for-nothing",
    Severity.WARNING,
    "A stencil is stuck on, but no work is done to it before it is peeled off or the plan ends.",
    "A step is missing, or the stencil is.",
    '```stick\nstencil = "outline"\n```\n\n```peel\nstencil = "outline"\n```',
    '```stick\nstencil = "outline"\n```\n\n```saw\nstencil = "outline"\n```\n\n```peel\nstencil = "outline"\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Stickings that no work follows."""
    operations = timeline.design.operations
    for number, operation in enumerate(operations):
        if operation.kind != "stick":
            continue
        for name in sorted(named(operation, "stencil") & timeline.design.stencils.keys()):
            after = [op for op in operations[number + 1 :] if name in named(op, "stencil")]
            end = _end(operation.step, after)
            if end is not None:
                where = operation.fields.table()["stencil"].place
                headline = f"step {operation.step} sticks on stencil {short(name)}, but {end}"
                yield KIND.at(where, headline, label="nothing is worked to it")


def _end(step: int, after: list[Operation]) -> str | None:
    """How a stencil ends without having been used, or None if it is used."""
    following = next((op for op in after if op.kind != "stick"), None)
    if following is None:
        return "no later step saws, sands or bores to it"
    if following.kind in STICKING:
        who = "the same step" if following.step == step else f"step {following.step}"
        return f"{who} peels it off unused"
    return None
