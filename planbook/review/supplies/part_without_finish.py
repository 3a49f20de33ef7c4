"""Some parts of the finished work get a finish and one does not."""

from collections.abc import Iterator

from planbook.review.cuts import events_of, place_of, setting
from planbook.review.say import short
from planbook.text import Finding, Kind, Severity
from planbook.workshop import Timeline

KIND = Kind(
    "SUP11",
    "part-without-finish",
    Severity.WARNING,
    "A part of the finished work is never finished, though others are.",
    "It stays pale among its neighbours, soils at once, and moves with every change of the weather.",
    '```finish\npieces = ["box"]\nfinish = "oil"\n```\n\n```assemble\npieces = ["box", "lid"]\n```',
    '```finish\npieces = ["box", "lid"]\nfinish = "oil"\n```\n\n```assemble\npieces = ["box", "lid"]\n```',
)


def check(timeline: Timeline) -> Iterator[Finding]:
    """Parts that are put together with no finish on any face, and that no `leave_bare` names."""
    finishes = list(events_of(timeline, "finish"))
    if not finishes or len(timeline.events) < len(timeline.design.operations):
        return
    last = finishes[-1]
    bare = " ".join(str(setting(event, "bare", "")) for event in finishes).lower()
    parts = {name for event in events_of(timeline, "assemble") for name in event.bench}
    for piece in timeline.object:
        if piece.name not in parts or piece.name.lower() in bare or _finished(piece.name, timeline):
            continue
        headline = f"step {last.at.step} finishes other parts, but {short(piece.name)} never gets a finish"
        yield KIND.at(
            place_of(last, "pieces"),
            headline,
            label=f"{short(piece.name)} is not among them",
            hint="name it here too, or say in `leave_bare` that it stays as it is",
        )


def _finished(name: str, timeline: Timeline) -> bool:
    """Whether a piece, or one that it was made from, was finished on any face."""
    piece = timeline.pieces[name]
    own = any(done.how == "finished" for done in piece.treated)
    return own or any(_finished(each, timeline) for each in piece.sources if each != name)
