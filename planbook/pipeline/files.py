"""Files beside the booklet: what a design was written as, and stencils and pieces for other tools."""

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planbook.model import Design
    from planbook.workshop import Timeline


def source_files(design: "Design") -> dict[str, bytes]:
    """What a design was written as, by names: its texts, the drawings that it takes shapes from, and its photos.

    Photos are those made fit to leave the house: nothing that a camera wrote into them goes with them.
    """
    from planbook.reader.files import load_drawing

    files = {Path(name).name: source.text.encode("utf-8") for name, source in design.sources.items()}
    for shape in design.shapes.values():
        node = shape.fields.get("file") if shape.drawn else None
        name = str(node.value) if node else ""
        if node and name not in files:
            data, _ = load_drawing(Path(design.folder), name, node.place)
            files |= {name: data} if data is not None else {}
    return files | {photo.file: photo.kept for photo in design.photos.values()}


def tool_files(timeline: "Timeline") -> dict[str, bytes]:
    """Files for other tools by their names: each stencil as SVG and DXF, each finished piece as STL."""
    from planbook.drawing.contours import drawn
    from planbook.drawing.contours_dxf import contours_dxf
    from planbook.drawing.contours_svg import contours_svg
    from planbook.drawing.stencil_read import stencil_arts
    from planbook.drawing.stl import stl
    from planbook.press import file_name

    files: dict[str, bytes] = {}
    for art in stencil_arts(timeline):
        name = file_name(f"stencil {art.number} {art.title}", files)
        lines = drawn(art)
        files[f"{name}.svg"] = contours_svg(lines).encode()
        files[f"{name}.dxf"] = contours_dxf(lines).encode()
    for fate in timeline.fates.values():
        if fate.ending in ("part", "kept") and not fate.piece.solid.empty:
            files[f"{file_name(f'piece {fate.piece.name}', files)}.stl"] = stl(fate.piece.solid)
    return files
