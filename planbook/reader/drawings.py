"""Takes the outlines that a design asks for out of its drawing files, SVG and DXF; it draws none of them."""

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

from planbook.model import Drawn, Node
from planbook.reader import kinds
from planbook.reader.checking import Checked
from planbook.reader.dxf_shapes import dxf_outline
from planbook.reader.files import load_drawing
from planbook.reader.shape_tables import DrawingShape
from planbook.reader.svg_shapes import UnknownId, svg_outline
from planbook.reader.svg_tree import Unreadable
from planbook.reader.words import did_you_mean, listed
from planbook.text import Finding

_READERS: Mapping[str, Callable[[bytes, str], Drawn]] = {".svg": svg_outline, ".dxf": dxf_outline}
MOST_NAMES = 8


def take_drawings(made: Checked, folder: Path) -> Iterator[Finding]:
    """Fill `made.drawn` with the outline of every shape that is taken from a drawing; what cannot be is a finding."""
    files: dict[str, bytes | None] = {}
    for name, shape in made.shapes.items():
        if isinstance(shape, DrawingShape):
            node = made.entries("shapes")[name]
            if shape.file not in files:
                files[shape.file] = yield from _file(folder, shape.file, node.table()["file"])
            data = files[shape.file]
            if data is not None:
                yield from _take(made, name, shape, data, node)


def _file(folder: Path, name: str, node: Node) -> Any:
    """The bytes of a drawing file, or None with a finding."""
    if Path(name).suffix.lower() not in _READERS:
        headline = f"`{name[:80]}` is neither an SVG nor a DXF file"
        hint = "save the drawing as `.svg` or `.dxf`"
        yield kinds.DRAWING_NOT_READABLE.at(node.place, headline, hint=hint)
        return None
    data, finding = load_drawing(folder, name, node.place)
    if finding:
        yield finding
    return data


def _take(made: Checked, name: str, shape: DrawingShape, data: bytes, node: Node) -> Iterator[Finding]:
    table = node.table()
    try:
        drawn = _READERS[Path(shape.file).suffix.lower()](data, shape.id)
    except UnknownId as unknown:
        yield _no_such_id(made, shape, table["id"], unknown.known)
    except Unreadable as fault:
        where = f", line {fault.line}," if fault.line else ""
        headline = f"`{shape.file[:80]}`{where} {_seen(fault.words)}"
        yield kinds.DRAWING_NOT_READABLE.at(table["id"].place, headline, label=f"for shape `{name}`")
    else:
        if not drawn.sized and shape.width is None and shape.height is None:
            headline = (
                f"`{shape.file[:80]}` does not say in which unit it is drawn, so the size of `{name}` is not known"
            )
            hint = 'add a line such as `width = "160 mm"`'
            yield kinds.DRAWING_WITHOUT_SIZE.at(node.named_at, headline, hint=hint)
        made.drawn[name] = drawn


def _no_such_id(made: Checked, shape: DrawingShape, node: Node, known: tuple[str, ...]) -> Finding:
    what = "layer or line" if shape.file.lower().endswith(".dxf") else "element"
    headline = f"`{shape.file[:80]}` has no {what} called `{shape.id[:80]}`"
    known = tuple(_seen(each) for each in known)
    some = [each[:80] for each in known[:MOST_NAMES]]
    more = f" and {len(known) - len(some)} more" if len(known) > len(some) else ""
    there = f"it has {listed(some, 'and')}{more}" if some else "it has none with a name"
    hint = did_you_mean(made.found.near(shape.id, known))
    return kinds.UNKNOWN_DRAWING_ID.at(node.place, headline, label="no such name", notes=(there,), hint=hint)


def _seen(words: str) -> str:
    """Words that quote a file from somebody else, without line ends and unseen characters."""
    return "".join(char if char.isprintable() else " " for char in words)
