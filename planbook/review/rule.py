"""What a rule is, and how a rule that only words the troubles of the build is written; it holds no rule."""

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol

from planbook.review.pointing import narrowed
from planbook.review.say import Say
from planbook.text import Aside, Finding, Kind, Place
from planbook.workshop import Timeline, Trouble


class Rule(Protocol):
    """A module that says what its findings are like, and makes them."""

    KIND: Kind

    def check(self, timeline: Timeline) -> Iterable[Finding]:
        """What the rule finds; the timeline stays as it is."""
        ...


@dataclass(frozen=True, slots=True)
class Words:
    """A trouble in words. `at` is the name to point at where the trouble only knows the list it is in."""

    headline: str
    label: str = ""
    notes: tuple[str, ...] = ()
    hint: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """The check of a rule that puts troubles of certain kinds into words; None for one that only follows another."""

    kind: Kind
    troubles: tuple[str, ...]
    words: Callable[[Trouble, Say], Words | None]

    def __call__(self, timeline: Timeline) -> Iterator[Finding]:
        """A finding for each of the troubles that have words."""
        say = Say(timeline)
        for trouble in timeline.troubles:
            told = self.words(trouble, say) if trouble.kind in self.troubles else None
            if told is not None:
                yield self._finding(trouble, told, say)

    def _finding(self, trouble: Trouble, told: Words, say: Say) -> Finding:
        design = say.timeline.design
        return self.kind.at(
            narrowed(trouble.place, told.at, design),
            told.headline,
            label=told.label,
            also=(_aside(place, text, told.at, say) for place, text in trouble.also),
            notes=told.notes,
            hint=told.hint,
        )


def _aside(place: Place, text: str, name: str, say: Say) -> Aside:
    """A second place, with the title of the step that it speaks of."""
    found = re.fullmatch(r".* in step (\d+)", text)
    titled = f"{text} {say.title(int(found[1]))}" if found else text
    return Aside(narrowed(place, name, say.timeline.design), titled)
