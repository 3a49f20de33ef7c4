"""Writes the booklet of a design, whole or not at all."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.cache import Cache, Forgetful
from planbook.pipeline.checking import check
from planbook.pipeline.composing import composed, spoken
from planbook.pipeline.files import source_files, tool_files
from planbook.pipeline.finished import Order, find, keep, key_of
from planbook.pipeline.listing import brought_along
from planbook.pipeline.pressing import Typeset, pressed
from planbook.pipeline.records import FORGETFUL, Brought, Built, Progress
from planbook.text import Finding, Sources, in_order
from planbook.whole_files import write_together

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.model import Card
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
) -> Built:
    """Check a design and, if nothing stops it or a draft was asked for, write its booklet whole into `out`.

    The edition may depend on the design's card; the name of the file carries the choice of woods. The lists are
    written beside it, as CSV and as JSON. With a rack, the cut layouts use what it holds first; with a price list,
    the booklet has a page of costs; `nominal` leaves out what may vary.

    Raises UnknownChoice, MissingLibrary, LayoutProblem, PaperTooSmall and OSError (a folder that cannot be written).
    """
    order = Order(folder, wanted, choice, prices, rack, nominal)
    key = None if isinstance(cache, Forgetful) else key_of(order)
    found = find(cache, key, out)
    if found is not None:
        return found
    findings, sources, files = _afresh(order, progress, cache)
    built = Built(findings, sources, tuple(out / name for name in files))
    write_together({out / name: data for name, data in files.items()})
    if key is not None and key == key_of(order):  # nothing was changed meanwhile
        keep(cache, key, built, files)
    cache.tidy()
    return built


def _afresh(order: Order, progress: Progress, cache: Cache) -> tuple[tuple[Finding, ...], Sources, Mapping[str, bytes]]:
    """What is found in a build that is really carried out, and its files by their names."""
    checked = check(order.folder, progress, choice=order.choice, nominal=order.nominal, cache=cache)
    timeline, wanted = checked.timeline, order.wanted
    if timeline is None:
        return checked.findings, checked.sources, {}
    brought = brought_along(timeline.design, order.rack, order.prices)
    edition = replace(wanted(timeline.design.card) if callable(wanted) else wanted, prices=brought.prices)
    findings, sources = in_order((*checked.findings, *brought.findings)), {**checked.sources, **brought.sources}
    if any(finding.stops for finding in findings) and not edition.draft:
        return findings, sources, {}
    made = _Made(timeline, brought, edition, findings)
    typeset, findings = _typeset(made, named(order.folder, order.choice), progress, cache)
    if typeset is None:
        return findings, sources, {}
    progress("printing")
    return findings, sources, pressed(typeset)


def named(folder: Path, choice: str | None) -> str:
    """What the names of the files of a design begin with: that of its folder, and of a choice of woods."""
    from planbook.model.choices import slug

    return "-".join((folder.resolve().name, *((slug(choice),) if choice is not None else ())))


@dataclass(frozen=True, eq=False)
class _Made:
    """A build that may be printed, and the edition to print."""

    timeline: "Timeline"
    brought: Brought
    edition: "Edition"
    findings: tuple[Finding, ...]


def _typeset(made: _Made, name: str, progress: Progress, cache: Cache) -> tuple[Typeset | None, tuple[Finding, ...]]:
    """An edition ready for the press, or None where a stencil has too many tiles; and all that was found."""
    from planbook.drawing.findings import too_large
    from planbook.drawing.tiles_grid import TooManyTiles
    from planbook.takeoff import lists

    timeline, edition, drawn = made.timeline, made.edition, list[Finding]()
    progress("listing")
    taken_off = lists(timeline, made.brought.rack, edition.system, work_a_day=edition.work_a_day, prices=edition.prices)
    findings = in_order((*made.findings, *taken_off.findings))
    try:
        in_language = spoken(timeline, made.brought, edition, taken_off)
        html, sizes = composed(timeline, edition, progress, cache, in_language, drawn.append)
    except TooManyTiles as problem:
        return None, in_order((*findings, too_large(problem, timeline.design)))
    stem = "-".join((name, *edition.marks))
    beside, inside = _beside(made, taken_off, name, stem)
    layout = Path(edition.layout).name
    return Typeset(stem, html, edition.paper_row, sizes, layout, beside, inside), in_order((*findings, *drawn))


def _beside(
    made: _Made, taken_off: "Lists", name: str, stem: str
) -> tuple[Mapping[str, bytes], Mapping[str, bytes] | None]:
    """The files beside a booklet by their names, and those inside its copy for archives if there is to be one."""
    from planbook.takeoff import as_csv, as_json

    edition = made.edition
    texts = {f"{stem}.csv": as_csv(taken_off, edition.style), f"{stem}.json": as_json(taken_off)}
    listed = {file: text.encode("utf-8", "backslashreplace") for file, text in texts.items()}
    tools = tool_files(made.timeline) if edition.tool_files or edition.archive else {}
    beside = {
        **listed,
        **({f"{name}-files/{file}": data for file, data in tools.items()} if edition.tool_files else {}),
    }
    inside = {**source_files(made.timeline.design), **listed, **tools} if edition.archive else None
    return beside, inside
