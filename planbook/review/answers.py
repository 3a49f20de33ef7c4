"""Words for the question with which value of a size a fit just holds: the answer, or why there is none."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from planbook.model import Fit
from planbook.model.sizes import folded
from planbook.review.corners import corner_words
from planbook.review.say import Say, meant, short
from planbook.text import Finding, Kind, Place, Severity
from planbook.units import Quantity, near
from planbook.workshop import Timeline
from planbook.workshop.solving import Solved, Unsolved, solve

_ASK = "planbook solve curlew-box"
UNKNOWN_SIZE = Kind(
    "SOL01",
    "no-such-size",
    Severity.ERROR,
    "A value is asked for a size that the design does not have.",
    "Only the named sizes under [sizes] can be looked for.",
    f'{_ASK} "drawer gap" "left drawer slides"',
    f'{_ASK} "drawer play" "left drawer slides"',
)
UNKNOWN_FIT = Kind(
    "SOL02",
    "no-such-fit",
    Severity.ERROR,
    "A size is to be found for a fit that the design does not have.",
    "What must hold stands under [fits], each with its name.",
    f'{_ASK} "drawer play" "drawer slides"',
    f'{_ASK} "drawer play" "left drawer slides"',
)
NONE_FOUND = Kind(
    "SOL03",
    "no-value-holds",
    Severity.ERROR,
    "No value of a size was found with which a fit just holds over all that may vary.",
    "The fit holds or fails on the whole of the way that was looked at, or the build breaks on it.",
    f'{_ASK} "drawer play" "left drawer slides" --below "0.1 mm"',
    f'{_ASK} "drawer play" "left drawer slides" --below "2 mm"',
)
NO_MATTER = Kind(
    "SOL04",
    "size-does-not-matter",
    Severity.ERROR,
    "A fit measures the same whatever the value of a size.",
    "Another size decides it: look at what the moving piece and its opening are made from.",
    f'{_ASK} knob "left drawer slides"',
    f'{_ASK} "drawer play" "left drawer slides"',
)
NOTHING_ASKED = Kind(
    "SOL05",
    "fit-not-measured",
    Severity.ERROR,
    "A fit cannot be measured, so that no size can be found for it.",
    "It asks for no least and no most, or the build breaks for some kerf, board or humidity.",
    f'{_ASK} "drawer play" "left drawer slides"   (with a build that breaks)',
    f'{_ASK} "drawer play" "left drawer slides"',
)
KINDS = (UNKNOWN_SIZE, UNKNOWN_FIT, NONE_FOUND, NO_MATTER, NOTHING_ASKED)


@dataclass(frozen=True, eq=False)
class Question:
    """Which value of a size makes a fit hold; the bounds are in mm (or degrees, or plain numbers)."""

    timeline: Timeline
    size: str
    fit: str
    above: Fraction | None = None
    below: Fraction | None = None


def answer(question: Question) -> tuple[tuple[Finding, ...], tuple[str, ...]]:
    """Findings, or the sentences of the answer."""
    timeline = question.timeline
    design = timeline.design
    size = next((name for name in design.sizes if folded(name) == folded(question.size)), None)
    fit = design.fits.get(question.fit)
    missing = []
    if size is None:
        missing.append(_missing(UNKNOWN_SIZE, "size", question.size, design.sizes, design.card.place))
    if fit is None:
        missing.append(_missing(UNKNOWN_FIT, "fit", question.fit, design.fits, design.card.place))
    if size is None or fit is None:
        return tuple(missing), ()
    solved = solve(design, size, fit, question.above, question.below)
    words = _Words(Say(timeline), size, fit)
    if isinstance(solved, Solved):
        return (), words.answer(solved, design.sizes[size].expr.formula.text, timeline.sizes[folded(size)])
    return (words.finding(solved, design.sizes[size].place),), ()


def _missing(kind: Kind, what: str, name: str, known: Iterable[str], place: Place) -> Finding:
    names = tuple(known)
    headline = f"no {what} of the design is called {short(name)}"
    return kind.at(place, headline, label=f"no such {what}", hint=meant(near(name, names)))


@dataclass(frozen=True)
class _Words:
    say: Say
    size: str
    fit: Fit

    def answer(self, solved: Solved, text: str, given: Quantity) -> tuple[str, ...]:
        which, other = ("smallest", "less") if solved.rising else ("largest", "more")
        worst, value = corner_words(solved.corner, self.say.fine), self._value(given)
        written = "" if text == value else f" ({text})"
        return (
            f"{short(self.size)} = {self._value(solved.value)} is the {which} with which fit {short(self.fit.name)}"
            f" holds; the design has {value}{written}",
            f"it is tightest {worst}: {self.say.fine(max(solved.margin, 0.0))} to spare; 0.01 mm {other} fails",
        )

    def finding(self, unsolved: Unsolved, place: Place) -> Finding:
        size, fit = short(self.size), short(self.fit.name)
        match unsolved.why:
            case "none found":
                low, high = self._value(unsolved.low), self._value(unsolved.high)
                notes: tuple[str, ...] = (
                    f"with {low}: {self._margin(unsolved.low_margin)}",
                    f"with {high}: {self._margin(unsolved.high_margin)}",
                )
                held = (unsolved.low_margin or -1.0) >= 0
                ends = f"from {low} to {high}" if low != high else f"of {low}"
                headline = f"fit {fit} {'holds' if held else 'fails'} for every value of size {size} {ends}"
                notes = notes if low != high else notes[:1]
                return NONE_FOUND.at(place, headline, label="looked for here", notes=notes)
            case "does not depend":
                return NO_MATTER.at(place, f"fit {fit} does not depend on size {size}", label="makes no difference")
            case "no fit asked":
                return NOTHING_ASKED.at(
                    self.fit.place, f"fit {fit} asks for no least and no most", label="asks nothing"
                )
            case _:
                headline = f"fit {fit} cannot be measured for all that may vary"
                return NOTHING_ASKED.at(self.fit.place, headline, label="see `planbook check`")

    def _value(self, value: Quantity | None) -> str:
        if value is None:
            return "nothing"
        if value.is_length:
            return self.say.fine(float(value.value))
        return f"{float(value.value):g}{' deg' if value.is_angle else ''}"

    def _margin(self, mm: float | None) -> str:
        if mm is None:
            return "the build breaks"
        return f"{self.say.fine(mm)} to spare" if mm >= 0 else f"{self.say.fine(-mm)} short"
