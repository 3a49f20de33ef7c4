"""Makes correction sheets for those who have an older booklet: what changed, and the pages that are other ones now."""

import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Literal, cast

from planbook.archive import Archive, ArchiveProblem, Damaged
from planbook.buyers import Holder, holders
from planbook.pipeline import Progress
from planbook.selling.released import Master, NotReleased, Released, is_path, release_of
from planbook.speech import say, speaking
from planbook.text import Finding

if TYPE_CHECKING:
    from planbook.archive.compare import Change, Comparison
    from planbook.archive.manifest import Manifest

_COUNTED = re.compile(r" \(\d+\)$")
_NAMED = re.compile(r"`([^`]*)`")


@dataclass(frozen=True, slots=True)
class Corrected:
    """What a correction found and wrote, and who is to get it.

    `pages` are those of each sheet; `alike` are earlier releases in which the same is wrong, whose buyers are among
    `buyers`.
    """

    findings: tuple[Finding, ...]
    files: tuple[Path, ...] = ()
    buyers: tuple[Holder, ...] = ()
    pages: tuple[tuple[int, ...], ...] = ()
    alike: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Told:
    """What a maker says instead of what is found: pages of one booklet, stencils to print again, lines of changes."""

    pages: Sequence[int] = ()
    stencils: Sequence[str] = ()
    changes: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class _Pair:
    """A booklet of the old release and that of the new one, and what has changed if both lie in an archive."""

    old: Master
    new: Master
    versions: tuple[str, str]
    changes: "Comparison | None"


def errata(
    old: str,
    new: str,
    archive: Archive,
    out: Path,
    register: Path | None,
    progress: Progress = lambda _: None,
    *,
    editions: Sequence[str] = (),
    told: Told | None = None,
) -> Corrected:
    """Write the sheets that correct the booklets of one release to those of another, and list who holds the old one.

    Both are named as for `release_of`. Several editions give several files, named like `out` and by their editions.
    Raises ArchiveProblem, MissingLibrary, OSError and RegisterProblem.
    """
    from planbook.press import NO_SUCH_PAGE, NOT_A_MASTER, NoMaster
    from planbook.whole_files import write_together

    told = told or Told()
    sheets: dict[Path, bytes] = {}
    pages: list[tuple[int, ...]] = []
    try:
        before, after = _two(old, new, archive, editions)
        pairs = tuple(_pairs(before, after, archive))
        if told.pages and len(pairs) > 1:
            raise ArchiveProblem("--pages counts the pages of one booklet; name its edition as well")
        for pair in pairs:
            progress(f"comparing {pair.new.edition}".strip())
            try:
                numbers = tuple(sorted(set(told.pages))) or _pages(pair)
                if numbers:
                    sheets[_named(out, pair.new.edition, len(pairs))] = _sheet(pair, numbers, told)
                    pages.append(numbers)
            except NoMaster as problem:
                kind = NO_SUCH_PAGE if problem.page else NOT_A_MASTER
                return Corrected((pair.new.finding(kind, f"gives no correction sheet: {problem}"),))
    except NotReleased as refusal:
        return Corrected((refusal.finding,))
    if not sheets:
        return Corrected((_nothing(before, after),))
    alike = tuple(_alike(before, after, archive))
    concerned = () if register is None else tuple(_concerned(register, before, alike))
    write_together(sheets)
    return Corrected((), tuple(sheets), concerned, tuple(pages), alike)


def _two(old: str, new: str, archive: Archive, editions: Sequence[str]) -> tuple[Released, Released]:
    """Raises NotReleased, and ArchiveProblem where the two do not belong together."""
    if is_path(old) != is_path(new):
        raise ArchiveProblem(f"`{old}` and `{new}` cannot be compared; name two releases, or two PDFs")
    before, after = release_of(old, archive, editions), release_of(new, archive, editions)
    if before.manifest and after.manifest and before.manifest.design != after.manifest.design:
        raise ArchiveProblem(f"`{before.manifest.name}` and `{after.manifest.name}` are two designs")
    return before, after


def _pairs(before: Released, after: Released, archive: Archive) -> Iterator[_Pair]:
    """The booklets of both releases by their editions. Raises NotReleased where they have none in common."""
    from planbook.press import NO_EDITION

    if before.manifest is None or after.manifest is None:
        yield _Pair(before.masters[0], after.masters[0], (before.version.version, after.version.version), None)
        return
    known = {master.edition: master for master in before.masters}
    if not any(master.edition in known for master in after.masters):
        raise NotReleased(NO_EDITION.at(after.masters[0].place, "the two releases have no edition in common"))
    versions = before.manifest.version, after.manifest.version
    for master in after.masters:
        if master.edition in known:
            with speaking(_language(master.pdf)):
                changes = _compared(archive, before.manifest, after.manifest, master.edition)
            yield _Pair(known[master.edition], master, versions, changes)


def _language(pdf: bytes) -> str:
    from planbook.press import NoMaster, booklet_facts

    with suppress(NoMaster):
        return booklet_facts(pdf).language
    return "en"


def _compared(archive: Archive, old: "Manifest", new: "Manifest", edition: str = "") -> "Comparison":
    """What has changed, told in the units of an edition and the language that is spoken."""
    from planbook.archive.compare import compare

    facts = archive.facts(new)
    units = next((part for part in edition.split("-") if part in ("in", "mm")), facts.units)
    return compare(archive.facts(old), replace(facts, units=cast(Literal["in", "mm"], units)))


def _pages(pair: _Pair) -> tuple[int, ...]:
    """The pages of the new booklet that say or show something else, and all pages of stencils to print again."""
    from planbook.booklet.compose import words_of
    from planbook.booklet.layouts import layout_root
    from planbook.press import booklet_facts, bookmarked_pages, other_pages

    phrases = ("", "")
    if pair.changes is not None:
        word = words_of(layout_root() / "booklet", booklet_facts(pair.new.pdf).language)["version"]
        phrases = f"{word} {pair.versions[0]}", f"{word} {pair.versions[1]}"
    found = set(other_pages(pair.old.pdf, pair.new.pdf, phrases))
    again = {name for each in (pair.changes.print_again if pair.changes else ()) for name in (each, _bare(each))}
    for title, page in bookmarked_pages(pair.new.pdf):
        if page and not again.isdisjoint((title, *title.split(", "))):
            found.add(page)
    return tuple(sorted(found))


def _bare(name: str) -> str:
    """The title of a stencil without the number that tells it from others of the same title."""
    return _COUNTED.sub("", name)


def _sheet(pair: _Pair, pages: tuple[int, ...], told: Told) -> bytes:
    from planbook.booklet.correction import CorrectionSheet, correction_html
    from planbook.press import booklet_facts, excerpt, press_page

    facts = booklet_facts(pair.new.pdf)
    stencils = tuple(told.stencils) or (pair.changes.print_again if pair.changes else ())
    with speaking(facts.language):
        found = tuple(map(_line, pair.changes.changes if pair.changes else ()))
    sheet = CorrectionSheet(
        facts.title or pair.new.stem,
        *pair.versions,
        pages,
        facts.width,
        facts.height,
        stencils,
        tuple(told.changes) or found,
        facts.language,
        none_again=pair.changes is not None,
    )
    return excerpt(pair.new.pdf, pages, press_page(correction_html(sheet)))


def _line(change: "Change") -> str:
    """A change as a line of the sheet."""
    from planbook.archive.changes import TITLES

    said = _NAMED.sub(r"“\1”", change.text)
    return f"{say(TITLES[change.subject])}: {said}"


def _named(out: Path, edition: str, count: int) -> Path:
    return out if count == 1 else out.with_name(f"{out.stem}-{edition}{out.suffix}")


def _nothing(before: Released, after: Released) -> Finding:
    from planbook.press import NOTHING_TO_CORRECT

    def named(released: Released) -> str:
        return released.manifest.name if released.manifest else f"{released.version.release}.pdf"

    headline = f"no page of `{named(after)}` differs from those of `{named(before)}`"
    return NOTHING_TO_CORRECT.at(after.masters[0].place, headline)


def _alike(before: Released, after: Released, archive: Archive) -> Iterator[str]:
    """Earlier releases of the design in which all that was mended is as it was in the old one."""
    if before.manifest is None or after.manifest is None:
        return
    mended = set(_compared(archive, before.manifest, after.manifest).changes)
    with archive.catalogue() as catalogue:
        names = [row.name for row in catalogue.rows(before.manifest.design)]
    for name in names if mended else ():
        with suppress(Damaged):
            other = archive.manifest(name)
            if other.number < before.manifest.number and mended <= set(
                _compared(archive, other, after.manifest).changes
            ):
                yield name


def _concerned(register: Path, before: Released, alike: Sequence[str]) -> Iterator[Holder]:
    """Who holds the old release or one like it, or a copy that was made from the file of one of its booklets."""
    digests = {sha256(master.pdf).hexdigest() for master in before.masters}
    for each in holders(register):
        same = (each.of.release, each.of.version) == (before.version.release, before.version.version)
        if same or each.of.digest in digests or f"{each.of.release}@{each.of.version}" in alike:
            yield each
