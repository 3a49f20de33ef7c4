"""Fixtures for the tests of the review: cases built as they are written, and with their faults mended.

Under a faulty line of a case stands `# mend LINE` (in prose `<!-- mend LINE -->`): what the line is in the
passing neighbour of the case. Several such lines together replace the one line above them; an empty one is an
empty line. A case with a table `[varies]` is built over all that varies; the others as drawn. `# build with NAME = "LENGTH"` builds the case, as it is written, with another value of a size.
"""

import re
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from planbook.model import Varies
from planbook.model.sizes import evaluate_sizes
from planbook.reader import read_design
from planbook.units import Quantity, read_quantity
from planbook.workshop import Timeline
from planbook.workshop.envelope import prove
from planbook.workshop.run import build

_MEND = re.compile(r"\s*(?:# mend ?(.*?)|<!-- mend ?(.*?) ?-->)\s*")
_EXPECT = re.compile(r"\s*(?:# expect.*|<!-- expect.*-->)")
_WITH = re.compile(r'^# build with (.+) = "(.+)"$', re.MULTILINE)


def mended_text(text: str) -> str:
    """The text of a case's file with every faulty line replaced by the one below it."""
    lines: list[str] = []
    replacing = False
    for line in text.split("\n"):
        found = _MEND.fullmatch(line)
        if found and not replacing:
            lines.pop()
        lines.append((found[1] or found[2] or "") if found else _EXPECT.sub("", line))
        replacing = found is not None
    return "\n".join(lines)


def built_case(folder: Path, overrides: Mapping[str, Quantity] | None = None) -> Timeline:
    """The timeline of a design about which the reader finds nothing."""
    reading = read_design(folder)
    assert reading.findings == (), reading.findings
    assert reading.design is not None
    sizes = evaluate_sizes(reading.design, overrides)[0]
    return prove(reading.design, sizes) if reading.design.varies != Varies() else build(reading.design, sizes)


@pytest.fixture
def as_written() -> Callable[[Path], Timeline]:
    """Builds a case with its faults."""

    def build_it(folder: Path) -> Timeline:
        found = _WITH.findall((folder / "design.toml").read_text("utf-8"))
        return built_case(folder, {name: read_quantity(value) for name, value in found})

    return build_it


@pytest.fixture
def as_mended(tmp_path: Path) -> Callable[[Path], Timeline]:
    """Builds the passing neighbour of a case."""

    def build_it(folder: Path) -> Timeline:
        for drawing in sorted(folder.glob("*.svg")):
            shutil.copy(drawing, tmp_path)
        for name in ("design.toml", "steps.md"):
            (tmp_path / name).write_text(mended_text((folder / name).read_text("utf-8")), "utf-8")
        return built_case(tmp_path)

    return build_it
