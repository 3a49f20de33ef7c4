"""A design in another language: what its maker wrote for it, and the design with that in place of the original."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from planbook.model.pictures import Shown
from planbook.model.written import Operation, Prose, Step
from planbook.text import Place

if TYPE_CHECKING:
    from planbook.model.design import Card, Choice, Design

ON_THE_CARD = ("title", "summary", "skill", "licence", "price", "load")
"""What of the card may be said in another language."""


@dataclass(frozen=True, slots=True)
class Telling:
    """One step told in another language; an empty title or no prose leaves the original.

    `shown` are the photos that its words ask for, with words of that language.
    """

    title: str
    prose: tuple[Prose, ...]
    place: Place
    shown: tuple[Shown, ...] = ()


@dataclass(frozen=True, slots=True)
class Translation:
    """What the maker wrote in one language: the card, other words and sentences by the original, and the steps."""

    language: str
    card: Mapping[str, str]
    words: Mapping[str, str]
    intro: str
    steps: tuple[Telling, ...]
    place: Place


def with_language(design: "Design", language: str) -> "Design":
    """The design as it is told in a language; what nobody translated stays as it was written.

    Names of pieces, tools and supplies stay as they are, since everything is found by them: they are said in the
    language where they are printed.
    """
    told = design.translations.get(language)
    if told is None:
        return design
    choices = {name: _choice(choice, told) for name, choice in design.choices.items()}
    return replace(
        design,
        card=_card(design.card, told.card),
        intro=told.intro or design.intro,
        steps=tuple(_step(step, told) for step in design.steps),
        choices=choices,
        choice=choices[design.choice.name] if design.choice else None,
        written=with_language(design.written, language) if design.written else None,
    )


def telling(design: "Design", language: str, number: int) -> Telling | None:
    """How a step is told in a language, if it is."""
    told = design.translations.get(language)
    return told.steps[number - 1] if told and number <= len(told.steps) else None


def prose_in_all(design: "Design", step: Step) -> Iterator[Prose]:
    """The prose of a step in every language it is written in."""
    yield from step.prose
    for language in design.translations:
        told = telling(design, language, step.number)
        yield from told.prose if told else ()


def _card(card: "Card", told: Mapping[str, str]) -> "Card":
    said: dict[str, Any] = {key: text for key, text in told.items() if text}
    return replace(card, **said)


def _step(step: Step, told: Translation) -> Step:
    each = told.steps[step.number - 1] if step.number <= len(told.steps) else None
    if each is None:
        return step
    parts: tuple[Prose | Operation, ...] = (*each.prose, *step.operations) if each.prose else step.parts
    return replace(step, title=each.title or step.title, parts=parts, shown=_shown(step, each))


def _shown(step: Step, told: Telling) -> tuple[Shown, ...]:
    """The photos of a step with the words of its translation, then those that only the translation has."""
    own = {each.file: each for each in told.shown}
    return (*(own.pop(each.file, each) for each in step.shown), *own.values())


def _choice(choice: "Choice", told: Translation) -> "Choice":
    words = told.words
    return replace(
        choice, title=words.get(choice.title, choice.title), summary=words.get(choice.summary, choice.summary)
    )
