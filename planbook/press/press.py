"""Sets HTML as PDF: the same text gives the same bytes; it does not know what a booklet is."""

import gc
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from planbook.handbook import Paper
from planbook.press.complaints import advice_in, heard
from planbook.press.fetch import Shelf
from planbook.press.library import printer
from planbook.press.pages import page_sizes

_PAPER_SLACK_MM = 0.05
_CLOCK = "SOURCE_DATE_EPOCH"


@dataclass(frozen=True, slots=True)
class Pressed:
    """A PDF and what is to be said about it.

    `complaints` are the printer's own words, `refused` the addresses it was not given, `odd_pages` the
    numbers (from 1) of pages of another size than asked for, `advice` what would make printing faster.
    """

    pdf: bytes
    complaints: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    odd_pages: tuple[int, ...] = ()
    advice: tuple[str, ...] = ()


def press(html: str, paper: Paper, others: Sequence[tuple[float, float]] = ()) -> Pressed:
    """Set a whole HTML text as a tagged PDF with bookmarks; `others` are further sizes (mm) that pages may have.

    Raises MissingLibrary where the printer's system libraries are not installed.
    """
    weasyprint = printer()
    shelf = Shelf()
    with heard("weasyprint", "fontTools") as said, _stopped_clock(), _no_collecting():
        document = weasyprint.HTML(string=html, url_fetcher=_fetcher(weasyprint, shelf))
        pdf: bytes = document.write_pdf(pdf_identifier=_identifier(html), pdf_tags=True)
    complaints, advice = advice_in(said)
    return Pressed(pdf, complaints, tuple(shelf.refused), _odd_pages(pdf, paper, others), advice)


def _identifier(html: str) -> bytes:
    """Stands in the file where a printer would put a random number."""
    return sha256(html.encode("utf-8", "surrogatepass")).hexdigest()[:32].encode()


def _fetcher(weasyprint: Any, shelf: Shelf) -> Any:
    """The printer's kind of fetcher, answering from the shelf alone."""

    class Fetcher(weasyprint.urls.URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: object = None) -> Any:
            content, media = shelf.take(url)
            return weasyprint.urls.URLFetcherResponse(url, content, {"Content-Type": media})

    return Fetcher()


@contextmanager
def _stopped_clock() -> Iterator[None]:
    """The font library writes the time of day into a font unless this is set."""
    before = os.environ.get(_CLOCK)
    os.environ[_CLOCK] = "0"
    try:
        yield
    finally:
        if before is None:
            del os.environ[_CLOCK]
        else:
            os.environ[_CLOCK] = before


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Layout makes millions of small objects and few circles: looking for circles takes a fifth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _odd_pages(pdf: bytes, paper: Paper, others: Sequence[tuple[float, float]]) -> tuple[int, ...]:
    wanted = ((float(paper.width_mm), float(paper.height_mm)), *others)
    return tuple(
        number for number, size in enumerate(page_sizes(pdf), start=1) if not any(_alike(size, one) for one in wanted)
    )


def _alike(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(abs(a - b) <= _PAPER_SLACK_MM for a, b in zip(one, other, strict=True))
