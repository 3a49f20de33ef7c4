"""Paper of a stencil is still on the wood where that is glued, finished, lined, sanded or stuck over, or at the end."""

from collections.abc import Iterator
from itertools import takewhile

from planbook.review.cuts import place_of_name
from planbook.review.papered import Papered, papered
from planbook.review.pointing import narrowed
from planbook.review.say import Say, name_list, short
from planbook.review.written import STICKING, named
from planbook.text import Aside, Finding, Kind, Place, Severity
from planbook.workshop import Stuck, Timeline

KIND = Kind(
    "FLO18",
    "paper-left-on",
    Severity.WARNING,
    "A stencil is still on when its face is glued, finished, lined, sanded or stuck over, or when the plan ends.",
    "A joint on paper does not hold, finish does not reach the wood, abrasive clogs, and a second sheet lies uneven. "
    "A step that sands a face and speaks of its paper is passed over.",
    '```saw\nstencil = "hollow"\nmakes = { tray = "tray", heart = "heart" }\n```\n\n'
    '```glue\npieces = ["front", "tray"]\n```',
    '```saw\nstencil = "hollow"\nmakes = { tray = "tray", heart = "heart" }\n```\n\n'
    '```peel\npiece = "tray"\nstencil = "hollow"\n```\n\n```glue\npieces = ["front", "tray"]\n```',
)
_DOES = {"glued": "glues", "finished": "finishes", "lined": "lines", "sanded": "sands"}
_LABELS = {
    "glued": "paper in the joint",
    "finished": "paper under the finish",
    "lined": "paper under the lining",
    "sanded": "paper on the face",
    "stuck over": "paper under it",
    "left on": "never peeled off",
}


def check(timeline: Timeline) -> Iterator[Finding]:
    """What is done over paper, and paper that is on the object."""
    say = Say(timeline)
    for each in papered(timeline):
        names = list(dict.fromkeys(paper.stencil.name for paper in each.papers))
        yield KIND.at(
            _place(each, names[0], timeline),
            _headline(each, names),
            label=_LABELS[each.how],
            also=[] if each.event is None else [_stuck_here(paper, say) for paper in each.papers],
            hint=_hint(each, names, say),
        )


def _headline(each: Papered, names: list[str]) -> str:
    sheets = f"{'stencil' if len(names) == 1 else 'stencils'} {name_list(names, 'and')}"
    pieces, one = name_list((piece.name for piece in each.pieces), "and"), len(each.pieces) == 1
    still = f"still on {'it' if one else 'them'}"
    if each.event is None:
        return f"{pieces} {'is' if one else 'are'} part of what is built, with {sheets} {still}"
    step = f"step {each.event.at.step}"
    if each.event.stuck is not None:
        on = f"stencil {short(each.event.stuck.stencil.name)} on {pieces}"
        return f"{step} sticks {on} over {sheets}, which {'is' if len(names) == 1 else 'are'} {still}"
    return f"{step} {_DOES[each.how]} {pieces} with {sheets} {still}"


def _place(each: Papered, name: str, timeline: Timeline) -> Place:
    if each.event is None:
        return narrowed(each.papers[0].at.place, name, timeline.design)
    return place_of_name(each.event, each.pieces[0].name, timeline, "pieces", "piece")


def _stuck_here(paper: Stuck, say: Say) -> Aside:
    words = f"stuck on here, in step {paper.at.step} {say.title(paper.at.step)}"
    return Aside(narrowed(paper.at.place, paper.stencil.name, say.timeline.design), words)


def _hint(each: Papered, names: list[str], say: Say) -> str:
    last, what = _last(each, say.timeline), "it" if len(names) == 1 else "them"
    where = f" at the end of step {last} {say.title(last)}, where it is worked to last" if last else " before this"
    return f"peel {what} off with a `peel` block{where if len(names) == 1 else ' before this'}"


def _last(each: Papered, timeline: Timeline) -> int:
    """The last step before that works to the first paper on the first piece or what it came from; 0 if none does."""
    name, own = each.papers[0].stencil.name, _ancestors(each.pieces[0].name, timeline)
    before = each.event.at if each.event else None
    events = takewhile(lambda event: event.at != before, timeline.events)
    works = (e for e in events if e.operation.kind not in STICKING and name in named(e.operation, "stencil"))
    return max((e.at.step for e in works if own & {piece.name for piece in e.made}), default=0)


def _ancestors(name: str, timeline: Timeline) -> set[str]:
    found = {name}
    for event in reversed(timeline.events):
        found.update(source for piece in event.made if piece.name in found for source in piece.sources)
    return found
