"""Lists, drawings and prose of a build as the HTML of one edition."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from planbook.cache import Cache
from planbook.pipeline.pictures import draw
from planbook.pipeline.records import FORGETFUL, Brought, Progress
from planbook.speech import speaking
from planbook.text import Finding

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.takeoff import Lists
    from planbook.workshop import Timeline


def compose_book(
    timeline: "Timeline",
    edition: "Edition",
    progress: Progress = lambda _: None,
    cache: Cache = FORGETFUL,
    taken_off: "Lists | None" = None,
    notice: Callable[[Finding], None] = lambda _: None,
) -> str:
    """Lists, drawings and prose of a build as one HTML text, ready for the press

    `notice` is told what the drawing finds.
    """
    from planbook.takeoff import lists

    if taken_off is None:
        progress("listing")
        taken_off = lists(timeline, system=edition.system, work_a_day=edition.work_a_day, prices=edition.prices)
    return composed(timeline, edition, progress, cache, taken_off, notice)[0]


def composed(
    timeline: "Timeline",
    edition: "Edition",
    progress: Progress,
    cache: Cache,
    taken_off: "Lists",
    notice: Callable[[Finding], None],
) -> tuple[str, tuple[tuple[float, float], ...]]:
    """The HTML of a booklet, and the sizes of its pages of stencils, mm."""
    from planbook.booklet import compose, make_book, proved_range

    with speaking(edition.language):
        progress("drawing")
        pictures, pages = draw(timeline, taken_off, edition, cache, notice)
        progress("composing")
        proved = proved_range(timeline, edition)
        book = make_book(timeline, taken_off, pictures, pages, edition, proved, taken_off.cost)
        sizes = {(page.picture.width, page.picture.height) for page in pages}
        return compose(book, edition.layout), tuple(sorted(sizes))


def lists_of(timeline: "Timeline", brought: Brought, edition: "Edition", language: str) -> "Lists":
    """The lists in a language: that of the booklet in it, English in the files for other programs."""
    from planbook.takeoff import lists

    with speaking(language):
        return lists(timeline, brought.rack, edition.system, work_a_day=edition.work_a_day, prices=edition.prices)
