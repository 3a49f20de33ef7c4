"""Writes the booklets of a design, whole or not at all."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cache import Cache, Forgetful, Remembering
from planbook.machine import seldom_interrupted
from planbook.pipeline.checking import check
from planbook.pipeline.composing import composed, drawn, lists_of, settled_lengths
from planbook.pipeline.files import source_files, tool_files
from planbook.pipeline.finished import Finished, Order, find, keep, key_of
from planbook.pipeline.listing import brought_along
from planbook.pipeline.pressing import Pressed, Typeset, presses
from planbook.pipeline.records import FORGETFUL, Brought, Built, Progress
from planbook.text import Finding, in_order
from planbook.whole_files import write_together

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.model import Card
    from planbook.pipeline.pictures import Drawings
    from planbook.takeoff import Lists
    from planbook.workshop import Timeline


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
    processes: int = 1,
) -> Built:
    """Check a design and, if nothing stops it or a draft was asked for, write its booklet whole into `out`.

    The edition may depend on the design's card; the name of the file carries the choice of woods. The lists are
    written beside it, as CSV and as JSON. With a rack, the cut layouts use what it holds first; with a price list,
    the booklet has a page of costs; `nominal` leaves out what may vary.

    Raises UnknownChoice, MissingLibrary, LayoutProblem, PaperTooSmall and OSError (a folder that cannot be written).
    """
    order = Order(folder, wanted, choice, prices, rack, nominal)
    return build_all((order,), out, progress, cache=cache, processes=processes)


def build_all(
    orders: Sequence[Order],
    out: Path,
    progress: Progress = lambda _: None,
    *,
    cache: Cache = FORGETFUL,
    processes: int = 1,
) -> Built:
    """The same for several editions of one design: it is built and drawn once, and pressed by several processes.

    The orders differ in their editions only. Raises what `build` does.
    """
    keys = [None if isinstance(cache, Forgetful) else key_of(order) for order in orders]
    found = [find(cache, key, out) for key in keys]
    left = [number for number, each in enumerate(found) if each is None]
    with seldom_interrupted():
        for number, made in zip(left, _afresh([orders[n] for n in left], progress, cache, processes), strict=True):
            found[number] = Built(made.findings, made.sources, tuple(out / name for name in made.files))
            write_together({out / name: data for name, data in made.files.items()})
            if keys[number] is not None and keys[number] == key_of(orders[number]):  # nothing was changed meanwhile
                keep(cache, keys[number], made)
    if left:
        cache.tidy()
    return _joined([each for each in found if each is not None])


def kept_of(orders: Sequence[Order], out: Path, cache: Cache) -> Built | None:
    """What is kept of all these editions, with their files in `out`; None if one of them must be made."""
    found = []
    for order in orders:
        each = find(cache, key_of(order), out)
        if each is None:
            return None
        found.append(each)
    return _joined(found)


def _joined(built: Sequence[Built]) -> Built:
    findings = in_order(finding for each in built for finding in each.findings)
    sources = {name: source for each in built for name, source in each.sources.items()}
    return Built(findings, sources, tuple(dict.fromkeys(path for each in built for path in each.files)))


def _afresh(orders: Sequence[Order], progress: Progress, cache: Cache, processes: int) -> Iterator[Finished]:
    """Editions that are really made, in order."""
    if not orders:
        return
    first, early, lists = orders[0], list[_Drawn](), _Listed()
    store = Remembering(cache) if len(orders) > 1 else cache

    def draw_ahead(timeline: "Timeline") -> None:
        from planbook.review import review

        try:
            made = _made(timeline, first, review(timeline), lists)
            early.extend(filter(None, (_drawn(made, first, progress, store),)))
        except Exception:  # it comes again in its turn, after what is found before
            return

    checked = check(
        first.folder,
        progress,
        choice=first.choice,
        nominal=first.nominal,
        cache=cache,
        meanwhile=draw_ahead if processes > 1 else None,
    )
    if checked.timeline is None:
        yield from (Finished(checked.findings, checked.sources) for _ in orders)
        return
    made = _made(checked.timeline, first, checked.findings, lists)
    sources = {**checked.sources, **made.brought.sources}
    with presses(min(processes, len(orders)), all(_is_ours(order) for order in orders)) as press:
        waiting = []
        for order in orders:
            typeset, found = _typeset(made, order, progress, store, early.pop() if early else None)
            waiting.append((found, press(typeset) if typeset else Pressed))
        progress("printing")
        for found, ready in waiting:
            done = ready()
            yield Finished(in_order((*found, *_sparse(done, checked.timeline.design.card))), sources, done.files)


def _is_ours(order: Order) -> bool:
    """Whether the layout comes with the program; a folder does not. What asks the design first takes one of ours."""
    layout = getattr(order.wanted, "layout", "")
    return not (isinstance(layout, Path) or (layout and Path(layout).is_dir()))


def _sparse(done: Pressed, card: "Card") -> Iterable[Finding]:
    from planbook.press import nearly_empty

    return nearly_empty(done.sparse_pages, card.place) if done.sparse_pages else ()


def named(folder: Path, choice: str | None) -> str:
    """What the names of the files of a design begin with: that of its folder, and of a choice of woods."""
    from planbook.model.choices import slug

    return "-".join((folder.resolve().name, *((slug(choice),) if choice is not None else ())))


_Listed = dict[tuple[object, ...], "Lists"]


@dataclass(frozen=True, eq=False)
class _Made:
    """A build of which editions are printed, and the lists that were made of it, by what they depend on."""

    timeline: "Timeline"
    brought: Brought
    findings: tuple[Finding, ...]
    name: str
    listed: _Listed

    def edition(self, order: Order) -> "Edition":
        """An edition of this design, with its prices, rounded so that its sizes add up."""
        wanted = order.wanted
        edition = replace(wanted(self.timeline.design.card) if callable(wanted) else wanted, prices=self.brought.prices)
        return replace(edition, lengths=settled_lengths(self.timeline, edition))

    def lists(self, edition: "Edition", *, told: bool = False) -> "Lists":
        """What it takes: as in the files beside a booklet, or `told` in the language of the edition."""
        language = edition.language if told else ""
        if language == "en" and language not in self.timeline.design.translations:
            language = ""
        key = (edition.system, edition.work_a_day, language)
        if key not in self.listed:
            self.listed[key] = lists_of(self.timeline, self.brought, edition, told=bool(language))
        return self.listed[key]


def _made(timeline: "Timeline", order: Order, findings: Sequence[Finding], listed: _Listed) -> _Made:
    brought = brought_along(timeline.design, order.rack, order.prices)
    return _Made(timeline, brought, in_order((*findings, *brought.findings)), named(order.folder, order.choice), listed)


@dataclass(frozen=True, eq=False)
class _Drawn:
    """An edition with its lists and drawings (None where a sheet is too large), and what was found on the way."""

    edition: "Edition"
    taken_off: "Lists"
    drawings: "Drawings | None"
    findings: tuple[Finding, ...]


def _drawn(made: _Made, order: Order, progress: Progress, cache: Cache) -> _Drawn | None:
    """An edition drawn, or None where a finding stops it. What may vary does not change it."""
    from planbook.drawing.findings import too_large
    from planbook.drawing.tiles_grid import TooManyTiles
    from planbook.review.untold import untold

    edition = made.edition(order)
    if any(finding.stops for finding in made.findings) and not edition.draft:
        return None
    progress("listing")
    taken_off, noticed = made.lists(edition), list[Finding]()
    found = (*taken_off.findings, *untold(made.timeline, edition.language))
    try:
        in_language = made.lists(edition, told=True)
        drawings = drawn(made.timeline, edition, progress, cache, in_language, noticed.append)
    except TooManyTiles as problem:
        return _Drawn(edition, taken_off, None, (*found, too_large(problem, made.timeline.design)))
    return _Drawn(edition, taken_off, drawings, (*found, *noticed))


def _typeset(
    made: _Made, order: Order, progress: Progress, cache: Cache, early: _Drawn | None
) -> tuple[Typeset | None, tuple[Finding, ...]]:
    """An edition ready for the press, or None where a finding stops it; and all that was found."""
    stopped = any(finding.stops for finding in made.findings) and not made.edition(order).draft
    art = None if stopped else early or _drawn(made, order, progress, cache)
    if art is None:
        return None, made.findings
    findings, edition = in_order((*made.findings, *art.findings)), art.edition
    if art.drawings is None:
        return None, findings
    html, sizes = composed(made.timeline, edition, progress, made.lists(edition, told=True), art.drawings)
    stem = "-".join((made.name, *edition.marks))
    beside, inside = _beside(made, edition, art.taken_off, stem)
    return Typeset(stem, html, edition.paper_row, sizes, Path(edition.layout).name, beside, inside), findings


def _beside(
    made: _Made, edition: "Edition", taken_off: "Lists", stem: str
) -> tuple[Mapping[str, bytes], Mapping[str, bytes] | None]:
    """The files beside a booklet by their names, and those inside its copy for archives if there is to be one."""
    from planbook.takeoff import as_csv, as_json

    texts = {f"{stem}.csv": as_csv(taken_off, edition.style), f"{stem}.json": as_json(taken_off)}
    listed = {file: text.encode("utf-8", "backslashreplace") for file, text in texts.items()}
    tools = tool_files(made.timeline) if edition.tool_files or edition.archive else {}
    beside = {
        **listed,
        **({f"{made.name}-files/{file}": data for file, data in tools.items()} if edition.tool_files else {}),
    }
    inside = {**source_files(made.timeline.design), **listed, **tools} if edition.archive else None
    return beside, inside
