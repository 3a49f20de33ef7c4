"""What a shop says about a plan before it is bought, as text and as data; it is read off the finished book."""

import json
import textwrap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from functools import cache
from typing import Any

from planbook.booklet.basics import Fact, Figure
from planbook.booklet.compose import compose, fill, words_of
from planbook.booklet.layouts import layout_root
from planbook.booklet.records import Book, StepRow
from planbook.speech import labelled, say

FORM = "planbook offer 1"
_WIDTH = 80


@dataclass(frozen=True, slots=True)
class Listing:
    """What a buyer wants to know. `facts` are those of the page "At a glance"; `edition` is paper and units.

    `tools` have no value, `supplies` an amount, `lumber` wood and size; `choices` are other woods for the same
    work; `pages` counts all pages of the booklet, `stencil_pages` those at true size.
    """

    title: str
    summary: str
    maker: str
    version: str
    price: str
    licence: str
    edition: str
    pages: int
    stencil_pages: int
    facts: tuple[Fact, ...]
    tools: tuple[Fact, ...]
    supplies: tuple[Fact, ...]
    lumber: tuple[Fact, ...]
    choices: tuple[Fact, ...]


_NAMES = tuple(Listing.__dataclass_fields__)


def listing_of(book: Book, price: str, licence: str, edition: str, pages: int) -> Listing:
    """The listing of a book with so many pages."""
    return Listing(
        title=book.title,
        summary=book.summary,
        maker=book.maker,
        version=book.version,
        price=price,
        licence=licence,
        edition=edition,
        pages=pages,
        stencil_pages=len(book.stencils),
        facts=tuple(fact for fact in book.facts if fact.value),
        tools=tuple(Fact(row.name, "") for row in book.tools),
        supplies=tuple(Fact(row.name, row.amount) for row in book.supplies),
        lumber=tuple(Fact(f"{row.count} × {row.name}", f"{row.wood}, {row.finished}") for row in book.boards),
        choices=tuple(Fact(c.title, c.summary) for c in (book.choices.columns if book.choices else ()) if c.title),
    )


def listing_json(listing: Listing) -> str:
    """The listing for programs, in the form of `listing_schema`."""
    return json.dumps({"form": FORM, **asdict(listing)}, indent=2, ensure_ascii=False) + "\n"


def read_listing(data: bytes) -> Listing:
    """The listing that `listing_json` wrote. Raises ValueError for anything else."""
    try:
        told = json.loads(data)
        if not isinstance(told, dict) or told.pop("form", None) != FORM or told.keys() != set(_NAMES):
            raise ValueError("not a listing")
        found: Listing = _adapter().validate_python(told)
    except RecursionError:
        raise ValueError("nested too deep") from None
    return found


@cache
def _adapter() -> Any:
    from pydantic import TypeAdapter

    return TypeAdapter(Listing)


def listing_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of the text of `listing_json`."""
    text, whole = {"type": "string"}, {"type": "integer", "minimum": 0}
    fact = {
        "type": "object",
        "properties": {"label": text, "value": text},
        "required": ["label", "value"],
        "additionalProperties": False,
    }
    kinds = {"pages": whole, "stencil_pages": whole}
    lists = ("facts", "tools", "supplies", "lumber", "choices")
    shapes = {name: {"type": "array", "items": fact} if name in lists else kinds.get(name, text) for name in _NAMES}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": FORM,
        "description": " ".join((Listing.__doc__ or "").split()),
        "type": "object",
        "properties": {"form": {"const": FORM}, **shapes},
        "required": ["form", *_NAMES],
        "additionalProperties": False,
    }


def listing_text(listing: Listing, language: str = "en") -> str:
    """The listing as plain text, at most 80 letters wide where words allow."""
    words = words_of(layout_root() / "offer", language)
    lines = [listing.title, "=" * len(listing.title), "", *textwrap.wrap(listing.summary, _WIDTH), ""]
    for label, rows in sections(listing, words):
        lines += [label, "-" * len(label), *(line for row in rows for line in _row(row)), ""]
    return "\n".join(lines)


def listing_html(book: Book, listing: Listing) -> str:
    """The listing as one page of HTML that loads nothing."""
    folder = layout_root() / "offer"
    words = words_of(folder, book.language)
    return fill(
        folder,
        "listing.html",
        {"book": book, "listing": listing, "words": words, "sections": tuple(sections(listing, words))},
    )


def sections(listing: Listing, words: Mapping[str, Any]) -> Iterator[tuple[str, tuple[Fact, ...]]]:
    """Headings with their rows, in the order a buyer asks; a heading without rows is left out."""
    label = words["labels"]
    stencils = Fact(label["stencil_pages"], str(listing.stencil_pages) if listing.stencil_pages else "")
    # The page "At a glance" counts the stencil pages too: one count is enough.
    facts = tuple(fact for fact in listing.facts if fact.label != say("Stencil pages"))
    plan = (Fact(label["pages"], str(listing.pages)), stencils, Fact(label["edition"], listing.edition))
    maker = (
        Fact(label["maker"], listing.maker),
        Fact(label["version"], listing.version),
        Fact(label["price"], listing.price),
        Fact(label["licence"], listing.licence),
    )
    found = (
        ("facts", facts),
        ("plan", plan),
        ("tools", listing.tools),
        ("supplies", listing.supplies),
        ("lumber", listing.lumber),
        ("choices", listing.choices),
        ("terms", maker),
    )
    bare = ("tools", "supplies", "lumber", "choices")
    for key, rows in found:
        kept = tuple(row for row in rows if row.value or key in bare)
        if kept:
            yield words["headings"][key], kept


def sample_html(book: Book) -> str:
    """The whole booklet as samples are taken from it: marked on every page, and nothing in it at true size.

    Stencils and measured drawings are blank but keep their room, so that every page number is that of the plan.
    """
    return compose(
        replace(
            book,
            sample=True,
            draft=False,
            stencils=tuple(replace(row, figure=_blank(row.figure)) for row in book.stencils),
            sheets=tuple(replace(row, figure=_blank(row.figure)) for row in book.sheets),
        )
    )


def sample_steps(steps: tuple[StepRow, ...]) -> tuple[int, ...]:
    """Two steps that show what the others are like: those with a picture at a third and two thirds of the way."""
    drawn = [step.number for step in steps if step.figures]
    return tuple(dict.fromkeys(drawn[len(drawn) * part // 3] for part in (1, 2))) if drawn else ()


def sample_anchors(book: Book, steps: Iterable[int]) -> tuple[str, ...]:
    """The places of the booklet whose pages are shown: at a glance with the contents, the pieces, and steps."""
    return ("glance", "pieces", *(row.anchor for row in book.pieces[:1]), *(f"step-{number}" for number in steps))


def material_html(book: Book, scale: float) -> str:
    """One sheet to take to the lumber yard; `scale` below 1 makes everything on it smaller."""
    folder = layout_root() / "offer"
    return fill(folder, "sheet.html", {"book": book, "words": words_of(folder, book.language), "scale": scale})


def picture_html(figure: Figure, width: float, height: float, edge: float) -> str:
    """A page of `width` and `height` mm with one picture in its middle, at least `edge` mm from its rim."""
    context = {"figure": figure, "width": width, "height": height, "edge": edge}
    return fill(layout_root() / "offer", "picture.html", context)


def _blank(figure: Figure) -> Figure:
    size = f'width="{figure.width}mm" height="{figure.height}mm"'
    return replace(figure, svg=f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 1 1"/>')


def _row(row: Fact) -> list[str]:
    return _wrapped(labelled(row.label, row.value) if row.value else row.label)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)
