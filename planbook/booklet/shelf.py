"""The pages of a shelf: a list of plans with what they are found by, and a page for each. It reads no archive.

Every text may come from somebody else; `plain` takes out what could disturb a page, and the templates escape the rest.
"""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from planbook.booklet.basics import Fact
from planbook.booklet.compose import environment, fill
from planbook.booklet.fractions import fractions
from planbook.booklet.layouts import layout_root

LAYOUT = "shelf"
STYLE, SCRIPT = "shelf.css", "shelf.js"
"""Files of the layout that every page names."""
TIMES = (
    (240.0, "up to 4 h"),
    (600.0, "4 to 10 h"),
    (1200.0, "10 to 20 h"),
    (float("inf"), "more than 20 h"),
)
"""Minutes of work, at most."""
SIZES = (
    (200.0, "up to 200 mm (8 in)"),
    (500.0, "200 to 500 mm (8 to 20 in)"),
    (1000.0, "500 mm to 1 m (20 to 40 in)"),
    (float("inf"), "more than 1 m (40 in)"),
)
"""The longest side in mm, at most."""
MOST_WORDS, LONGEST_WORD, LONGEST_OPTION = 3_000, 60, 70
_UNSEEN = {"Cc", "Cs", "Cn", "Co"}
_TURNING = set("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u206a\u206b\u206c\u206d\ufeff")
"""Characters that change the direction of text, or are not seen (Unicode Standard Annex 9)."""
_NAME = re.compile(r"`([^`]+)`")


@dataclass(frozen=True, slots=True)
class VersionRow:
    """A version of a plan: its number, the day of its release (UTC), what is new in it, and how much more there is."""

    version: str
    day: str
    changes: tuple[str, ...]
    after: str = ""
    more: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """A plan as its newest version tells of it. File names are those beside its page, "" where there is none.

    `minutes` of work and the `longest` side in mm are None where they are not known; `versions` begin with the newest.
    """

    name: str
    title: str
    summary: str
    maker: str
    skill: str
    licence: str
    price: str
    woods: tuple[str, ...]
    facts: tuple[Fact, ...]
    needs: tuple[tuple[str, tuple[Fact, ...]], ...]
    versions: tuple[VersionRow, ...]
    minutes: float | None = None
    longest: float | None = None
    words: tuple[str, ...] = ()
    cover: str = ""
    thumbnail: str = ""
    sample: str = ""
    sheet: str = ""

    def fact(self, label: str) -> str:
        """What a fact says, or ""."""
        return next((fact.value for fact in self.facts if fact.label == label), "")


@dataclass(frozen=True, slots=True)
class Filter:
    """A choice above the list: its key, its label, and its values with their words."""

    key: str
    label: str
    options: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class Card:
    """A plan in the list, with the values by which each filter finds it."""

    plan: Plan
    found_by: tuple[tuple[str, str], ...]

    @property
    def words(self) -> str:
        """What it is searched by."""
        return " ".join(self.plan.words)


def list_html(plans: Sequence[Plan]) -> str:
    """The page with all plans. Raises LayoutProblem."""
    filters, cards = _filtered(plans)
    makers = {plan.maker for plan in plans}
    title = f"Plans by {next(iter(makers))}" if len(makers) == 1 and all(makers) else "Woodworking plans"
    return _filled("list.html", title=title, cards=cards, filters=filters, top="")


def plan_html(plan: Plan) -> str:
    """The page of one plan, two folders below the list. Raises LayoutProblem."""
    return _filled("plan.html", title=plan.title, plan=plan, top="../../")


def files() -> dict[str, bytes]:
    """The style and the script that the pages name, as they are."""
    return {name: (layout_root() / LAYOUT / name).read_bytes() for name in (STYLE, SCRIPT)}


def plain(text: str, most: int = 2_000) -> str:
    """A text on one line without control characters and such as turn its direction, cut off where it has no end."""
    kept = (c if c.isspace() or not (unicodedata.category(c) in _UNSEEN or c in _TURNING) else "" for c in text)
    shown = " ".join("".join(kept).split())
    return shown if len(shown) <= most else f"{shown[: most - 1]}…"


def search_words(texts: Iterable[str]) -> tuple[str, ...]:
    """The different words of texts in order, small and without accents, as the script makes them of a question."""
    found = {word[:LONGEST_WORD] for text in texts for word in re.findall(r"[^\W_]+", _folded(text))}
    return tuple(sorted(found)[:MOST_WORDS])


def _folded(text: str) -> str:
    apart = unicodedata.normalize("NFKD", text)
    return "".join(c for c in apart if not unicodedata.category(c).startswith("M")).lower()


def _filled(template: str, **context: Any) -> str:
    folder = layout_root() / LAYOUT
    environment(folder).filters["names"] = names
    return fill(folder, template, context)


def names(text: str) -> Markup:
    """A sentence with its names, which stand between backticks, marked as names."""
    parts = _NAME.split(text)
    return Markup("").join(
        Markup('<b class="name">{}</b>').format(part) if at % 2 else fractions(part) for at, part in enumerate(parts)
    )


def _filtered(plans: Sequence[Plan]) -> tuple[tuple[Filter, ...], tuple[Card, ...]]:
    """The filters that part the plans, and the plans with their values; one value for all parts nothing."""
    skills = sorted({plan.skill for plan in plans if plan.skill})
    woods = sorted({wood for plan in plans for wood in plan.woods})
    asked = (
        ("skill", "Skill", [_short(skill) for skill in skills], [_places(skills, (p.skill,)) for p in plans]),
        ("time", "Hours of work", [words for _, words in TIMES], [_step(TIMES, p.minutes) for p in plans]),
        ("wood", "Wood", woods, [_places(woods, p.woods) for p in plans]),
        ("size", "Longest side", [words for _, words in SIZES], [_step(SIZES, p.longest) for p in plans]),
    )
    filters: list[Filter] = []
    found: list[list[tuple[str, str]]] = [[] for _ in plans]
    for key, label, words, places in asked:
        used = sorted({place for each in places for place in each})
        if len({tuple(each) for each in places}) < 2:
            continue
        filters.append(Filter(key, label, tuple((place, words[place]) for place in used)))
        for row, each in zip(found, places, strict=True):
            row.append((key, " ".join(map(str, each))))
    return tuple(filters), tuple(Card(plan, tuple(row)) for plan, row in zip(plans, found, strict=True))


def _places(known: Sequence[str], asked: Iterable[str]) -> list[int]:
    return sorted(known.index(each) for each in asked if each in known)


def _step(steps: Sequence[tuple[float, str]], value: float | None) -> list[int]:
    return [] if value is None else [next(at for at, (most, _) in enumerate(steps) if value <= most)]


def _short(text: str) -> str:
    if len(text) <= LONGEST_OPTION:
        return text
    return f"{text[:LONGEST_OPTION].rsplit(' ', 1)[0].rstrip(',;:')} …"


def characters(pages: Iterable[str]) -> set[int]:
    """The characters that stand in pages."""
    return {ord(char) for page in pages for char in page}
