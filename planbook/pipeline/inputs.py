"""A digest of the files that a build may read, whatever is in them; what this program itself wrote does not count."""

import hashlib
import os
import re
import stat
from collections.abc import Iterator
from pathlib import Path

MOST_FILES, MOST_BYTES = 5000, 500_000_000
"""A folder that holds more is no folder of a design, and nothing about it is kept."""
_BOOKLET = r"-(?:letter|a4|tabloid|a3)-(?:in|in-decimal|mm|both)(?:-.*)?\.(?:pdf|csv|json)"
_PARTS = (".part", ".pyc")


class TooMuch(Exception):  # noqa: N818 - it is an answer, not a failure
    """More files than are looked at."""


def files_digest(*paths: Path) -> str:
    """A digest of files and of all files in folders, by their names there. Raises TooMuch and OSError."""
    hashed, left = hashlib.sha256(), [MOST_FILES, MOST_BYTES]
    for path in paths:
        hashed.update(b"\1")
        for name, file in _files(path):
            hashed.update(name.encode("utf-8", "surrogateescape") + b"\0")
            hashed.update(_content(file, left))
    return hashed.hexdigest()


def _files(path: Path) -> Iterator[tuple[str, Path]]:
    if not path.is_dir():
        yield "", path
        return
    name = re.escape(path.resolve().name)
    booklet, folder = re.compile(rf"{name}(?:-.*)?{_BOOKLET}"), re.compile(rf"{name}(?:-.*)?-(?:files|offer)")
    for top, inside, files in os.walk(path):
        links = [each for each in inside if os.path.islink(os.path.join(top, each))]
        inside[:] = sorted(each for each in inside if each not in links and not folder.fullmatch(each))
        for file in sorted((*files, *links)):
            if not booklet.fullmatch(file) and not file.endswith(_PARTS):
                whole = Path(top, file)
                yield whole.relative_to(path).as_posix(), whole


def _content(path: Path, left: list[int]) -> bytes:
    """A digest of a file: of a link also where it leads; of what is no plain file, what it is instead."""
    where = os.readlink(path) if path.is_symlink() else ""
    try:
        facts = path.stat()
    except (OSError, ValueError):
        return _digest(f"none {where}".encode("utf-8", "surrogateescape"))
    left[0] -= 1
    left[1] -= facts.st_size
    if min(left) < 0:
        raise TooMuch
    data = path.read_bytes() if stat.S_ISREG(facts.st_mode) else b""
    mode = stat.S_IFMT(facts.st_mode)
    return _digest(f"{mode} {where}\0".encode("utf-8", "surrogateescape") + data)


def _digest(data: bytes) -> bytes:
    return hashlib.sha256(data).digest()
