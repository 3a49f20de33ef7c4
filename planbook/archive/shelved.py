"""Reads out of an archive what a shelf shows of each design, and leaves out what could harm those who look at it."""

import re
import struct
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from planbook.archive import kinds
from planbook.archive.archive import Archive
from planbook.archive.manifest import OFFER, Entry, Manifest
from planbook.booklet.basics import Fact
from planbook.booklet.offer import Listing, read_listing
from planbook.booklet.shelf import Plan, VersionRow, plain, search_words
from planbook.press.acting import MOST_BYTES, acts
from planbook.text import Finding, Place

MOST_LISTING, MOST_PICTURE, MOST_PIXELS = 1_000_000, 10_000_000, 4_000
LONGEST_TITLE, LONGEST_SUMMARY = 160, 600
MOST_CHANGES = 40
"""Changes told of one version."""
_PNG = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"
_SIZE = re.compile(r"(?P<sides>[0-9 /.]+(?:×[0-9 /.]+)*) (?P<unit>mm|in)")
_WORK = re.compile(r"(?:(?P<hours>[0-9]{1,5}) h)? ?(?:(?P<minutes>[0-9]{1,2}) min)?")


@dataclass(frozen=True, slots=True)
class Shelved:
    """A design on the shelf, and the files of the archive that lie beside its page, by their names."""

    plan: Plan
    files: Mapping[str, Entry]
    findings: tuple[Finding, ...]


def shelved(archive: Archive) -> Iterator[Shelved]:
    """Every design by its newest release, in the order of titles.

    Raises ArchiveProblem where there is no archive, Damaged where a file that is to be shown was changed, and OSError.
    """
    with archive.catalogue() as catalogue:
        rows = catalogue.rows()
    by_design: dict[str, list[str]] = {}
    for row in rows:
        by_design.setdefault(row.design, []).append(row.name)
    titles = {row.design: plain(row.title).casefold() for row in rows}
    for design in sorted(by_design, key=lambda design: (titles[design], design)):
        yield _shelved(archive, [archive.manifest(name) for name in reversed(by_design[design])])


@dataclass(slots=True)
class _Taker:
    """Takes files of a release, and notes what is not taken."""

    archive: Archive
    manifest: Manifest
    taken: dict[str, Entry] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def take(self, name: str, fault: Callable[[bytes], str], most: int) -> str:
        """The name of a file of the offer that is shown, or "" where there is none or it is not fit for it."""
        entry = self.manifest.entry(f"{OFFER}/{name}")
        if entry is None or self.read(entry, fault, most) is None:
            return ""
        self.taken[name] = entry
        return name

    def read(self, entry: Entry, fault: Callable[[bytes], str], most: int) -> bytes | None:
        """The bytes of a file, or None where they are not fit to be shown, which is noted."""
        data = self.archive.read(entry) if entry.size <= most else b""
        odd = fault(data) if data else "is empty or too large"
        if not odd:
            return data
        place = Place(self.archive.store.manifest_path(self.manifest.name).as_posix())
        text = f"`{entry.path}` of `{self.manifest.name}` {odd}; it is left out"
        self.findings.append(kinds.LEFT_OFF_SHELF.at(place, text))
        return None

    def listing(self) -> Listing | None:
        """What the release tells a shop, if it does."""
        entry = self.manifest.entry(f"{OFFER}/listing.json")
        data = self.read(entry, _listing_fault, MOST_LISTING) if entry else None
        return read_listing(data) if data else None


def _shelved(archive: Archive, manifests: list[Manifest]) -> Shelved:
    newest = manifests[0]
    taker = _Taker(archive, newest)
    listing = taker.listing()
    plan = _told(newest, manifests, listing)
    plan = replace(
        plan,
        cover=taker.take("cover-1200x900.png", picture_fault, MOST_PICTURE),
        thumbnail=taker.take("thumbnail-500x500.png", picture_fault, MOST_PICTURE),
        sample=taker.take("sample-pages.pdf", acts, MOST_BYTES),
        sheet=taker.take("material-sheet.pdf", acts, MOST_BYTES),
    )
    return Shelved(plan, taker.taken, tuple(taker.findings))


def _told(newest: Manifest, manifests: list[Manifest], listing: Listing | None) -> Plan:
    about = newest.about
    facts = _facts(listing.facts) if listing else ()
    told = {fact.label: fact.value for fact in facts}
    searched = (
        *(about.title, about.summary, about.maker, newest.design, *about.woods, *about.pieces, *about.steps),
        *(*about.stencils, *about.tools, *about.supplies, about.skill, about.licence),
    )
    return Plan(
        name=newest.design,
        title=plain(about.title, LONGEST_TITLE) or newest.design,
        summary=plain(about.summary, LONGEST_SUMMARY),
        maker=plain(about.maker),
        skill=plain(about.skill),
        licence=plain(about.licence),
        price=plain(about.price),
        woods=_texts(about.woods),
        facts=facts,
        needs=tuple(_needs(newest, listing)),
        versions=tuple(map(_version, manifests)),
        minutes=minutes_of(told.get("Work", "")),
        longest=longest_of(told.get("Finished size", "")),
        words=search_words(searched),
    )


def _needs(manifest: Manifest, listing: Listing | None) -> Iterator[tuple[str, tuple[Fact, ...]]]:
    """What must be at hand: as the listing says, else by the names alone."""
    about = manifest.about
    found = (
        ("Lumber", listing.lumber if listing else (Fact(wood, "") for wood in about.woods)),
        ("Tools", listing.tools if listing else (Fact(tool, "") for tool in about.tools)),
        ("Supplies", listing.supplies if listing else (Fact(supply, "") for supply in about.supplies)),
        ("Other woods for the same work", listing.choices if listing else ()),
    )
    for heading, rows in found:
        if kept := _facts(rows):
            yield heading, kept


def _version(manifest: Manifest) -> VersionRow:
    changes = _texts(manifest.changes)
    day = manifest.released[:10] if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T.*", manifest.released) else ""
    more = max(0, len(changes) - MOST_CHANGES)
    return VersionRow(str(manifest.number), day, changes[:MOST_CHANGES], manifest.after, more)


def _facts(rows: Iterable[Fact]) -> tuple[Fact, ...]:
    found = (Fact(plain(row.label), plain(row.value)) for row in rows)
    return tuple(fact for fact in found if fact.label)


def _texts(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(filter(None, map(plain, texts))))


def minutes_of(text: str) -> float | None:
    """The minutes of an estimate such as "9 h 15 min", or None."""
    found = _WORK.fullmatch(text)
    if not found or not (found["hours"] or found["minutes"]):
        return None
    return 60.0 * int(found["hours"] or 0) + int(found["minutes"] or 0)


def longest_of(text: str) -> float | None:
    """The longest side in mm of a size such as "8 1/2 × 4 × 3/4 in" or "600 × 186.9 × 510 mm", or None."""
    found = _SIZE.match(text)
    if not found:
        return None
    try:
        sides = [sum(map(Fraction, side.split())) for side in found["sides"].split("×")]
    except (ValueError, ZeroDivisionError):
        return None
    return float(max(sides)) * (25.4 if found["unit"] == "in" else 1.0)


def picture_fault(data: bytes) -> str:
    """Why bytes are not a PNG picture of an ordinary size (its first chunk: W3C, PNG, 11.2.1), or ""."""
    if not data.startswith(_PNG) or len(data) < len(_PNG) + 8:
        return "is no PNG picture"
    sides = struct.unpack(">II", data[len(_PNG) : len(_PNG) + 8])
    return "" if all(1 <= side <= MOST_PIXELS for side in sides) else "has too many pixels"


def _listing_fault(data: bytes) -> str:
    try:
        read_listing(data)
    except ValueError:
        return "is no listing"
    return ""
