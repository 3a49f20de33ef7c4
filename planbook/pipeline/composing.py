"""Lists, drawings and prose of a build as the HTML of one edition."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from planbook.cache import Cache
from planbook.pipeline.pictures import Drawings, draw
from planbook.pipeline.records import FORGETFUL, Brought, Progress
from planbook.speech import speaking
from planbook.text import Finding

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.model import Design
    from planbook.takeoff import Lists
    from planbook.units import Chain, Leeway, LengthStyle
    from planbook.workshop import Piece, Timeline

PENCIL, THIN = Fraction(3, 10), Fraction(1, 10)
"""What is marked with a pencil may be off so much, mm (common practice): as wide as a fine lead; or so much, where some
of it is told in thousandths of an inch."""


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
    drawings = drawn(timeline, edition, progress, cache, taken_off, notice)
    return composed(timeline, edition, progress, taken_off, drawings)[0]


def drawn(
    timeline: "Timeline",
    edition: "Edition",
    progress: Progress,
    cache: Cache,
    taken_off: "Lists",
    notice: Callable[[Finding], None],
) -> "Drawings":
    """The pictures of a booklet and its pages of stencils; what may vary does not change them."""
    with _speaking(timeline.design, edition):
        progress("drawing")
        return draw(_told(timeline, edition), taken_off, edition, cache, notice)


def composed(
    timeline: "Timeline", edition: "Edition", progress: Progress, taken_off: "Lists", drawings: "Drawings"
) -> tuple[str, tuple[tuple[float, float], ...]]:
    """The HTML of a booklet, and the sizes of its pages of stencils, mm."""
    from planbook.booklet import compose, make_book, proved_range

    said, (pictures, pages) = _told(timeline, edition), drawings
    with _speaking(timeline.design, edition):
        progress("composing")
        proved = proved_range(said, edition)
        book = make_book(said, taken_off, pictures, pages, edition, proved, taken_off.cost)
        sizes = {(page.picture.width, page.picture.height) for page in pages}
        return compose(book, edition.layout), tuple(sorted(sizes))


def lists_of(timeline: "Timeline", brought: Brought, edition: "Edition", *, told: bool) -> "Lists":
    """The lists in the language of the booklet, with the maker's words in it (`told`), or in English as in the files.

    Those are for other programs.
    """
    from planbook.takeoff import lists

    design = timeline.design
    with _speaking(design, edition) if told else speaking("en", {}):
        said = _told(timeline, edition) if told else timeline
        return lists(said, brought.rack, edition.system, work_a_day=edition.work_a_day, prices=edition.prices)


def settled_lengths(timeline: "Timeline", edition: "Edition") -> "LengthStyle":
    """The lengths of an edition, rounded so that sizes and rows add up, settings differ in print, and no fit is spoilt.

    Sheets that are sold by the millimetre keep that among inches; what is bored is told as its bit is. First comes what
    is rounded to come out in steps and what is compared; then what must not be too thin, too wide or too tight, which
    makes lengths finer; then the sums of all these, which make more of them finer and at last round thousandths; last
    the fractions that show no difference, and never in a sum.
    """
    from planbook.model.chains import chains_of
    from planbook.takeoff import (
        diameters_of,
        leeways_of,
        lengths_given,
        lengths_set,
        metric_sheets,
        prints_of,
        repeats_of,
        rows_of,
        stages_of,
        thicknesses,
    )
    from planbook.units import (
        Sum,
        added_up,
        bored_alike,
        in_fractions,
        in_metric,
        measured_as_given,
        settled,
        settled_finely,
        settled_in_rows,
        thick_enough,
        told_apart,
        within_leeways,
    )

    chains = chains_of(timeline.design.sizes, timeline.sizes)
    apart = told_apart(settled(edition.style, chains), lengths_set(timeline).values(), chains)
    sold = thick_enough(bored_alike(apart, diameters_of(timeline)), thicknesses(timeline))
    cut = _as_cut(timeline)
    fits = (*leeways_of(timeline), *_plays(timeline, cut))
    fitting = within_leeways(
        in_metric(sold, metric_sheets(timeline)), (*fits, *repeats_of(timeline), *prints_of(timeline))
    )
    rows, kept = rows_of(timeline), {length for lengths, _ in fits for length in lengths}
    stages = stages_of(timeline)
    sums = (
        *(Sum(each, PENCIL, THIN) for each in _on_sheets(timeline, cut)),
        *map(Sum, stages),
        *(Sum(row, Fraction(0) if kept & {*row.lengths} else None, Fraction(0)) for row in rows),
        *(Sum(chain, None, THIN) for chain in chains),
    )
    added = settled_in_rows(settled_finely(added_up(fitting, sums), [*chains, *rows, *stages]), rows, kept)
    return measured_as_given(in_fractions(added, {mm for row in rows for mm in row.lengths}), lengths_given(timeline))


def _plays(timeline: "Timeline", cut: "dict[str, Piece]") -> "Iterator[Leeway]":
    """What the figures of measured drawings may be off, as they stand there: each piece without what is glued in."""
    from planbook.drawing.plays import levels_of, plays_of, turning_of, widths_of
    from planbook.takeoff import lengths_set, sides_of
    from planbook.takeoff import levels_of as levels_asked

    pieces, fits = {**timeline.pieces, **cut}, sides_of(timeline)
    yield from plays_of(pieces, tuple(cut), fits)
    yield from turning_of(pieces, tuple(cut), fits)
    yield from levels_of(pieces, tuple(cut), levels_asked(timeline))
    yield from widths_of(cut, tuple(cut), lengths_set(timeline).get("width", ()))


def _on_sheets(timeline: "Timeline", cut: "dict[str, Piece]") -> "tuple[Chain, ...]":
    """What a reader adds up on measured drawings: arcs with their middles, and places from either end."""
    from planbook.drawing.sheet_sums import arcs_of, from_the_other_end, mirrored_of
    from planbook.takeoff import places_set

    ends = (*mirrored_of(cut, tuple(cut)), *from_the_other_end(cut, tuple(cut), places_set(timeline)))
    return tuple(dict.fromkeys((*arcs_of(cut, tuple(cut)), *ends)))


def _as_cut(timeline: "Timeline") -> "dict[str, Piece]":
    """The pieces of measured drawings as they stand there, by name."""
    from planbook.takeoff import single_pieces
    from planbook.workshop.pieces import as_cut

    single = single_pieces(timeline)
    return {name: as_cut(timeline.pieces[name], single) for name in single}


def _told(timeline: "Timeline", edition: "Edition") -> "Timeline":
    from planbook.model import with_language

    return replace(timeline, design=with_language(timeline.design, edition.language))


def _speaking(design: "Design", edition: "Edition") -> AbstractContextManager[None]:
    own = design.translations.get(edition.language)
    return speaking(edition.language, own.words if own else {})
