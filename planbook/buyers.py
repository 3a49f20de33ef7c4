"""The register of buyers: one SQLite file, apart from everything else, that says who has which version.

It holds personal data. It is read and written by nobody but its owner, and what is forgotten is overwritten.
"""

import os
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from planbook.model.orders import Order

USUAL = "buyers.sqlite"
_MARK = 0x706C6E62
"""Tells the file from other databases (SQLite, `PRAGMA application_id`)."""
_TABLE = """
CREATE TABLE copies (
    number TEXT, name TEXT, contact TEXT, licence TEXT,
    release TEXT NOT NULL, version TEXT NOT NULL, digest TEXT NOT NULL,
    UNIQUE (number, release, version)
)
"""
_ENTER = """
INSERT INTO copies VALUES (?, ?, ?, ?, ?, ?, ?)
ON CONFLICT (number, release, version) DO UPDATE SET
    name = excluded.name, contact = excluded.contact, licence = excluded.licence, digest = excluded.digest
"""
_FORGET = "UPDATE copies SET number = NULL, name = NULL, contact = NULL, licence = NULL WHERE number = ?"


class RegisterProblem(Exception):  # noqa: N818 - it is told to people like a finding
    """A register that is missing, damaged, in use, or another kind of file."""


@dataclass(frozen=True, slots=True)
class Version:
    """What a copy was made from: a design, its version, and the seal of that release.

    Of a PDF that lies in no archive: its name, and the SHA-256 of it, short and whole.
    """

    release: str
    version: str
    digest: str


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a copy of what. Of a buyer who was forgotten only the version is left, to be counted."""

    number: str
    name: str
    contact: str
    licence: str
    of: Version

    @property
    def forgotten(self) -> bool:
        """True if nothing is known of the buyer any more."""
        return not self.number


def enter(path: Path, version: Version, orders: Iterable[Order]) -> None:
    """Write down who gets a copy, all or none; what is known already is not entered twice. Raises RegisterProblem."""
    rows = ((o.number, o.name, o.contact, o.licence, version.release, version.version, version.digest) for o in orders)
    with _opened(path, new=True) as book, book:
        book.executemany(_ENTER, rows)


def holders(path: Path, release: str | None = None, version: str | None = None) -> tuple[Holder, ...]:
    """Everybody who has a copy (of one design, in one version), by them and by number. Raises RegisterProblem."""
    with _opened(path) as book:
        rows = book.execute(
            "SELECT number, name, contact, licence, release, version, digest FROM copies "
            "WHERE (?1 IS NULL OR release = ?1) AND (?2 IS NULL OR version = ?2) ORDER BY release, version, number",
            (release, version),
        ).fetchall()
    return tuple(
        Holder(number or "", name or "", contact or "", licence or "", Version(*of))
        for number, name, contact, licence, *of in rows
    )


def forget(path: Path, number: str) -> int:
    """Forget the buyer of an order: how many copies that order had. Raises RegisterProblem.

    Nothing of the name is left in the file. The copies themselves are not touched and stay good.
    """
    with _opened(path) as book:
        book.execute("PRAGMA secure_delete = ON")
        with book:
            count = book.execute(_FORGET, (number,)).rowcount
        book.execute("VACUUM")
    return count


@contextmanager
def _opened(path: Path, new: bool = False) -> Iterator[sqlite3.Connection]:
    try:
        if new and not path.exists():
            os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
        elif not path.is_file():
            raise RegisterProblem(f"there is no register `{path}`")
        with closing(sqlite3.connect(path, timeout=10)) as book:
            _check(book, path)
            yield book
    except sqlite3.OperationalError as error:
        raise RegisterProblem(f"the register `{path}` cannot be used: {error}") from None
    except sqlite3.DatabaseError:
        raise RegisterProblem(f"`{path}` is not a register of buyers, or it is damaged") from None
    except OSError as error:
        reason = (error.strerror or type(error).__name__).lower()
        raise RegisterProblem(f"the register `{path}` cannot be used: {reason}") from None


def _check(book: sqlite3.Connection, path: Path) -> None:
    (mark,) = book.execute("PRAGMA application_id").fetchone()
    (count,) = book.execute("SELECT count(*) FROM sqlite_master").fetchone()
    if not mark and not count:
        with book:
            book.execute(_TABLE)
            book.execute(f"PRAGMA application_id = {_MARK}")
    elif mark != _MARK:
        raise RegisterProblem(f"`{path}` is not a register of buyers")
