"""Turns lists, pictures and prose into a book of display-ready rows; it computes nothing and sets nothing."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from planbook.booklet.basics import Fact, Figure, MarkRow
from planbook.booklet.choices import choices_of
from planbook.booklet.costs import cost_page
from planbook.booklet.cutting import cut_sections
from planbook.booklet.days import time_page
from planbook.booklet.editions import Edition
from planbook.booklet.facts import colophon, fit_rows, glance
from planbook.booklet.gathered import Explained, Pictures, StencilPage, figure
from planbook.booklet.legend import legend
from planbook.booklet.names import Names
from planbook.booklet.prose import prose_html
from planbook.booklet.records import Book, PrecautionRow, StencilRow, TimePage
from planbook.booklet.remedies import fit_helps, remedy_rows
from planbook.booklet.rows import (
    board_rows,
    lumber_facts,
    piece_rows,
    sheet_rows,
    shopping_rows,
    supply_rows,
    told_closely,
    tool_rows,
    unmeasured,
)
from planbook.booklet.ruler import check_ruler
from planbook.booklet.steps import step_rows
from planbook.booklet.tongues import foreign
from planbook.drawing.marks import Picture
from planbook.speech import called, say, speaking
from planbook.takeoff import Lists
from planbook.takeoff.cost import Cost
from planbook.workshop import Timeline


def make_book(
    timeline: Timeline,
    lists: Lists,
    pictures: Pictures,
    stencil_pages: Sequence[StencilPage],
    edition: Edition,
    proved: str = "",
    cost: Cost | None = None,
) -> Book:
    """The book of a design in an edition. `proved` says for which range of kerfs and sizes the fits hold.

    A page of costs is printed only if there is a `cost`: a plan that is sold has no prices of its maker in it.
    """
    with speaking(edition.language):
        return _book(timeline, lists, pictures, stencil_pages, edition, proved, cost)


def _book(
    timeline: Timeline,
    lists: Lists,
    pictures: Pictures,
    stencil_pages: Sequence[StencilPage],
    edition: Edition,
    proved: str,
    cost: Cost | None,
) -> Book:
    card = timeline.design.card
    names = Names.of(timeline, lists, edition)
    return Book(
        title=card.title,
        summary=card.summary,
        maker=card.maker,
        version=card.version,
        language=edition.language,
        unit=edition.system,
        sheet=edition.sheet,
        draft=edition.draft,
        cover=_cover(pictures, card.title),
        intro=prose_html(timeline.design.intro, names.resolve, below=1),
        facts=glance(timeline, lists, [page.copies for page in stencil_pages], edition),
        ruler=figure(check_ruler()),
        marks=tuple(map(mark_row, pictures.marks or _legend(pictures, stencil_pages, edition, _tint(timeline, lists)))),
        precautions=tuple(PrecautionRow(say(row.headline), say(row.text)) for row in lists.safety.general),
        tools=tool_rows(lists, edition),
        supplies=supply_rows(lists, edition),
        boards=board_rows(lists, edition),
        lumber=lumber_facts(lists, edition),
        diagrams=tuple(figure(picture) for picture in pictures.diagrams),
        exploded=figure(pictures.exploded) if pictures.exploded and pictures.exploded.marks else None,
        pieces=piece_rows(lists, pictures.pieces, edition),
        sheets=sheet_rows(lists, pictures),
        steps=step_rows(timeline, lists, pictures.steps, names, edition),
        fits=fit_rows(timeline, edition),
        proved=proved,
        stencils=tuple(
            StencilRow(f"stencil-{n}", page.title, figure(page.picture, page.title))
            for n, page in enumerate(stencil_pages, start=1)
        ),
        licence=prose_html(card.licence, names.resolve, below=1),
        colophon=colophon(timeline, edition),
        choices=choices_of(timeline.design),
        time=_time(lists, pictures),
        cost=cost_page(cost),
        shopping=shopping_rows(lists, edition),
        cutting=cut_sections(lists.plans, edition, edition.ink),
        ink=edition.ink,
        both=edition.style.also is not None,
        changes=tuple(Fact(version, called(text)) for version, text in card.changes.items()),
        foreign=foreign(timeline.design, edition.language),
        remedies=remedy_rows(timeline.design, names, edition.language),
        fit_helps=fit_helps(timeline, edition),
        unmeasured=unmeasured(lists, pictures),
        closely=told_closely(pictures, edition),
        joined=bool(pictures.exploded) and not all(row.single for row in lists.pieces),
        ways=bool(pictures.exploded and pictures.exploded.of_layer("way")),
    )


def _cover(pictures: Pictures, title: str) -> Figure | None:
    return figure(pictures.cover, say("The finished work: {title}.", title=title)) if pictures.cover else None


def _time(lists: Lists, pictures: Pictures) -> TimePage | None:
    page = time_page(lists)
    return replace(page, pictures=tuple(figure(picture) for picture in pictures.days)) if page else None


def mark_row(mark: Explained) -> MarkRow:
    """A mark as the layout wants it."""
    return MarkRow(figure(mark.picture) if mark.picture else None, mark.name, mark.text)


def _legend(pictures: Pictures, pages: Sequence[StencilPage], edition: Edition, tint: str) -> tuple[Explained, ...]:
    """The marks that the steps' pictures and the stencils of this booklet have, explained."""
    return legend(_layers(pictures.steps.values()), _layers(page.picture for page in pages), edition.ink, tint)


def _tint(timeline: Timeline, lists: Lists) -> str:
    """The tint of the wood that the pieces have most of; empty where the handbook does not know it."""
    amounts: dict[str, Fraction] = {}
    for piece in lists.pieces:
        if piece.woods:
            amounts[piece.woods[0]] = amounts.get(piece.woods[0], Fraction(0)) + piece.cubic_metres
    row = timeline.design.handbook.wood(max(amounts, key=lambda wood: amounts[wood])) if amounts else None
    return row.tint if row else ""


def _layers(drawn: Iterable[Picture]) -> frozenset[str]:
    """The layers of pictures."""
    return frozenset(mark.layer for picture in drawn for mark in picture.marks)
