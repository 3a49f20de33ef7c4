"""Writes whole files or nothing; it does not know what is in them."""

import os
import re
import tempfile
import unicodedata
from collections.abc import Iterable, Iterator
from contextlib import suppress
from itertools import islice
from pathlib import Path

_UNSAFE = re.compile(r"[^\w]+", re.ASCII)
_LONGEST = 80
_AT_ONCE = 32


def file_name(words: str, taken: Iterable[str] = ()) -> str:
    """Words as the stem of a file name that every system takes: ASCII letters, digits and dashes, in lower case.

    It differs from the stems of the names in `taken` (by a number if need be).
    """
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    stem = _UNSAFE.sub("-", plain.replace("_", "-").lower()).strip("-")[:_LONGEST].rstrip("-") or "file"
    stems = {name.rsplit(".", 1)[0] for name in taken}
    number, found = 2, stem
    while found in stems:
        found, number = f"{stem}-{number}", number + 1
    return found


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path` in one move, so that an older file survives any failure on the way.

    Raises OSError when the folder cannot be written; nothing is left behind then.
    """
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:100]}.", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, _usual_mode())
        os.replace(name, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise


def _usual_mode() -> int:
    """Files of `mkstemp` are readable by their owner only; a booklet is an ordinary file."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def write_copies(folder: Path, master: bytes, copies: Iterable[tuple[str, bytes]]) -> Iterator[Path]:
    """Write files that all begin with `master` and end with their own bytes, each whole, many to one wait for the disk.

    Raises OSError; files that were finished before stay, and nothing half written is left.
    """
    names = iter(copies)
    while batch := list(islice(names, _AT_ONCE)):
        parts: list[tuple[Path, Path]] = []
        try:
            for name, rest in batch:
                handle, made = tempfile.mkstemp(prefix=f".{name[:100]}.", suffix=".part", dir=folder)
                parts.append((Path(made), folder / name))
                with os.fdopen(handle, "wb") as file:
                    file.write(master)
                    file.write(rest)
            for part, _ in parts:
                _settle(part)
            for part, path in parts:
                os.chmod(part, _usual_mode())
                os.replace(part, path)
                yield path
        finally:
            for part, _ in parts:
                part.unlink(missing_ok=True)


def _settle(path: Path) -> None:
    """Wait until a file is on the disk."""
    handle = os.open(path, os.O_RDONLY if os.name != "nt" else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
