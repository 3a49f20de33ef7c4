"""Whether the prose of a step speaks of something, as a person would say it; it understands no sentence."""

import re
from collections.abc import Iterable

from planbook.reader.markdown import without_comments
from planbook.text import Place
from planbook.workshop import Timeline


def prose_of(timeline: Timeline, step: int) -> str:
    """What is written in a step, without comments; nothing for a step that does not exist."""
    steps = timeline.design.steps
    if not 0 < step <= len(steps):
        return ""
    return "\n".join(without_comments(prose.text) for prose in steps[step - 1].prose)


def place_of_word(timeline: Timeline, step: int, word: str) -> Place:
    """Where a word first stands in the prose of a step; the prose itself where it cannot be found."""
    found = timeline.design.steps[step - 1]
    pattern = re.compile(r"[-\s]+".join(map(re.escape, re.split(r"[-\s]+", word))), re.IGNORECASE)
    for prose in found.prose:
        source = timeline.design.sources.get(prose.place.file)
        lines = source.text.split("\n") if source else []
        for number in range(prose.place.line, prose.place.line + prose.text.count("\n") + 1):
            match = pattern.search(lines[number - 1]) if number <= len(lines) else None
            if match:
                return Place(prose.place.file, number, match.start() + 1, match.end() - match.start())
    return found.prose[0].place if found.prose else found.place


def speaks_of(timeline: Timeline, step: int, words: Iterable[str]) -> bool:
    """Whether one of the words stands in a step, with any ending: `cradle` is also found in `cradled`."""
    pattern = "|".join(re.escape(word) for word in words)
    return re.search(rf"(?<!\w)(?:{pattern})", prose_of(timeline, step), re.IGNORECASE) is not None
