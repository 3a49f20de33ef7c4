"""Findings: what is wrong or doubtful in a design, as facts with places; not how they are printed."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from planbook.text.places import Place


class Severity(StrEnum):
    """How grave a finding is: an error stops a booklet."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Aside:
    """A second place that explains a finding."""

    place: Place
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to mend, with everything a renderer needs to show it."""

    code: str
    name: str
    severity: Severity
    headline: str
    place: Place
    label: str = ""
    also: tuple[Aside, ...] = ()
    notes: tuple[str, ...] = ()
    hint: str = ""

    @property
    def stops(self) -> bool:
        """True if no booklet may be printed while this stands."""
        return self.severity is Severity.ERROR


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of finding: its code is never reused. `bad` and `good` are short examples of a design."""

    code: str
    name: str
    severity: Severity
    what: str
    why: str
    bad: str
    good: str

    def at(
        self,
        place: Place,
        headline: str,
        *,
        label: str = "",
        also: Iterable[Aside] = (),
        notes: Iterable[str] = (),
        hint: str = "",
    ) -> Finding:
        """A finding of this kind."""
        return Finding(self.code, self.name, self.severity, headline, place, label, tuple(also), tuple(notes), hint)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings without repetitions, by file, line, column and code."""
    return tuple(sorted(set(findings), key=lambda f: (f.place, f.code, f.headline)))
