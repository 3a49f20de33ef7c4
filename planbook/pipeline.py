"""The whole way: a folder is read, built, reviewed, listed, drawn, composed and pressed. Prints nothing."""

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from planbook.cache import Cache, Forgetful
from planbook.model import Card, Design, Rack, with_choice, with_language
from planbook.model.chains import chains_of
from planbook.model.choices import slug
from planbook.reader import read_design
from planbook.reader.rack import RackReading, read_rack
from planbook.review import review
from planbook.review.untold import untold, untold_everywhere
from planbook.speech import speaking
from planbook.text import Finding, Kind, Sources, in_order
from planbook.units import LengthStyle, settled
from planbook.workshop import Timeline
from planbook.workshop.envelope import prove
from planbook.workshop.run import build as build_pieces

if TYPE_CHECKING:
    from planbook.booklet import Edition, Pictures, StencilPage
    from planbook.takeoff import Lists
    from planbook.takeoff.prices import Prices

Progress = Callable[[str], None]
FORGETFUL = Forgetful()
Units = Literal["in", "mm"]


@dataclass(frozen=True, eq=False)
class Checked:
    """What a check found: findings, the source texts they speak of, and the build if there was one."""

    findings: tuple[Finding, ...]
    sources: Sources
    design: Design | None = None
    timeline: Timeline | None = None

    @property
    def stops(self) -> bool:
        """True if no booklet may be printed (but for a draft)."""
        return any(finding.stops for finding in self.findings)


@dataclass(frozen=True, eq=False)
class Built:
    """What a build found and wrote."""

    findings: tuple[Finding, ...]
    sources: Sources
    files: tuple[Path, ...] = ()


@dataclass(frozen=True, eq=False)
class TakenOff:
    """What was listed from a build, or None where a finding stops it; `units` are those to print in.

    `by_choice` are the costs of all choices of woods side by side, as rows with a head, if prices were given.
    """

    findings: tuple[Finding, ...]
    sources: Sources
    lists: "Lists | None" = None
    units: Units = "mm"
    by_choice: tuple[tuple[str, ...], ...] = ()


def check(
    folder: Path, progress: Progress = lambda _: None, *, choice: str | None = None, nominal: bool = False
) -> Checked:
    """Read a design, build it on solids, in one of its choices of woods if asked for, and review the build.

    `nominal` leaves out what may vary. Raises UnknownChoice.
    """
    progress("reading")
    reading = read_design(folder)
    if reading.design is None:
        return Checked(reading.findings, reading.sources)
    design = with_choice(reading.design, choice) if choice is not None else reading.design
    progress("building")
    timeline = build_pieces(design) if nominal else prove(design)
    progress("reviewing")
    findings = in_order((*reading.findings, *review(timeline), *untold_everywhere(timeline)))
    return Checked(findings, reading.sources, design, timeline)


def take_off(
    folder: Path,
    rack: Path | None,
    units: Units | None,
    make: int = 1,
    progress: Progress = lambda _: None,
    *,
    choice: str | None = None,
    prices: Path | None = None,
) -> TakenOff:
    """Check a design and, if nothing stops it, list what it takes to make it, from a rack as far as that goes.

    With a price list, what that costs is listed as well, and without a choice of woods also what each choice costs.
    Raises UnknownChoice.
    """
    checked = check(folder, progress, choice=choice, nominal=True)
    if checked.timeline is None:
        return TakenOff(checked.findings, checked.sources)
    brought = _brought(checked.timeline.design, rack, prices)
    findings, sources = (*checked.findings, *brought.findings), {**checked.sources, **brought.sources}
    if any(finding.stops for finding in findings):
        return TakenOff(in_order(findings), sources)
    from planbook.takeoff import lists

    progress("listing")
    system = units or checked.timeline.design.card.units
    found = lists(checked.timeline, brought.rack, system, make, prices=brought.prices)
    findings = in_order((*findings, *found.findings))
    if any(finding.stops for finding in findings):
        return TakenOff(findings, sources, None, system)
    progress("comparing")
    by_choice = _by_choice(checked.timeline.design, found, brought, system) if choice is None else ()
    return TakenOff(findings, sources, found, system, by_choice)


def _by_choice(design: Design, as_written: "Lists", brought: "_Brought", system: Units) -> tuple[tuple[str, ...], ...]:
    """What the design costs as written and in each of its choices of woods."""
    from planbook.takeoff import lists
    from planbook.takeoff.cost import compare, comparison_table

    if as_written.cost is None or not design.choices:
        return ()
    found = {"as designed": as_written.cost}
    for name in design.choices:
        other = lists(
            build_pieces(with_choice(design, name)), brought.rack, system, as_written.make, prices=brought.prices
        )
        if other.cost is not None:
            found[name] = other.cost
    return comparison_table(compare(found))


def build(
    folder: Path,
    wanted: "Edition | Callable[[Card], Edition]",
    out: Path,
    progress: Progress = lambda _: None,
    *,
    cache: Cache = FORGETFUL,
    choice: str | None = None,
    prices: Path | None = None,
    rack: Path | None = None,
    nominal: bool = False,
) -> Built:
    """Check a design and, if nothing stops it or a draft was asked for, write its booklet whole into `out`.

    The edition may depend on the design's card; the name of the file carries the choice of woods. The lists are
    written beside it, as CSV and as JSON. With a rack, the cut layouts use what it holds first; with a price list,
    the booklet has a page of costs; `nominal` leaves out what may vary.

    Raises UnknownChoice, MissingLibrary, LayoutProblem, PaperTooSmall and OSError (a folder that cannot be written).
    """
    checked = check(folder, progress, choice=choice, nominal=nominal)
    timeline = checked.timeline
    if timeline is None:
        return Built(checked.findings, checked.sources)
    edition = wanted(timeline.design.card) if callable(wanted) else wanted
    brought = _brought(timeline.design, rack, prices)
    edition = replace(edition, prices=brought.prices, lengths=settled_lengths(timeline, edition))
    findings, sources = in_order((*checked.findings, *brought.findings)), {**checked.sources, **brought.sources}
    if any(finding.stops for finding in findings) and not edition.draft:
        return Built(findings, sources)
    from planbook.booklet import LayoutProblem
    from planbook.drawing.findings import too_large
    from planbook.drawing.tiles_grid import TooManyTiles
    from planbook.press import nearly_empty, press, write_whole
    from planbook.takeoff import as_csv, as_json, lists

    progress("listing")
    taken_off = lists(timeline, brought.rack, edition.system, work_a_day=edition.work_a_day, prices=edition.prices)
    drawn: list[Finding] = []
    findings = in_order((*findings, *taken_off.findings, *untold(timeline, edition.language)))
    try:
        spoken = _spoken(timeline, brought, edition, taken_off)
        html, sizes = _composed(timeline, edition, progress, cache, spoken, drawn.append)
    except TooManyTiles as problem:
        found = too_large(problem, timeline.design)
        return Built(in_order((*findings, found)), sources)
    progress("printing")
    pressed = press(html, edition.paper_row, sizes)
    if pressed.refused or pressed.odd_pages:
        what = (
            f"asks for {pressed.refused[0]}" if pressed.refused else f"sets page {pressed.odd_pages[0]} in another size"
        )
        raise LayoutProblem(f"the layout {what}", Path(edition.layout).name)
    drawn += nearly_empty(pressed.sparse_pages, timeline.design.card.place)
    woods = (slug(choice),) if choice is not None else ()
    name = "-".join((folder.resolve().name, *woods))
    path = out / f"{'-'.join((name, *edition.marks))}.pdf"
    written = {
        path: pressed.pdf,
        path.with_suffix(".csv"): as_csv(taken_off, edition.style).encode("utf-8", "backslashreplace"),
        path.with_suffix(".json"): as_json(taken_off).encode("utf-8", "backslashreplace"),
    }
    made = tool_files(timeline) if edition.tool_files or edition.archive else {}
    if edition.archive:
        lists_of = {file.name: data for file, data in written.items() if file != path}
        inside = {**source_files(timeline.design), **lists_of, **made}
        kept = press(html, edition.paper_row, sizes, standard="pdf/a-3u", attached=inside)
        written[path.with_name(f"{path.stem}-archive.pdf")] = kept.pdf
    if edition.tool_files:
        written |= {out / f"{name}-files" / file: data for file, data in made.items()}
    for file, data in written.items():
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, data)
    return Built(in_order((*findings, *drawn)), sources, tuple(written))


@dataclass(frozen=True, eq=False)
class Answered:
    """What a question about a size found: findings, or the answer in sentences."""

    findings: tuple[Finding, ...]
    sources: Sources
    sentences: tuple[str, ...] = ()


def solve(
    folder: Path,
    size: str,
    fit: str,
    above: Fraction | None = None,
    below: Fraction | None = None,
    units: Literal["in", "mm"] | None = None,
    progress: Progress = lambda _: None,
) -> Answered:
    """The value of a size with which a fit just holds over the whole envelope, between two bounds in mm."""
    from planbook.review.answers import Question, answer

    progress("reading")
    reading = read_design(folder)
    design = reading.design
    if design is None:
        return Answered(reading.findings, reading.sources)
    if units is not None:
        design = replace(design, card=replace(design.card, units=units))
    progress("building")
    timeline = build_pieces(design)
    broken = tuple(finding for finding in review(timeline) if finding.stops)
    if len(timeline.events) < len(design.operations):
        return Answered(in_order(broken), reading.sources)
    progress("solving")
    findings, sentences = answer(Question(timeline, size, fit, above, below))
    return Answered(findings, reading.sources, sentences)


@dataclass(frozen=True, eq=False)
class _Brought:
    """What a reader or maker gives beside the design: a rack and prices, and what is wrong with their files."""

    rack: Rack | None = None
    prices: "Prices | None" = None
    findings: tuple[Finding, ...] = ()
    sources: Sources = field(default_factory=dict)


def _brought(design: Design, rack: Path | None, prices: Path | None) -> _Brought:
    stored = read_rack(rack) if rack else RackReading(None, ())
    if prices is None:
        return _Brought(stored.rack, None, tuple(stored.findings), stored.sources)
    from planbook.takeoff.prices import read_price_list

    known = [name for supply in design.supplies.values() for name in (supply.name, supply.product) if name]
    reading = read_price_list(prices, known)
    findings = (*stored.findings, *reading.findings)
    return _Brought(stored.rack, reading.prices, findings, {**stored.sources, **reading.sources})


def compose_book(
    timeline: Timeline,
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
    return _composed(timeline, edition, progress, cache, taken_off, notice)[0]


def _composed(
    timeline: Timeline,
    edition: "Edition",
    progress: Progress,
    cache: Cache,
    taken_off: "Lists",
    notice: Callable[[Finding], None],
) -> tuple[str, tuple[tuple[float, float], ...]]:
    """The HTML of a booklet, and the sizes of its pages of stencils, mm."""
    from planbook.booklet import compose, make_book, proved_range

    told = replace(timeline, design=with_language(timeline.design, edition.language))
    with _speaking(timeline.design, edition):
        progress("drawing")
        pictures, pages = draw(told, taken_off, edition, cache, notice)
        progress("composing")
        proved = proved_range(told, edition)
        book = make_book(told, taken_off, pictures, pages, edition, proved, taken_off.cost)
        sizes = {(page.picture.width, page.picture.height) for page in pages}
        return compose(book, edition.layout), tuple(sorted(sizes))


def _spoken(timeline: Timeline, brought: "_Brought", edition: "Edition", english: "Lists") -> "Lists":
    """The lists in the language of the booklet; those written beside it stay English, for other programs."""
    from planbook.takeoff import lists

    design = timeline.design
    if edition.language == "en" and "en" not in design.translations:
        return english
    day, prices = edition.work_a_day, edition.prices
    told = replace(timeline, design=with_language(design, edition.language))
    with _speaking(design, edition):
        return lists(told, brought.rack, edition.system, work_a_day=day, prices=prices)


def settled_lengths(timeline: Timeline, edition: "Edition") -> LengthStyle:
    """The lengths of an edition, rounded so that its sizes add up."""
    return settled(edition.style, chains_of(timeline.design.sizes, timeline.sizes))


def _speaking(design: Design, edition: "Edition") -> AbstractContextManager[None]:
    told = design.translations.get(edition.language)
    return speaking(edition.language, told.words if told else {})


def draw(
    timeline: Timeline,
    taken_off: "Lists",
    edition: "Edition",
    cache: Cache = FORGETFUL,
    notice: Callable[[Finding], None] = lambda _: None,
) -> "tuple[Pictures, Sequence[StencilPage]]":
    """Every drawing of a booklet: cover, steps, pieces, and the pages of stencils."""
    from planbook.booklet import (
        COVER_ROOM,
        DAYS_ROOM,
        EXPLODED_ROOM,
        PIECE_ROOM,
        SHEET_ROOM,
        STEP_ROOM,
        Pictures,
        day_bars,
    )
    from planbook.drawing.day_bars import day_pictures
    from planbook.drawing.exploded import exploded_picture
    from planbook.drawing.findings import not_shown
    from planbook.drawing.kept import Kept
    from planbook.drawing.marks import Picture
    from planbook.drawing.piece_sheet import alike, piece_sheet
    from planbook.drawing.portraits import cover_picture, piece_picture
    from planbook.drawing.steps import step_pictures
    from planbook.takeoff import together

    kept, ink = Kept(timeline, cache), edition.ink

    def portrait(name: str) -> Picture:
        draw = partial(piece_picture, timeline.pieces[name], *PIECE_ROOM, ink, book=timeline.design.handbook)
        return kept.picture(kept.of_all("piece", name, PIECE_ROOM, ink), draw)

    numbers = {row.name: row.number for row in taken_off.pieces if row.single}
    exploded = partial(exploded_picture, timeline, numbers, *EXPLODED_ROOM, ink)

    def sheet_of(names: tuple[str, ...]) -> tuple[tuple[str, ...], Picture]:
        draw = partial(
            piece_sheet, names[0], timeline.pieces[names[0]].solid, *SHEET_ROOM, edition.drawn_style, edition.angle
        )
        return names, kept.picture(kept.of_all("sheet", names, SHEET_ROOM, edition.units, edition.language), draw)

    steps = step_pictures(timeline, *STEP_ROOM, ink, cache)
    for finding in not_shown(timeline.design, steps):
        notice(finding)
    pictures = Pictures(
        sheets=tuple(sheet_of(names) for names in alike({name: timeline.pieces[name] for name in numbers})),
        exploded=kept.picture(kept.of_all("exploded", tuple(numbers.items()), EXPLODED_ROOM, ink), exploded)
        if len(numbers) > 1
        else None,
        cover=kept.picture(kept.of_all("cover", COVER_ROOM, ink), partial(cover_picture, timeline, *COVER_ROOM, ink)),
        steps={number: picture for number, picture in steps.items() if picture.marks},
        pieces={row.name: portrait(row.name) for row, *_ in together(taken_off.pieces)},
        days=day_pictures(day_bars(taken_off.schedule), edition.work_a_day, *DAYS_ROOM) if taken_off.schedule else (),
    )
    return pictures, _stencils(timeline, edition)


def _stencils(timeline: Timeline, edition: "Edition") -> "Sequence[StencilPage]":
    """The pages of stencils, on the booklet's paper or on another one; of a roll, as much as they take."""
    from planbook.drawing.stencil_pages import MARGIN, stencil_pages
    from planbook.drawing.stencil_read import stencil_arts
    from planbook.drawing.stencil_roll import roll_length
    from planbook.drawing.stencil_words import StencilWords

    row, arts, words, style = edition.stencil_paper, stencil_arts(timeline), StencilWords.spoken(), edition.drawn_style
    width, height = float(row.width_mm), float(row.height_mm)
    if row.name.startswith("roll") and arts:
        height = roll_length(arts, width, height, MARGIN, words, style, edition.correction)
    return stencil_pages(arts, (width, height), MARGIN, words, style, edition.correction)


def source_files(design: Design) -> dict[str, bytes]:
    """What a design was written as, by names: its texts and the drawings that it takes shapes from."""
    from planbook.reader.files import load_drawing

    files = {Path(name).name: source.text.encode("utf-8") for name, source in design.sources.items()}
    for shape in design.shapes.values():
        node = shape.fields.get("file") if shape.drawn else None
        name = str(node.value) if node else ""
        if node and name not in files:
            data, _ = load_drawing(Path(design.folder), name, node.place)
            files |= {name: data} if data is not None else {}
    return files


def tool_files(timeline: Timeline) -> dict[str, bytes]:
    """Files for other tools by their names: each stencil as SVG and DXF, each finished piece as STL."""
    from planbook.drawing.contours import drawn
    from planbook.drawing.contours_dxf import contours_dxf
    from planbook.drawing.contours_svg import contours_svg
    from planbook.drawing.stencil_read import stencil_arts
    from planbook.drawing.stl import stl
    from planbook.press import file_name

    files: dict[str, bytes] = {}
    for art in stencil_arts(timeline):
        name = file_name(f"stencil {art.number} {art.title}", files)
        lines = drawn(art)
        files[f"{name}.svg"] = contours_svg(lines).encode()
        files[f"{name}.dxf"] = contours_dxf(lines).encode()
    for fate in timeline.fates.values():
        if fate.ending in ("part", "kept") and not fate.piece.solid.empty:
            files[f"{file_name(f'piece {fate.piece.name}', files)}.stl"] = stl(fate.piece.solid)
    return files


def all_kinds() -> tuple[Kind, ...]:
    """Every kind of finding, by code."""
    from planbook.drawing.findings import NOT_SHOWN, TOO_LARGE
    from planbook.press.findings import NEARLY_EMPTY
    from planbook.reader.kinds import ALL
    from planbook.reader.language_kinds import ALL as OF_LANGUAGES
    from planbook.reader.rack_kinds import ALL as RACK
    from planbook.review import kinds
    from planbook.review.answers import KINDS as OF_ANSWERS
    from planbook.takeoff.kinds import ALL as OF_BUYING
    from planbook.takeoff.prices import KINDS as OF_PRICES

    every = (
        *ALL,
        *RACK,
        *kinds(),
        *OF_ANSWERS,
        *OF_BUYING,
        TOO_LARGE,
        NOT_SHOWN,
        *OF_PRICES,
        *OF_LANGUAGES,
        NEARLY_EMPTY,
    )
    return tuple(sorted(every, key=lambda kind: kind.code))


def explain(code: str) -> Kind | None:
    """The kind of finding with this code or name, or None."""
    wanted = code.strip().lower()
    return next((k for k in all_kinds() if wanted in (k.code.lower(), k.name)), None)
