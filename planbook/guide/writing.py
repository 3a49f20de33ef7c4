"""Writes the handbook of the tool as HTML and PDF. Prints nothing."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planbook.guide.make import guide_html
from planbook.guide.records import Command

FILES = ("planbook-guide.html", "planbook-guide.pdf")


@dataclass(frozen=True, slots=True)
class Written:
    """The files that were written."""

    files: tuple[Path, ...]


def write_guide(commands: Sequence[Command], out: Path) -> Written:
    """Write the handbook into a folder, which is made if it is not there.

    Raises MissingLibrary, LayoutProblem and OSError (a folder that cannot be written).
    """
    from planbook.handbook import paper
    from planbook.press import press, with_fonts, write_whole

    sheet = paper("a4")
    assert sheet is not None
    html = guide_html(commands)
    pressed = press(html, sheet)
    written = {out / FILES[0]: with_fonts(html).encode("utf-8"), out / FILES[1]: pressed.pdf}
    for file, data in written.items():
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, data)
    return Written(tuple(written))
