"""The steps whose words name a thing, in English or in the language spoken; no sentence is understood."""

import re
from collections.abc import Iterable
from functools import cache

from planbook.reader.markdown import without_comments
from planbook.reader.ruled_out import NOT_MEANT
from planbook.speech import called, say, told
from planbook.workshop import Timeline


def steps_naming(timeline: Timeline, name: str, others: Iterable[str] = ()) -> tuple[int, ...]:
    """The steps whose words name a tool or supply and do not rule it out; `others` may have its name within theirs."""
    words = _words(name)
    longer = tuple(
        word for other in others for word in _words(other) if any(one in word and one != word for one in words)
    )
    return tuple(
        step.number
        for step in timeline.design.steps
        if any(_names(_without(_plain(without_comments(prose.text)), longer), words) for prose in step.prose)
    )


def steps_naming_tool(timeline: Timeline, name: str, others: Iterable[str] = ()) -> tuple[int, ...]:
    """The steps whose words name a tool, or one of two that it is: "the drum" of "disc and drum"."""
    words = (name, *(f"the {part}" for part in name.split(" and ") if part != name))
    others = tuple(others)
    return tuple(sorted({step for word in words for step in steps_naming(timeline, word, others)}))


def names(text: str, name: str) -> bool:
    """Whether a text such as a note names a thing, and does not rule it out."""
    return _names(_plain(text), (_plain(name), _plain(say(name))))


def _words(name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(_plain(word) for word in (name, told(name), called(name), say(name))))


def _without(text: str, words: tuple[str, ...]) -> str:
    return _pattern(words).sub("", text) if words else text


def _names(text: str, words: tuple[str, ...]) -> bool:
    return any(not NOT_MEANT.search(text[: found.start()]) for found in _pattern(words).finditer(text))


def _plain(text: str) -> str:
    return re.sub(r"[-\s]+", " ", text)


@cache
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, words))})s?(?!\w)", re.IGNORECASE)
