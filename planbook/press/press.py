"""Sets HTML as PDF: the same text gives the same bytes; it does not know what a booklet is."""

import gc
import io
import os
import warnings
from collections.abc import Collection, Iterator, Mapping, Sequence
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import PurePosixPath
from typing import Any, Literal

from planbook.handbook import Paper
from planbook.press.complaints import advice_in, heard
from planbook.press.fetch import Shelf
from planbook.press.fullness import sparse_pages
from planbook.press.library import printer
from planbook.press.openings import raised
from planbook.press.pages import page_sizes
from planbook.press.plain_pictures import Pictures
from planbook.press.runs import better_breaks, fuller, worth
from planbook.press.streams import pack, show_dots_as_they_are
from planbook.press.tagging import whole_tags

_PAPER_SLACK_MM = 0.05
_NO_ANCHOR = "No anchor "
_CLOCK = "SOURCE_DATE_EPOCH"
Standard = Literal["pdf/ua-1", "pdf/a-3u"]
"""What the file says it keeps to: ISO 14289-1 for readers who cannot see it, ISO 19005-3 for archives."""
_TYPES = {
    ".toml": "application/toml",
    ".md": "text/markdown",
    ".csv": "text/csv",
    ".json": "application/json",
    ".svg": "image/svg+xml",
    ".dxf": "image/vnd.dxf",
    ".stl": "model/stl",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".png": "image/png",
}
"""Media types as registered (IANA): what the system knows differs from machine to machine."""
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Pressed:
    """A PDF and what is to be said about it.

    `complaints` are the printer's own words, `refused` the addresses it was not given, `odd_pages` the
    numbers (from 1) of pages of another size than asked for, `advice` what would make printing faster,
    `sparse_pages` those on which hardly anything stands.
    """

    pdf: bytes
    complaints: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    odd_pages: tuple[int, ...] = ()
    advice: tuple[str, ...] = ()
    sparse_pages: tuple[int, ...] = ()


def press(
    html: str,
    paper: Paper,
    others: Sequence[tuple[float, float]] = (),
    *,
    standard: Standard = "pdf/ua-1",
    attached: Mapping[str, bytes] | None = None,
) -> Pressed:
    """Set a whole HTML text as a tagged PDF with bookmarks, and `attached` files by their names inside it.

    `others` are further sizes (mm) that pages may have.

    Raises MissingLibrary where the printer's system libraries are not installed.
    """
    pdf, said, shelf, _, sparse = _written(html, standard, attached or {}, None)
    complaints, advice = advice_in(said)
    return Pressed(pdf, complaints, tuple(shelf.refused), _odd_pages(pdf, paper, others), advice, sparse)


def press_samples(html: str, paper: Paper, anchors: Collection[str]) -> tuple[Pressed, int]:
    """Set only the first page and those on which these ids begin, with the numbers they have in the whole.

    Nothing of the other pages is in the file. Also how many pages the whole has. Raises MissingLibrary.
    """
    pdf, said, shelf, pages, _ = _written(html, "pdf/ua-1", {}, anchors)
    # Links that lead to pages left out are meant to lead nowhere.
    complaints, advice = advice_in([message for message in said if not message.startswith(_NO_ANCHOR)])
    return Pressed(pdf, complaints, tuple(shelf.refused), _odd_pages(pdf, paper, ()), advice), pages


def press_page(html: str) -> bytes:
    """Set an HTML text that names its own page. Raises MissingLibrary."""
    return _written(html, "pdf/ua-1", {}, None)[0]


def _written(
    html: str, standard: Standard, attached: Mapping[str, bytes], anchors: Collection[str] | None
) -> tuple[bytes, list[str], Shelf, int, tuple[int, ...]]:
    weasyprint = printer()
    shelf = Shelf()
    with heard("weasyprint", "fontTools") as said, _stopped_clock(), _no_collecting():
        fonts = weasyprint.text.fonts.FontConfiguration()
        source = weasyprint.HTML(string=html, url_fetcher=_fetcher(weasyprint, shelf))
        document = _set(weasyprint, source, fonts, standard)
        pages, sparse = document.pages, sparse_pages(document)
        if anchors is not None:
            # A part that runs over several pages has its id on each of them: only the first is meant.
            first = {next((n for n, page in enumerate(pages) if anchor in page.anchors), 0) for anchor in anchors}
            document = document.copy([pages[n] for n in sorted({0, *first})])
        with warnings.catch_warnings(), whole_tags():
            # The printer forgets to close its colour profile.
            warnings.simplefilter("ignore", ResourceWarning)
            pdf: bytes = document.write_pdf(
                finisher=_finish,
                pdf_identifier=_identifier(html),
                pdf_tags=True,
                pdf_variant=standard,
                attachments=[_attachment(weasyprint, name, data) for name, data in sorted(attached.items())],
            )
    return pdf, said, shelf, len(pages), sparse


def _set(weasyprint: Any, source: Any, fonts: Any, standard: Standard) -> Any:
    """The text on pages, set again where an opening or a run of blocks leaves a page emptier than need be.

    No two settings are held at once, as each takes as much memory as all that is drawn: where one is no better than
    that before it, which is rare, that is made again.
    """
    images = Pictures(fonts)
    options = {"cache": images, "pdf_variant": standard, "pdf_tags": True}
    styles: list[str] = []

    def rendered() -> Any:
        return source.render(fonts, stylesheets=[weasyprint.CSS(string=style) for style in styles], **options)

    document = rendered()
    for asked in (raised, better_breaks):
        more = asked(document)
        if more:
            before = worth(document)
            styles.append(more)
            document = None
            images.let_go()
            gc.collect()  # what lies on a page knows its page
            document = rendered()
            if not fuller(before, worth(document)):
                styles.pop()
                document = rendered()
    return document


def _finish(_document: object, pdf: Any) -> None:
    """The last that is done to a PDF before it is written."""
    show_dots_as_they_are(pdf.objects)
    pack(pdf.objects)


def _attachment(weasyprint: Any, name: str, data: bytes) -> Any:
    """A file inside the PDF: what the plan was made from is its source, all else is more of its data."""
    path = PurePosixPath(name)
    made = weasyprint.Attachment(
        string=data,
        name=name,
        description=name,
        created=_EPOCH,
        modified=_EPOCH,
        relationship="Source" if path.name in ("design.toml", "steps.md") else "Data",
    )
    media = _TYPES.get(path.suffix.lower(), "application/octet-stream")
    made.source = nullcontext((io.BytesIO(data), None, None, media))
    return made


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
