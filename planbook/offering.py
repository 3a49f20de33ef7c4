"""What a maker needs to sell a plan: sample pages, a listing, pictures and a sheet of materials. Prints nothing."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cache import Cache
from planbook.model.choices import slug
from planbook.pipeline import FORGETFUL, Built, Progress, Units, check, draw, settled_lengths
from planbook.text import in_order
from planbook.workshop import Timeline

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.booklet.editions import PaperName
    from planbook.booklet.records import Book
    from planbook.handbook import Paper

SCALES = (1.0, 0.9, 0.8, 0.7, 0.6)
"""How small a sheet of materials is set until it fits on one page."""


@dataclass(frozen=True, slots=True)
class Shot:
    """A picture for a shop: its name, its pixels, and how large (mm) the drawing under it is."""

    name: str
    pixels: tuple[int, int]
    drawn: tuple[float, float]


SHOTS = (
    Shot("cover-2000x2000", (2000, 2000), (200.0, 200.0)),
    Shot("cover-1200x900", (1200, 900), (200.0, 150.0)),
    Shot("thumbnail-500x500", (500, 500), (100.0, 100.0)),
    Shot("thumbnail-240x240", (240, 240), (80.0, 80.0)),
)
"""Squares and 4:3, as shops commonly ask for (common practice)."""


class NoSuchStep(Exception):  # noqa: N818 - it is told to people like a finding
    """A step was asked for that the design does not have."""


def offer(
    folder: Path,
    out: Path,
    paper: "PaperName | None" = None,
    units: Units | None = None,
    steps: Sequence[int] = (),
    progress: Progress = lambda _: None,
    *,
    choice: str | None = None,
    nominal: bool = False,
    cache: Cache = FORGETFUL,
) -> Built:
    """Check a design and, if nothing stops it, write what a shop wants into `out`, in a folder of its own.

    `steps` are those to show; without any, two are chosen. Raises UnknownChoice, NoSuchStep, MissingLibrary,
    LayoutProblem, PaperTooSmall and OSError.
    """
    checked = check(folder, progress, choice=choice, nominal=nominal)
    timeline = checked.timeline
    if timeline is None or checked.stops:
        return Built(checked.findings, checked.sources)
    missing = next((n for n in steps if not 1 <= n <= len(timeline.design.steps)), None)
    if missing is not None:
        raise NoSuchStep(f"the design has {len(timeline.design.steps)} steps, and no step {missing}")
    from planbook.booklet import edition_for
    from planbook.drawing.findings import too_large
    from planbook.drawing.tiles_grid import TooManyTiles
    from planbook.press import write_whole
    from planbook.takeoff import lists

    edition = edition_for(timeline.design.card, paper, units)
    edition = replace(edition, lengths=settled_lengths(timeline, edition))
    progress("listing")
    taken_off = lists(timeline, system=edition.system, work_a_day=edition.work_a_day)
    findings = in_order((*checked.findings, *taken_off.findings))
    if any(finding.stops for finding in findings):
        return Built(findings, checked.sources)
    progress("drawing")
    try:
        pictures, pages = draw(timeline, taken_off, edition, cache)
    except TooManyTiles as problem:
        return Built(in_order((*findings, too_large(problem, timeline.design))), checked.sources)
    from planbook.booklet import make_book, proved_range

    progress("printing")
    book = make_book(timeline, taken_off, pictures, pages, edition, proved_range(timeline, edition))
    made = _files(book, timeline, edition, steps)
    name = "-".join((folder.resolve().name, *((slug(choice),) if choice is not None else ()), "offer"))
    written = {out / name / file: data for file, data in made.items()}
    for path, data in written.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, data)
    return Built(findings, checked.sources, tuple(written))


def _files(book: "Book", timeline: Timeline, edition: "Edition", steps: Sequence[int]) -> dict[str, bytes]:
    from planbook.booklet.offer import (
        listing_html,
        listing_json,
        listing_of,
        listing_text,
        sample_anchors,
        sample_html,
        sample_steps,
    )
    from planbook.press import press_samples

    shown = tuple(steps) or sample_steps(book.steps)
    sample, count = press_samples(sample_html(book), edition.paper_row, sample_anchors(book, shown))
    card = timeline.design.card
    listing = listing_of(book, card.price, card.licence, edition.title, count)
    texts = {
        "listing.txt": listing_text(listing, book.language),
        "listing.html": listing_html(book, listing),
        "listing.json": listing_json(listing),
    }
    return {
        "sample-pages.pdf": sample.pdf,
        "material-sheet.pdf": _material_sheet(book, edition.paper_row),
        **{name: text.encode("utf-8", "backslashreplace") for name, text in texts.items()},
        **_shots(timeline),
    }


def _material_sheet(book: "Book", paper: "Paper") -> bytes:
    """As large as it can be on one page; at the smallest size it may run on, so that nothing is left out."""
    from planbook.booklet.offer import material_html
    from planbook.press import page_count, press

    pdf = b""
    for scale in SCALES:
        pdf = press(material_html(book, scale), paper).pdf
        if page_count(pdf) == 1:
            break
    return pdf


def _shots(timeline: Timeline) -> dict[str, bytes]:
    from planbook.booklet import figure
    from planbook.booklet.offer import picture_html
    from planbook.drawing.portraits import cover_picture
    from planbook.press import png

    found = {}
    for shot in SHOTS:
        width, height = shot.drawn
        edge = 0.07 * min(shot.drawn)
        picture = cover_picture(timeline, width - 2 * edge, height - 2 * edge)
        if picture.marks:
            drawn = replace(figure(picture), alt=timeline.design.card.title)
            found[f"{shot.name}.png"] = png(picture_html(drawn, width, height, edge), *shot.pixels)
    return found
