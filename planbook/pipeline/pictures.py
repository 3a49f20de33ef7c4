"""Every drawing of a booklet, kept between runs where it did not change; how to draw is elsewhere."""

from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, TypeAlias

from planbook.cache import Cache
from planbook.pipeline.records import FORGETFUL
from planbook.text import Finding

if TYPE_CHECKING:
    from planbook.booklet import Edition, Pictures
    from planbook.drawing.marks import Picture
    from planbook.drawing.sheet_paper import StencilPage
    from planbook.takeoff import Lists
    from planbook.workshop import Piece, Timeline

Drawings: TypeAlias = "tuple[Pictures, Sequence[StencilPage]]"
"""The pictures of a booklet, and its pages of stencils."""


def draw(
    timeline: "Timeline",
    taken_off: "Lists",
    edition: "Edition",
    cache: Cache = FORGETFUL,
    notice: Callable[[Finding], None] = lambda _: None,
) -> "Drawings":
    """Every drawing of a booklet: cover, steps, pieces, and the pages of stencils."""
    from planbook.booklet import STEP_ROOM, Pictures, room_beside
    from planbook.drawing.findings import not_shown
    from planbook.drawing.steps import step_pictures

    drawn = _Drawn(timeline, taken_off, edition, cache)
    beside = {step.number: room_beside(prose.text for prose in step.prose) for step in timeline.design.steps}
    steps = step_pictures(timeline, *STEP_ROOM, edition.ink, cache, edition.drawn_style, drawn.listed, beside)
    for finding in not_shown(timeline.design, steps):
        notice(finding)
    pictures = Pictures(
        sheets=drawn.sheets(),
        exploded=drawn.exploded(),
        cover=drawn.cover(),
        steps={number: picture for number, picture in steps.items() if picture.marks},
        pieces=drawn.portraits(),
        days=drawn.days(),
    )
    return pictures, drawn.stencils()


class _Drawn:
    """The pictures of finished things in one edition, each under the key of what it shows."""

    def __init__(self, timeline: "Timeline", taken_off: "Lists", edition: "Edition", cache: Cache) -> None:
        from planbook.drawing.kept import Kept

        self.timeline, self.taken_off, self.edition = timeline, taken_off, edition
        self.kept: Kept = Kept(timeline, cache)

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        """The numbers of the pieces that are listed one by one."""
        return {row.name: row.number for row in self.taken_off.pieces if row.single}

    @cached_property
    def listed(self) -> Mapping[str, int]:
        """The numbers of all pieces of the list."""
        return {row.name: row.number for row in self.taken_off.pieces}

    @cached_property
    def stencilled(self) -> "frozenset[str]":
        from planbook.drawing.stencil_read import stencilled

        return stencilled(self.timeline)

    def cover(self) -> "Picture":
        from planbook.booklet import COVER_ROOM
        from planbook.drawing.portraits import cover_picture

        ink, fits = self.edition.ink, self.timeline.design.fits
        return self.kept.picture(
            self.kept.of_all("cover", fits, COVER_ROOM, ink), partial(cover_picture, self.timeline, *COVER_ROOM, ink)
        )

    def exploded(self) -> "Picture | None":
        from planbook.drawing.exploded import exploded_picture

        if len(self.numbers) <= 1:
            return None
        ink, room = self.edition.ink, self.edition.exploded_room
        key = self.kept.of_all("exploded", tuple(self.numbers.items()), room, ink)
        return self.kept.picture(key, partial(exploded_picture, self.timeline, self.numbers, *room, ink))

    def portraits(self) -> "Mapping[str, Picture]":
        from planbook.takeoff import together

        return {row.name: self._portrait(row.name) for row, *_ in together(self.taken_off.pieces)}

    def _portrait(self, name: str) -> "Picture":
        from planbook.booklet import PIECE_ROOM
        from planbook.drawing.portraits import piece_picture

        ink, book = self.edition.ink, self.timeline.design.handbook
        draw = partial(piece_picture, self._piece(name), *PIECE_ROOM, ink, book=book)
        return self.kept.picture(self.kept.of_all("piece", name, PIECE_ROOM, ink), draw)

    def _piece(self, name: str) -> "Piece":
        """A piece as the list has it: one that is listed one by one without what was glued into it."""
        from planbook.workshop.pieces import as_cut

        piece = self.timeline.pieces[name]
        return as_cut(piece, self.numbers) if name in self.numbers else piece

    def sheets(self) -> "tuple[tuple[tuple[str, ...], Picture], ...]":
        from planbook.drawing.piece_alike import alike

        groups = alike({name: self._piece(name) for name in self.numbers})
        return tuple((names, self._sheet(names)) for names in groups)

    def _sheet(self, names: tuple[str, ...]) -> "Picture":
        from planbook.booklet import SHEET_ROOM
        from planbook.drawing.bored_later import with_later
        from planbook.drawing.piece_notes import SheetWords, later_told
        from planbook.drawing.piece_sheet import roomy_sheet

        edition, bored = self.edition, with_later(self.timeline, {name: self._piece(name) for name in names})
        words = SheetWords.spoken()
        if not set(names) & self.stencilled:
            words = words.without_stencil()
        rooms = (SHEET_ROOM, edition.slim_room)
        more = later_told(bored.told, self.numbers, edition.drawn_style, words)
        place = partial(roomy_sheet, names[0], bored.solid, *rooms, more=more, steps=bored.steps, words=words)
        draw = partial(place, edition.drawn_style, edition.angle)
        key = self.kept.of_all("sheet", names, rooms, edition.units, edition.language)
        return self.kept.picture(key, draw)

    def days(self) -> "tuple[Picture, ...]":
        from planbook.booklet import DAYS_ROOM, day_bars
        from planbook.drawing.day_bars import day_pictures

        if not self.taken_off.schedule:
            return ()
        return day_pictures(day_bars(self.taken_off.schedule), self.edition.work_a_day, *DAYS_ROOM)

    def stencils(self) -> "Sequence[StencilPage]":
        edition = self.edition
        version = self.timeline.design.card.version
        look = (edition.stencil_paper.name, edition.drawn_style, edition.correction, edition.language, version)
        return self.kept.pages(self.kept.of_all("stencils", *look), partial(_stencils, self.timeline, edition))


def _stencils(timeline: "Timeline", edition: "Edition") -> "tuple[StencilPage, ...]":
    """The pages of stencils, on the booklet's paper or on another one; of a roll, as much as they take."""
    from planbook.drawing.stencil_pages import MARGIN, stencil_pages
    from planbook.drawing.stencil_read import stencil_arts
    from planbook.drawing.stencil_roll import roll_length
    from planbook.drawing.stencil_words import StencilWords
    from planbook.speech import say

    row, arts, words, style = edition.stencil_paper, stencil_arts(timeline), StencilWords.spoken(), edition.drawn_style
    width, height = float(row.width_mm), float(row.height_mm)
    if row.name.startswith("roll") and arts:
        height = roll_length(arts, width, height, MARGIN, words, style, edition.correction)
    card = timeline.design.card
    plan = f"{card.title} · {say('Version')} {card.version}"
    return stencil_pages(arts, (width, height), MARGIN, words, style, edition.correction, plan)
