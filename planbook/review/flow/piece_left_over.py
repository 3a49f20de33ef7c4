"""A piece lies on the bench at the end and belongs to nothing; not one that a broken step may have meant."""

from collections.abc import Iterator

from planbook.review.pointing import narrowed
from planbook.review.say import Say, short
from planbook.review.written import broken
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Fate, Timeline

KIND = Kind(
    "FLO06",
    "piece-left-over",
    Severity.ERROR,
    "At the end a piece is neither part of the object, nor set aside, nor thrown away.",
    "A step was forgotten, or the reader is left wondering what this piece was for.",
    '```slice\nmakes = { lid = "layer", scrap = "rest" }\n```\n\n```assemble\npieces = ["box", "lid"]\n```',
    '```slice\nmakes = { lid = "layer", scrap = "rest" }\n```\n\n```discard\npieces = ["scrap"]\n```\n\n'
    '```assemble\npieces = ["box", "lid"]\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Left-over pieces that no broken operation can have been meant to take."""
    say = Say(timeline)
    last = max(((op.step, op.number) for op in broken(timeline)), default=(0, 0))
    for name, fate in timeline.fates.items():
        made = timeline.pieces[name].at
        if fate.ending == "left over" and (made.step, made.number) > last:
            yield _finding(name, fate, say)


def _finding(name: str, fate: Fate, say: Say) -> Finding:
    made, touched = say.timeline.pieces[name].at, fate.piece.at
    worked = (f"last worked in step {touched.step} {say.title(touched.step)}",) if touched.step > made.step else ()
    return KIND.at(
        narrowed(made.place, name, say.timeline.design),
        f"{short(name)}, made in step {made.step}, is left over: nothing uses it, keeps it or throws it away",
        label="made here",
        notes=(f"it measures {say.box(fate.piece.solid.extent)}", *worked),
        hint=f'use it, or end with a `set aside` or `discard` block with `pieces = ["{name}"]`',
    )
