"""How review speaks of measures, moments and names of a design; it judges nothing."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from planbook.reader.words import did_you_mean, listed
from planbook.review.pointing import owner
from planbook.units import INCH_64, MM_TENTH, show_length
from planbook.workshop import Timeline, Trouble

MM_IN_INCH = 25.4
FINE = 1e-9
MOST_NAMES = 8
CUT = 60
"""Names from a design are cut here, so that a headline stays a line."""

HOW = {
    "glue": "glued it into",
    "glue up": "glued it into",
    "plug": "glued it into",
    "shim": "glued it into",
    "saw": "sawed it into",
    "slice": "sliced it into",
    "cut plugs": "cut it into",
}


@dataclass(frozen=True, slots=True)
class Say:
    """Words for the facts of one build, with lengths in the units of its design."""

    timeline: Timeline

    @property
    def _inches(self) -> bool:
        return self.timeline.design.card.units == "in"

    def length(self, mm: float) -> str:
        """A length with its unit; one too small for the usual fractions is printed as a decimal."""
        usual = show_length(Fraction(mm).limit_denominator(10**9), INCH_64 if self._inches else MM_TENTH)
        return self._fine(mm) if usual.startswith("0 ") and abs(mm) > FINE else usual

    def fine(self, mm: float) -> str:
        """A kerf or an allowance: thousandths of an inch, or hundredths of a millimetre."""
        value, places, unit = (mm / MM_IN_INCH, 3, "in") if self._inches else (mm, 2, "mm")
        return f"{_decimal(value, places)} {unit}"

    def _fine(self, mm: float) -> str:
        value, places, unit = (mm / MM_IN_INCH, 4, "in") if self._inches else (mm, 3, "mm")
        return f"{_decimal(value, places)} {unit}"

    def pair(self, a: float, b: float) -> tuple[str, str]:
        """Two lengths to be compared: fine enough to be told apart."""
        usual = self.length(a), self.length(b)
        return usual if usual[0] != usual[1] else (self._fine(a), self._fine(b))

    def box(self, extent: Iterable[float]) -> str:
        """A size along x, y and z."""
        return " × ".join(map(self.length, extent))

    def volume(self, mm3: float) -> str:
        """A volume in cubic centimetres or cubic inches."""
        value, unit = (mm3 / MM_IN_INCH**3, "in³") if self._inches else (mm3 / 1000, "cm³")
        places = max(0, 2 - math.floor(math.log10(abs(value)))) if abs(value) > FINE else 0
        return f"{_decimal(value, min(places, 6))} {unit}"

    def spot(self, point: Iterable[float]) -> str:
        """A point of the build, in its own directions."""
        return ", ".join(f"{axis} = {self.length(at)}" for axis, at in zip("xyz", point, strict=False))

    def title(self, step: int) -> str:
        """The title of a step in quotation marks."""
        steps = self.timeline.design.steps
        return f'"{steps[step - 1].title}"' if 0 < step <= len(steps) else ""

    def of_design(self, trouble: Trouble) -> bool:
        """Whether a trouble stands in `design.toml` and not in a step."""
        return trouble.place.file == self.timeline.design.card.place.file

    def who(self, trouble: Trouble) -> str:
        """What the trouble is about: a step, or a thing of `design.toml`."""
        if self.of_design(trouble):
            return owner(trouble.place, self.timeline.design)
        return f"step {trouble.step}"

    def takes(self, trouble: Trouble) -> str:
        """`step 9 takes`, or `fit `play` measures`."""
        return f"{self.who(trouble)} {'measures' if self.of_design(trouble) else 'takes'}"

    def used_up(self, how: str, by: tuple[str, ...]) -> str:
        """What an operation did to a piece that is gone: `glued it into `side``."""
        if how == "discarded" or not by:
            return "threw it away"
        return f"{HOW.get(how, 'made it into')} {name_list(by, 'and')}"

    def heirs(self, name: str, by: Iterable[str], bench: Iterable[str]) -> tuple[str, ...]:
        """Pieces on the bench that a piece became, directly or by way of others."""
        there = set(bench)
        pending, seen = list(by), {name}
        found: list[str] = []
        while pending:
            each = pending.pop(0)
            if each in there:
                found.append(each)
            elif each not in seen:
                seen.add(each)
                pending.extend(self._next(each))
        return tuple(dict.fromkeys(found))

    def _next(self, name: str) -> Iterator[str]:
        for event in self.timeline.events:
            made = [piece.name for piece in event.made]
            if name not in made and any(piece.name == name for piece in event.taken):
                yield from made


def short(name: str) -> str:
    """A name in backticks, cut where it is very long."""
    return f"`{name if len(name) <= CUT else name[: CUT - 1] + '…'}`"


def name_list(names: Iterable[str], joint: str = "or") -> str:
    """`a`, `b` and `c`; beyond eight names only how many there are."""
    cut = [name if len(name) <= CUT else name[: CUT - 1] + "…" for name in names]
    rest = len(cut) - MOST_NAMES
    if rest < 2:
        return listed(cut, joint)
    return f"{', '.join(f'`{name}`' for name in cut[:MOST_NAMES])} and {rest} more"


def bench_note(bench: Iterable[str]) -> tuple[str, ...]:
    """A note with what lies on the bench."""
    names = tuple(bench)
    return (f"on the bench now: {name_list(names, 'and')}" if names else "the bench is empty now",)


def known_note(what: str, names: Iterable[str]) -> tuple[str, ...]:
    """A note with the names there are: `blades: `a`, `b``."""
    listed_names = tuple(names)
    return (f"{what}: {name_list(listed_names, 'and')}",) if listed_names else ()


def meant(names: Iterable[str]) -> str:
    """A hint with up to four names that may be meant, or nothing."""
    return did_you_mean(tuple(names)[:4])


def _decimal(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
