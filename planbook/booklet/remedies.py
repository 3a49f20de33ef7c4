"""What to do when something does not fit: the maker's own remedies, and what helps and moves each measured fit."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from planbook.booklet.basics import Fact, Link
from planbook.booklet.editions import Edition
from planbook.booklet.facts import found
from planbook.booklet.names import Names, step_anchor
from planbook.booklet.prose import inline_html, prose_html
from planbook.booklet.records import FitHelp, MovedRow, RemedyRow
from planbook.model import Design
from planbook.model.sizes import folded
from planbook.review.corners import corner_words
from planbook.speech import called, say
from planbook.takeoff.parted import parted
from planbook.workshop import Fitted, Timeline

LEAST_MM = {"mm": 0.015, "in": 0.0005 * 25.4}
"""What moves a fit by less than this is printed as nothing."""

MOST_NAMES = 5


@dataclass(frozen=True, slots=True)
class _Sort:
    """Fits that are eased alike: their kinds, what is measured, and by what is seen what to do about it.

    `joined` are those between pieces that are joined later on, or those that stay as they are; None is both. `parted`
    are those between parts that one cut parted along its line: they have curves, and what one lost the other lost too.
    """

    kinds: tuple[str, ...]
    title: str
    tight: tuple[str, str]
    loose: tuple[str, str] | None = None
    always: bool = False
    joined: bool | None = None
    parted: bool = False


SORTS = (
    _Sort(
        ("gap", "slide", "lift out"),
        "Parts sawn from one another along a line",
        (
            "If one sticks",
            "Rub its edge with a soft pencil and put it in: it touches where the pencil is smeared. Rub only there "
            "with a sanding stick, on what stands out and not in the hollow, two strokes at a time.",
        ),
        (
            "If one is loose",
            "Leave it: nothing can be put back on a curved edge. What does not hold at all is sawn anew together with "
            "the parts around it, with a blade that takes less.",
        ),
        always=True,
        parted=True,
    ),
    _Sort(
        ("slide", "swing", "lift out"),
        "What slides, turns or lifts out",
        (
            "If it sticks",
            "Move it gently as far as it goes. Rub its sides with a soft pencil and move it again: it touches where "
            "the pencil shines. Sand only there, by hand and a few strokes at a time, and try it after each. Rub the "
            "bare wood with wax when it runs. What sticks only in damp weather comes free by itself.",
        ),
        (
            "If it rattles",
            "Glue a strip of veneer or stout paper to a side that is not seen. When it is dry, ease it like one that "
            "sticks.",
        ),
        always=True,
        joined=False,
    ),
    _Sort(
        ("slide", "swing", "lift out"),
        "Joints that must close before they are glued",
        (
            "If it sticks",
            "Rub both sides of the joint with a soft pencil and try again: it touches where the pencil shines. Sand "
            "only there, by hand and a few strokes at a time, until it closes by hand. Use no wax: glue does not hold "
            "on it.",
        ),
        (
            "If it is loose",
            "Glue does not bridge a gap. Glue a strip of veneer to a face inside the joint and, when it is dry, ease "
            "it like one that sticks.",
        ),
        always=True,
        joined=True,
    ),
    _Sort(
        ("gap",),
        "The space between pieces",
        (
            "If it is too tight",
            "Push a strip of paper along between the two: where it does not pass, they touch. Sand there with a block, "
            "a few strokes at a time, on the piece where it shows least.",
        ),
        (
            "If it is too wide",
            "Leave it if nobody sees it. Where it shows, glue veneer of the same wood to the edge that shows least, "
            "and sand that down until it fits.",
        ),
    ),
    _Sort(
        ("wall",),
        "The thickness of walls",
        (
            "If it is too thin",
            "Sand no further there. If it gives under your thumb, glue a strip of the same wood to its hidden side, "
            "with the grain along the wall. What has to carry weight must be made again.",
        ),
    ),
    _Sort(
        ("flush",),
        "Faces that should be level",
        (
            "If one stands out",
            "Lay a straight edge across both to see which. Sand that one along the grain, with a block that also rests "
            "on the other, until the paper touches both.",
        ),
        always=True,
        joined=False,
    ),
    _Sort(
        ("flush",),
        "Faces that should be level at a glued joint",
        (
            "If one stands out too far",
            "See first that the joint is closed all the way. What stands out no more than is asked for is left until "
            "the glue is dry, and then sanded level.",
        ),
        always=True,
        joined=True,
    ),
    _Sort(
        ("reveal",),
        "Faces that stand back",
        ("If it stands back too little", "Take a little off what the piece behind rests against, and try again."),
        ("If it stands back too far", "Put veneer or card behind it, and glue that in when the step is right."),
    ),
)


def remedy_rows(design: Design, names: Names, language: str) -> tuple[RemedyRow, ...]:
    """The maker's remedies in the language spoken, each with what it is about."""
    return tuple(_row(design, name, names, language) for name in design.remedies)


def _row(design: Design, name: str, names: Names, language: str) -> RemedyRow:
    remedy = design.remedies[name]
    seen, why, mend = (prose.text for prose in remedy.prose)
    foreign = design.card.language != language and called(seen) == seen
    anchor = names.anchors.get(folded(remedy.piece))
    step = Link(say("Step {number}", number=remedy.step), step_anchor(remedy.step)) if remedy.step else None
    return RemedyRow(
        inline_html(called(seen), names.resolve),
        prose_html(called(why), names.resolve) if why else Markup(),
        prose_html(called(mend), names.resolve),
        step,
        Link(called(remedy.piece), anchor) if anchor else None,
        called(remedy.fit) if remedy.fit else "",
        design.card.language if foreign else "",
    )


def fit_helps(timeline: Timeline, edition: Edition) -> tuple[FitHelp, ...]:
    """What helps where a fit is not as it should be, and what moves it, one sort of fit after the other."""
    return tuple(_helps(timeline, edition))


def _helps(timeline: Timeline, edition: Edition) -> Iterator[FitHelp]:
    sawn = parted(timeline)
    measured = [fit for fit in timeline.fits if (fit.least, fit.most) != (None, None)]
    for sort in SORTS:
        fits = [fit for fit in measured if _is_of(sort, fit, fit.name in sawn)]
        if fits:
            moved = _alike([_moved(fit, timeline, edition) for fit in fits])
            yield FitHelp(say(sort.title), tuple(_advice(sort, fits)), moved, any(r.less or r.more for r in moved))


def _is_of(sort: _Sort, fit: Fitted, sawn: bool) -> bool:
    return fit.kind in sort.kinds and sort.joined in (None, fit.before is not None) and sort.parted == sawn


def _advice(sort: _Sort, fits: Sequence[Fitted]) -> Iterator[Fact]:
    if sort.always or any(fit.asked_least is not None for fit in fits):
        yield Fact(*map(say, sort.tight))
    if sort.loose and (sort.always or any(fit.asked_most is not None for fit in fits)):
        yield Fact(*map(say, sort.loose))


def _moved(fit: Fitted, timeline: Timeline, edition: Edition) -> MovedRow:
    """A fit with what makes it less and what makes it more, the strongest first."""
    proof = timeline.envelope.proof(fit.name) if timeline.envelope else None
    # What was asked for on both sides is judged by its narrowest place.
    of_least = fit.asked_least is not None
    drawn = fit.least if of_least else fit.most
    shifts: list[tuple[float, str]] = []
    for end in proof.ends if proof else ():
        value = end.least if of_least else end.most
        if value is not None and drawn is not None and abs(value - drawn) >= LEAST_MM[edition.system]:
            words = corner_words((end.setting,), lambda mm: _length(mm, edition), _tool)
            shifts.append((value - drawn, words))
    ordered = sorted(shifts, key=lambda shift: -abs(shift[0]))
    less, more = (
        tuple(Fact(words, _length(abs(by), edition)) for by, words in ordered if (by < 0) == down)
        for down in (True, False)
    )
    before = fit.before.step if fit.before else 0
    return MovedRow(
        (called(fit.name),), found(fit, edition), less, more, Link(str(before), step_anchor(before)) if before else None
    )


def _alike(rows: Sequence[MovedRow]) -> tuple[MovedRow, ...]:
    """Fits that measure alike and are moved alike, in one row."""
    together: dict[MovedRow, list[str]] = {}
    for row in rows:
        together.setdefault(replace(row, names=()), []).extend(row.names)
    return tuple(replace(row, names=_few(names)) for row, names in together.items())


def _few(names: Sequence[str]) -> tuple[str, ...]:
    """Names to find the row by; where many fits are alike, nobody reads them all."""
    if len(names) <= MOST_NAMES:
        return tuple(names)
    shown = names[: MOST_NAMES - 1]
    return (*shown, say("and {count} more", count=len(names) - len(shown)))


def _tool(name: str) -> str:
    return say("the {name}", name=called(name))


def _length(mm: float, edition: Edition) -> str:
    return f"{edition.gap(mm)} {edition.system}"
