"""What is in an archive, as an SQLite table with full-text search; it holds nothing that the manifests do not.

It is out of date when a release was about to be written and is not recorded, or when the folder of the releases
was changed since the last one was. Both are looked at whenever it is opened, at a cost that does not grow.
"""

import os
import re
import sqlite3
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, contextmanager, nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.archive.names import Ref, Version, read_version
from planbook.archive.problem import ArchiveProblem, Damaged
from planbook.archive.store import CATALOGUE, Store

if TYPE_CHECKING:
    from planbook.archive.manifest import Manifest

FORM = 1
MOST_WORDS = 20
READER_WAITS = 2.0
"""Seconds that a reader waits for a writer before it reads the manifests itself."""
_TABLES = f"""
PRAGMA user_version = {FORM};
CREATE TABLE releases (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, design TEXT NOT NULL, version TEXT NOT NULL,
    major INTEGER NOT NULL, minor INTEGER NOT NULL, patch INTEGER NOT NULL,
    title TEXT NOT NULL, maker TEXT NOT NULL, woods TEXT NOT NULL, released TEXT NOT NULL,
    files INTEGER NOT NULL, bytes INTEGER NOT NULL, seal TEXT NOT NULL);
CREATE INDEX by_number ON releases (design, major, minor, patch);
CREATE VIRTUAL TABLE words USING fts5 (
    title, summary, maker, design, woods, pieces, steps, stencils, tools, supplies, skill, licence,
    tokenize = "unicode61 remove_diacritics 2");
CREATE TABLE state (stamp INTEGER NOT NULL);
CREATE TABLE expected (name TEXT PRIMARY KEY);
INSERT INTO state VALUES (-1);
"""
_COLUMNS = "name, design, version, title, maker, woods, released, files, bytes, seal"


@dataclass(frozen=True, slots=True)
class Row:
    """A release as the catalogue knows it; `bytes` is the size of its files."""

    name: str
    design: str
    version: str
    title: str
    maker: str
    woods: str
    released: str
    files: int
    bytes: int
    seal: str


class Catalogue:
    """The catalogue of an archive, open. Use `opened`."""

    def __init__(self, store: Store, base: sqlite3.Connection) -> None:
        self.store = store
        self.base = base

    def rows(self, design: str | None = None) -> list[Row]:
        """All releases, or those of a design, by design and number."""
        where, values = (" WHERE design = ?", (design,)) if design is not None else ("", ())
        return self._rows(f"SELECT {_COLUMNS} FROM releases{where} ORDER BY design, major, minor, patch", values)

    def search(self, text: str) -> list[Row]:
        """The releases that hold words beginning with all of these words, the best first.

        Raises ArchiveProblem where there is no word to look for.
        """
        wanted = words_of(text)
        if not wanted:
            raise ArchiveProblem(f"there is no word to look for in `{text[:100]}`")
        asked = " ".join(f'"{word}"*' for word in wanted[:MOST_WORDS])
        names = ", ".join(f"releases.{name.strip()}" for name in _COLUMNS.split(","))
        return self._rows(
            f"SELECT {names} FROM words JOIN releases ON releases.id = words.rowid WHERE words MATCH ?"
            " ORDER BY bm25(words, 8.0, 4.0), releases.design, major DESC, minor DESC, patch DESC",
            (asked,),
        )

    def find(self, ref: Ref) -> Row | None:
        """A release by its name; the greatest of its design where no version is asked for."""
        rows = self.rows(ref.design)
        if ref.version is None:
            return rows[-1] if rows else None
        return next((row for row in rows if read_version(row.version) == ref.version), None)

    def before(self, design: str, version: Version) -> Row | None:
        """The greatest release of a design with a lower number."""
        found = self._rows(
            f"SELECT {_COLUMNS} FROM releases WHERE design = ? AND (major, minor, patch) < (?, ?, ?)"
            " ORDER BY major DESC, minor DESC, patch DESC LIMIT 1",
            (design, version.major, version.minor, version.patch),
        )
        return found[0] if found else None

    def designs(self) -> list[str]:
        """The names of all designs."""
        return [name for (name,) in self.base.execute("SELECT DISTINCT design FROM releases ORDER BY design")]

    def expect(self, name: str) -> None:
        """Note that a manifest is about to be written, so that it is looked for if nothing more is heard."""
        with _changing(self.base):
            self.base.execute("INSERT OR IGNORE INTO expected VALUES (?)", (name,))

    def record(self, manifest: "Manifest") -> None:
        """Take in a release whose manifest was written; where that fails, it is still expected, and taken in later."""
        with suppress(sqlite3.Error), _changing(self.base):
            self._insert(manifest)
            self.base.execute("DELETE FROM expected WHERE name = ?", (manifest.name,))
            self._stamp()

    def current(self) -> bool:
        """Whether nothing was written that it does not hold."""
        (stamp,) = self.base.execute("SELECT stamp FROM state").fetchone()
        waiting = self.base.execute("SELECT 1 FROM expected LIMIT 1").fetchone()
        return waiting is None and stamp == os.stat(self.store.releases).st_mtime_ns

    def catch_up(self, read: Iterable[str] = ()) -> None:
        """Take in what was written, and leave out what is gone; those named are read again."""
        with _changing(self.base):
            stamp = os.stat(self.store.releases).st_mtime_ns
            known = {name for (name,) in self.base.execute("SELECT name FROM releases")}
            there = set(self.store.names())
            again = set(read) & known
            for name in sorted((known - there) | again):
                self._delete(name)
            for manifest in _readable(self.store, sorted((there - known) | (again & there))):
                self._insert(manifest)
            self.base.execute("DELETE FROM expected")
            self.base.execute("UPDATE state SET stamp = ?", (stamp,))

    def sound(self) -> bool:
        """Whether SQLite finds nothing wrong with the file and its index of words."""
        try:
            found = self.base.execute("PRAGMA integrity_check").fetchall()
            self.base.execute("INSERT INTO words (words) VALUES ('integrity-check')")
        except sqlite3.DatabaseError:
            return False
        return found == [("ok",)]

    def _insert(self, manifest: "Manifest") -> None:
        self._delete(manifest.name)
        number, about = manifest.number, manifest.about
        woods = ", ".join(about.woods)
        row = (manifest.name, manifest.design, manifest.version, number.major, number.minor, number.patch)
        facts = (about.title, about.maker, woods, manifest.released, len(manifest.files), manifest.bytes, manifest.seal)
        marks = ", ".join("?" * 13)
        names = "name, design, version, major, minor, patch, title, maker, woods, released, files, bytes, seal"
        done = self.base.execute(f"INSERT INTO releases ({names}) VALUES ({marks})", (*row, *facts))
        told: tuple[str | Sequence[str], ...] = (
            *(about.title, about.summary, about.maker, manifest.design, woods, about.pieces, about.steps),
            *(about.stencils, about.tools, about.supplies, about.skill, about.licence),
        )
        texts = [text if isinstance(text, str) else " ".join(text) for text in told]
        self.base.execute(
            "INSERT INTO words (rowid, title, summary, maker, design, woods, pieces, steps, stencils, tools, supplies,"
            f" skill, licence) VALUES ({', '.join('?' * 13)})",
            (done.lastrowid, *texts),
        )

    def _delete(self, name: str) -> None:
        found = self.base.execute("SELECT id FROM releases WHERE name = ?", (name,)).fetchone()
        if found:
            self.base.execute("DELETE FROM words WHERE rowid = ?", found)
            self.base.execute("DELETE FROM releases WHERE id = ?", found)

    def _stamp(self) -> None:
        self.base.execute("UPDATE state SET stamp = ?", (os.stat(self.store.releases).st_mtime_ns,))

    def _rows(self, question: str, values: Sequence[object]) -> list[Row]:
        return [Row(*row) for row in self.base.execute(question, values)]


@contextmanager
def opened(store: Store, locked: bool = False) -> Iterator[Catalogue]:
    """The catalogue, up to date: made again where it is missing or broken, in memory where nothing can be written.

    `locked` says that the caller holds the lock of the archive. Raises ArchiveProblem where it is no archive, and
    where SQLite can no longer read or write what it could before.
    """
    store.need()
    with closing(_connected(store, locked)) as base:
        try:
            yield Catalogue(store, base)
        except sqlite3.Error as error:
            hint = "`planbook archive verify` makes it again"
            raise ArchiveProblem(f"the catalogue of the archive cannot be used ({error}); {hint}") from None


def as_it_lies(store: Store) -> list[Row] | None:
    """What the catalogue says, after what a stopped process left undone; None where it is missing or broken."""
    with suppress(OSError, sqlite3.Error, ArchiveProblem):
        base = _kept(store)
        if base is None:
            with store.writing(READER_WAITS):
                base = _caught_up(store)
        if base is not None:
            with closing(base):
                catalogue = Catalogue(store, base)
                return catalogue.rows() if catalogue.sound() else None
    return None


def made_again(store: Store) -> None:
    """Throw the catalogue away and make it from the manifests. Raises OSError, and ArchiveProblem where locked."""
    with store.writing():
        _fresh(store).close()


def words_of(text: str) -> list[str]:
    """The words of a text, as they are looked for."""
    return re.findall(r"[^\W_]+", unicodedata.normalize("NFC", text))


def _connected(store: Store, locked: bool) -> sqlite3.Connection:
    base = _kept(store)
    if base is not None:
        return base
    with suppress(OSError, sqlite3.Error, ArchiveProblem), nullcontext() if locked else store.writing(READER_WAITS):
        return _kept(store) or _caught_up(store) or _fresh(store)
    base = _connection(":memory:")
    base.executescript(_TABLES)
    Catalogue(store, base).catch_up()
    return base


def _kept(store: Store) -> sqlite3.Connection | None:
    """The catalogue as it lies there, if it is readable and up to date."""
    base = _readable_base(store)
    with suppress(sqlite3.DatabaseError):
        if base is not None and Catalogue(store, base).current():
            return base
    if base is not None:
        base.close()
    return None


def _caught_up(store: Store) -> sqlite3.Connection | None:
    base = _readable_base(store)
    with suppress(sqlite3.DatabaseError):
        if base is not None:
            Catalogue(store, base).catch_up()
            return base
    if base is not None:
        base.close()
    return None


def _readable_base(store: Store) -> sqlite3.Connection | None:
    path = store.folder / CATALOGUE
    if not path.is_file():
        return None
    base = _connection(path.resolve().as_uri() + "?mode=rw")
    with suppress(sqlite3.DatabaseError):
        if base.execute("PRAGMA user_version").fetchone() == (FORM,):
            return base
    base.close()
    return None


def _fresh(store: Store) -> sqlite3.Connection:
    """A new catalogue of everything, made beside the old one and moved to its place; the caller holds the lock."""
    part, path = store.part(), store.folder / CATALOGUE
    with closing(_connection(str(part))) as base:
        base.executescript(_TABLES)
        Catalogue(store, base).catch_up()
    for journal in ("-journal", "-wal", "-shm"):
        Path(f"{path}{journal}").unlink(missing_ok=True)
    os.replace(part, path)
    return _connection(path.resolve().as_uri() + "?mode=rw")


def _connection(name: str) -> sqlite3.Connection:
    return sqlite3.connect(name, timeout=10, isolation_level=None, uri=name.startswith("file:"))


def _readable(store: Store, names: Iterable[str]) -> "Iterator[Manifest]":
    """The manifests that are as they were written; the others are named by `verify`."""
    from planbook.archive.manifest import read_manifest

    for name in names:
        with suppress(OSError, Damaged):
            yield read_manifest(store.manifest_path(name).read_bytes(), name)


@contextmanager
def _changing(base: sqlite3.Connection) -> Iterator[None]:
    base.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        base.execute("ROLLBACK")
        raise
    base.execute("COMMIT")
