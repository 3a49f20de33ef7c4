"""Reads the findings that a case expects from the comments in its own files; it runs nothing.

A case is a folder with a small design. On the line that earns a finding stands `# expect CODE name` (TOML,
also in the blocks of steps.md) or `<!-- expect CODE name -->` (Markdown); several are parted by commas.
Where no comment can stand, `expect-at LINE:COLUMN CODE name` or `expect-at FILE:LINE:COLUMN CODE name` may
stand on any line of any file of the case, if need be in `expect.txt`.
"""

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

FILES = ("design.toml", "handbook.toml", "steps.md", "expect.txt")
_HERE = re.compile(r"(?:#|<!--) expect (.*)")
_ELSEWHERE = re.compile(r"expect-at (?:([\w.-]*[^\d:]):)?(\d+):(\d+) (.*)")
_ONE = re.compile(r"([A-Z]{3}\d{2}) ([a-z0-9-]+)")


class Expected(NamedTuple):
    """A finding as a case names it; the column only where it is given."""

    file: str
    line: int
    code: str
    name: str
    column: int | None = None


def case_folders(root: Path) -> list[Path]:
    """Every folder below `root` that holds a case."""
    return sorted({path.parent for name in FILES for path in root.rglob(name)})


def expectations_of(folder: Path) -> list[Expected]:
    """Everything that the files of a case expect."""
    return [each for name in FILES for each in _in_file(folder / name)]


def expected_findings(folder: Path) -> set[tuple[str, int, str]]:
    """File, line and code of every expected finding."""
    return {(each.file, each.line, each.code) for each in expectations_of(folder)}


def found_findings(findings: Iterable[object], folder: Path) -> set[tuple[str, int, str]]:
    """File (within the folder), line and code of findings, to compare with what was expected."""
    return {(_within(f.place.file, folder), f.place.line, f.code) for f in findings}  # type: ignore[attr-defined]


def _within(file: str, folder: Path) -> str:
    return Path(file).relative_to(folder).as_posix()


def _in_file(path: Path) -> Iterator[Expected]:
    if not path.is_file():
        return
    for number, line in enumerate(path.read_text("utf-8-sig", errors="replace").split("\n"), 1):
        if here := _HERE.search(line):
            for code, name in _ONE.findall(here[1]):
                yield Expected(path.name, number, code, name)
        for file, at, column, what in _ELSEWHERE.findall(line):
            for code, name in _ONE.findall(what):
                yield Expected(file or path.name, int(at), code, name, int(column))
