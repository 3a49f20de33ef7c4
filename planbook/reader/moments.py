"""Reads the film of a design: its address, and the moment of it that a step names; it follows no link."""

import re
from collections.abc import Iterable, Iterator

from planbook.model import Card, Moment, Node, Step
from planbook.reader import photo_kinds
from planbook.text import Finding, Place
from planbook.units import UnitProblem, read_minutes

FILM = "film"
"""The word after the fence of the block in which a step names its moment."""
LONGEST = 300
"""So that the code to scan stays coarse enough for a camera at arm's length."""
A_DAY = 24 * 60 * 60
_ADDRESS = re.compile(r"https?://[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?(?::\d{1,5})?(?:[/?#][!#-;=?-\[\]_a-z~]*)?")
"""A web address (RFC 3986) without a name and password, in characters that can stand in a text of HTML or TOML."""
_NAME = re.compile(r"\{([^{}]*)\}")
_NAMES = {"seconds", "h", "min", "s"}


def moment_of(root: Node, place: Place) -> tuple[Moment | None, Finding | None]:
    """The moment that a block names, or what is wrong with it."""
    table = root.table()
    at = table.get("at")
    if at is None or len(table) > 1 or not isinstance(at.value, str):
        other = next((node for key, node in table.items() if key != "at"), None)
        where = other.named_at if other else (at.place if at else place)
        headline = "a `film` block says when, and nothing else"
        return None, photo_kinds.BAD_MOMENT.at(where, headline, hint='write `at = "4 min 10 s"`')
    try:
        seconds = round(read_minutes(at.value) * 60)
    except UnitProblem as problem:
        headline = f"the moment of the film cannot be read: {problem}"
        return None, photo_kinds.BAD_MOMENT.at(at.place, headline, hint="write it as `4 min 10 s`")
    if not 0 <= seconds < A_DAY:
        headline = f"the moment `{at.value.strip()[:40]}` lies more than a day into the film"
        return None, photo_kinds.BAD_MOMENT.at(at.place, headline)
    return Moment(seconds, at.place), None


def check_film(card: Card, top: Node, steps: Iterable[Step]) -> Iterator[Finding]:
    """What is wrong with the addresses of a film, and moments of a film that there is not."""
    nodes = top.table()
    for key, address in (("film", card.film), ("film_moment", card.film_moment)):
        if address and (fault := _fault(key, address)):
            headline = f"`{key}` {fault}"
            hint = 'write it as `"https://film.example/a-film"`'
            yield photo_kinds.NOT_AN_ADDRESS.at(nodes[key].place, headline, hint=hint)
    if card.film_moment:
        yield from _pattern(card.film_moment, nodes["film_moment"].place)
    for step in steps:
        if step.moment and not (card.film or card.film_moment):
            headline = f"step {step.number} names a moment of a film, and the design names none"
            hint = "write the address as `film` at the top of `design.toml`"
            yield photo_kinds.NO_FILM.at(step.moment.place, headline, hint=hint)


def _fault(key: str, address: str) -> str:
    if len(address) > LONGEST:
        return f"has {len(address)} characters; {LONGEST} is the most"
    whole = _NAME.sub("0", address) if key == "film_moment" else address
    return "" if _ADDRESS.fullmatch(whole) else "is no address that begins with `https://` or `http://`"


def _pattern(pattern: str, place: Place) -> Iterator[Finding]:
    names = set(_NAME.findall(pattern))
    hint = "write `{seconds}` where all seconds stand, or `{h}`, `{min}` and `{s}`"
    if unknown := sorted(names - _NAMES):
        headline = f"`film_moment` has `{{{unknown[0][:40]}}}` in it, which is no part of a time"
        yield photo_kinds.BAD_PATTERN.at(place, headline, hint=hint)
    elif not ("seconds" in names or {"min", "s"} <= names):
        headline = "`film_moment` does not say where the seconds of a moment stand"
        yield photo_kinds.BAD_PATTERN.at(place, headline, hint=hint)
