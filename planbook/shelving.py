"""Writes a shelf, a static site of the designs of an archive, into a folder. Prints nothing.

The folder may hold other files, which are never touched: what was written is noted in a file of its own, and only that
is written over or taken away again.
"""

import hashlib
import json
import os
import string
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from planbook.archive import Archive, unsafe
from planbook.text import Finding
from planbook.whole_files import write_together, write_whole

NOTED = "shelf-files.json"
"""Names every file that was written, with its SHA-256."""
FORM = "planbook shelf 1"
FONTS = (
    ("SourceSerifPro-Regular", "serif"),
    ("SourceSansPro-Regular", "sans"),
    ("SourceSansPro-Light", "sans"),
    ("SourceSansPro-Semibold", "sans"),
)
MOST_BYTES = 20_000_000


class ShelfProblem(Exception):  # noqa: N818 - it is told to people like a finding
    """The folder holds something that would be written over."""


@dataclass(frozen=True, slots=True)
class Content:
    """A file of the shelf: its SHA-256, and its bytes when they are asked for."""

    sha256: str
    read: Callable[[], bytes]


@dataclass(frozen=True, slots=True)
class Shelf:
    """What was written: how many designs, how many files, and how many older ones were taken away."""

    findings: tuple[Finding, ...]
    designs: int
    files: int
    gone: int


def shelve(archive: Archive, out: Path) -> Shelf:
    """Write the shelf of an archive into the folder `out`, each file whole; the same archive, the same bytes.

    Raises ArchiveProblem, Damaged, LayoutProblem, ShelfProblem (before anything is written) and OSError.
    """
    files, designs, findings = composed(archive)
    before = _noted(out)
    _may_write(out, files, before)
    now = {name: content.sha256 for name, content in files.items()}
    stale = {name: sha256 for name, sha256 in before.items() if name not in now}
    out.mkdir(parents=True, exist_ok=True)
    # Until all is done the note names the older and the newer files, so that whoever is stopped can go on.
    write_whole(out / NOTED, _note({**before, **now} if before else now))
    write_together(_Lazily({out / name: content for name, content in files.items()}))
    gone = sum(_taken_away(out, name, sha256) for name, sha256 in stale.items())
    write_whole(out / NOTED, _note(now))
    return Shelf(findings, designs, len(files) + 1, gone)


def composed(archive: Archive) -> tuple[dict[str, Content], int, tuple[Finding, ...]]:
    """Every file of the shelf by its path with `/`, how many designs there are, and what was found."""
    from planbook.archive.shelved import shelved
    from planbook.booklet import shelf
    from planbook.press.fonts import font_file

    all_shelved = list(shelved(archive))
    pages = {"index.html": shelf.list_html([each.plan for each in all_shelved])}
    files: dict[str, Content] = {}
    for each in all_shelved:
        folder = f"plans/{each.plan.name}"
        pages[f"{folder}/index.html"] = shelf.plan_html(each.plan)
        for name, entry in each.files.items():
            files[f"{folder}/{name}"] = Content(entry.sha256, partial(archive.read, entry))
    files |= {name: _content(page.encode("utf-8")) for name, page in pages.items()}
    files |= {name: _content(data) for name, data in shelf.files().items()}
    characters = shelf.characters((*pages.values(), string.printable))
    for name, family in FONTS:
        files[f"fonts/{name}.woff"] = _content(font_file(f"{name}.ttf", family, characters))
    findings = tuple(finding for each in all_shelved for finding in each.findings)
    return dict(sorted(files.items())), len(all_shelved), findings


class _Lazily(Mapping[Path, bytes]):
    """Files that are read one at a time, when they are written."""

    def __init__(self, contents: Mapping[Path, Content]) -> None:
        self.contents = contents

    def __getitem__(self, path: Path) -> bytes:
        return self.contents[path].read()

    def __iter__(self) -> Iterator[Path]:
        return iter(self.contents)

    def __len__(self) -> int:
        return len(self.contents)


def _content(data: bytes) -> Content:
    return Content(hashlib.sha256(data).hexdigest(), lambda: data)


def _note(files: Mapping[str, str]) -> bytes:
    return (json.dumps({"form": FORM, "files": dict(sorted(files.items()))}, indent=1) + "\n").encode()


def _noted(out: Path) -> dict[str, str]:
    """The files that an earlier run wrote. Raises ShelfProblem for a note that no run wrote."""
    path = out / NOTED
    if not path.exists() and not path.is_symlink():
        return {}
    with suppress(ValueError, KeyError, TypeError, AttributeError, RecursionError):
        if path.is_file() and not path.is_symlink() and path.stat().st_size <= MOST_BYTES:
            told = json.loads(path.read_bytes())
            files = told["files"]
            known = all(isinstance(text, str) for each in files.items() for text in each)
            if told["form"] == FORM and known and not any(map(unsafe, files)):
                return dict(files)
    raise ShelfProblem(f"`{path}` was not written by `planbook shelf`; name another folder, or take that file away")


def _may_write(out: Path, files: Mapping[str, Content], before: Mapping[str, str]) -> None:
    """Raises ShelfProblem where a file of somebody else, or a link that leads elsewhere, is in the way."""
    if out.exists() and not out.is_dir():
        raise ShelfProblem(f"`{out}` is not a folder")
    for name in (*files, *before):
        path, parts = out, name.split("/")
        for part in parts[:-1]:
            path = path / part
            if path.is_symlink() or (path.exists() and not path.is_dir()):
                raise ShelfProblem(f"`{path}` is in the way; take it away, or name another folder")
        path = path / parts[-1]
        if path.is_symlink() or (path.exists() and (name not in before or not path.is_file())):
            raise ShelfProblem(f"`{path}` was not written by `planbook shelf`; take it away, or name another folder")


def _taken_away(out: Path, name: str, sha256: str) -> bool:
    """Take away a file that is not of the shelf any more, if it is as it was written, and folders left empty."""
    path = out / name
    try:
        if hashlib.sha256(path.read_bytes()).hexdigest() != sha256:
            return False
        path.unlink()
    except FileNotFoundError:
        return False
    with suppress(OSError):
        for folder in path.relative_to(out).parents[:-1]:
            os.rmdir(out / folder)
    return True
