"""What of a design is not told in a language and is therefore printed in its own; no errors, only what is missing."""

from collections.abc import Iterator

from planbook.model import ON_THE_CARD, Design, Translation
from planbook.reader.language_kinds import NOT_TRANSLATED
from planbook.speech import called, say, speaking
from planbook.text import Finding
from planbook.workshop import Timeline

_MOST = 6
"""So many names are told of."""
_IN = {"en": "English", "de": "German", "es": "Spanish", "fr": "French"}


def untold_everywhere(timeline: Timeline) -> Iterator[Finding]:
    """What is missing in each language that the maker began to write in."""
    for language in timeline.design.translations:
        yield from untold(timeline, language)


def untold(timeline: Timeline, language: str) -> Iterator[Finding]:
    """A note on what of a design is missing in a language; nothing in the language it was written in."""
    design = timeline.design.written or timeline.design
    if language == design.card.language:
        return
    told = design.translations.get(language)
    spoken, own = _IN.get(language, language), _IN.get(design.card.language, design.card.language)
    if told is None:
        headline = f"nothing of this design is told in {spoken}: its own words are printed in {own}"
        hint = f"write `steps.{language}.md` and `design.{language}.toml` beside `steps.md` and `design.toml`"
        yield NOT_TRANSLATED.at(design.card.place, headline, hint=hint)
        return
    names = _names(timeline, told)
    missing = [part for part in (_of_card(design, told), _of_steps(design, told), _count(len(names), "name")) if part]
    if missing:
        headline = f"not told in {spoken}, and printed in {own}: {'; '.join(missing)}"
        shown = ", ".join(f"`{name[:60]}`" for name in names[:_MOST])
        notes = (f"names: {shown}{' and more' if len(names) > _MOST else ''}",) if names else ()
        yield NOT_TRANSLATED.at(told.place, headline, notes=notes)


def _of_card(design: Design, told: Translation) -> str:
    keys = [key for key in ON_THE_CARD if getattr(design.card, key) and not told.card.get(key) and key != "price"]
    keys += ["introduction"] if design.intro and not told.intro else []
    return ", ".join(keys)


def _of_steps(design: Design, told: Translation) -> str:
    steps = [step for step, each in zip(design.steps, told.steps, strict=False) if step.prose and not each.prose]
    titles = [step for step, each in zip(design.steps, told.steps, strict=False) if not each.title]
    lost = len(design.steps) - len(told.steps)
    return ", ".join(filter(None, (_count(len(steps) + lost, "step"), _count(len(titles) + lost, "heading"))))


def _count(many: int, noun: str) -> str:
    return f"{many} {noun}{'s' if many > 1 else ''}" if many else ""


def _names(timeline: Timeline, told: Translation) -> list[str]:
    """Names and notes of the design that are printed and that neither the maker nor the catalogue has words for."""
    design = timeline.design
    texts = [piece.name for event in timeline.events for piece in (*event.taken, *event.made)]
    texts += [str(value) for event in timeline.events for key, value in event.settings if key == "bare"]
    texts += [*design.fits, *design.stock]
    for stencil in design.stencils.values():
        texts += [stencil.title, stencil.note]
    for choice in design.choices.values():
        texts += [choice.title, choice.summary]
    for tool in design.tools.values():
        texts += [tool.name, tool.note]
    for supply in design.supplies.values():
        texts += [supply.name, supply.note]
    texts += [prose.text for remedy in design.remedies.values() for prose in remedy.prose]
    with speaking(told.language, told.words):
        return [text for text in dict.fromkeys(texts) if text and text not in told.words and _bare(text)]


def _bare(text: str) -> bool:
    """Whether nobody has words for it, and it is no plain code such as P120."""
    return called(text) == text and say(text) == text and not (text[:1] == "P" and text[1:].isdigit())
