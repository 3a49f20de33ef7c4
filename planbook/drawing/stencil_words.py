"""The words printed on stencil sheets, in English; `spoken` gives them in another language."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields

from planbook.drawing.lettering import width_of
from planbook.speech import say


def _faces() -> Mapping[str, str]:
    names = ("front", "back", "left", "right")
    sides = {name: f"{name} face, seen from the {name}" for name in names}
    found = {**sides, "top": "top face, seen from above", "bottom": "bottom face, seen from below"}
    return {name: say(text) for name, text in found.items()}


def _ways() -> Mapping[str, str]:
    found = {side: f"this way to the {side}" for side in ("back", "front", "left", "right")}
    found |= {"up": "this way up", "down": "this way down", "": "top of the stencil"}
    return {side: say(text) for side, text in found.items()}


@dataclass(frozen=True, slots=True)
class StencilWords:
    """Every phrase of a stencil sheet. Braces are filled in when it is drawn."""

    number: str = "{number} of {total}"
    stick_on: str = "Stick on: {piece}, {face}."
    stick_on_each: str = "Stick on each: {face}."
    make: str = "Print {count} copies, one for each: {pieces}."
    true_size: str = "True size (1:1)."
    faces: Mapping[str, str] = field(default_factory=_faces)
    and_more: str = "and {count} more"
    edge: str = "edge of the piece"
    edge_away: str = "{length} to the edge of the piece"
    grain: str = "grain"
    end_grain: str = "end grain"
    ways: Mapping[str, str] = field(default_factory=_ways)
    turned: str = "Printed turned. Turn its arrow away from you: left and right are told as it lies then."
    waste: str = "waste"
    waste_of: str = "{name} (waste)"
    hole: str = "Ø {diameter}"
    hole_through: str = "Ø {diameter}, through"
    hole_deep: str = "Ø {diameter}, {depth} deep"
    holes_like: str = "{tag}: {count} holes, {hole}."
    holes_all: str = "All {count} holes: {hole}."
    also: str = "Also on this stencil: {names}."
    check: str = "Print at 100 % (actual size)."
    corrected: str = "Corrected for {across} × {along} mm. 100 % on that printer."
    measure: str = "First measure the bars below."
    measure_upright: str = "First measure the bars below and the upright bars."
    measure_squares: str = "First measure the bars below and the squares."
    square: str = "50 mm and 2 in squares: measure both ways"
    key_cut: str = "saw this line"
    key_sand: str = "sand to this line"
    key_guide: str = "line for placing"
    key_side: str = "saw cut falls here"
    key_middle: str = "saw cut lies on the line"
    key_waste: str = "waste"
    key_hole: str = "drill here"
    key_entry: str = "way in for the blade"
    key_edge: str = "edge of the piece"
    key_apart: str = "cut the papers apart"
    key_crop: str = "the paper ends here"
    key_tile: str = "edge of the tile"
    key_trim: str = "cut off here"
    tile: str = "tile {name} ({number} of {count})"
    tab: str = "glue tab: {name} goes on top"
    trim: str = "cut off here, lay over {name}"
    alt: str = "Stencil {number} of {total}, {title}, at true size."
    alt_tile: str = "Stencil {number} of {total}, {title}, at true size, tile {name}."

    def face(self, name: str) -> str:
        """What a face is called, and from where it is seen."""
        return self.faces.get(name, name)

    @classmethod
    def spoken(cls) -> "StencilWords":
        """The words in the language spoken."""
        said = {f.name: say(f.default) for f in fields(cls) if isinstance(f.default, str)}
        return cls(**said, faces=_faces(), ways=_ways())


def plain(text: str, longest: int = 400) -> str:
    """Text on one line, cut after `longest` characters."""
    line = " ".join(text.split())
    return line if len(line) <= longest else line[: longest - 1].rstrip() + "…"


def broken(text: str, size: float, width: float, most: int = 3, bold: bool = False) -> tuple[str, ...]:
    """The text in at most `most` lines of `width` mm; words too long are broken, the rest is cut off."""
    lines = lines_of(text, size, width, bold)
    if len(lines) <= most:
        return lines
    return (*lines[: most - 1], cut_short(" ".join(lines[most - 1 :]), size, width, bold))


def lines_of(text: str, size: float, width: float, bold: bool = False) -> tuple[str, ...]:
    """The text in as many lines of `width` mm as it needs; words too long are broken."""
    lines: list[str] = []
    for word in plain(text).split(" "):
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(joined, size, bold) <= width:
            lines[-1] = joined
        else:
            lines.extend(_pieces(word, size, width, bold))
    return tuple(lines)


def fitted(
    text: str, ways: Sequence[tuple[float, int]], width: float, bold: bool = False
) -> tuple[float, tuple[str, ...]]:
    """The text at the first of some sizes (mm), each with its number of lines, at which it is whole; and the size.

    It is cut off only where even the last is too large.
    """
    for size, most in ways:
        lines = lines_of(text, size, width, bold)
        if len(lines) <= most:
            return size, lines
    size, most = ways[-1]
    return size, broken(text, size, width, most, bold)


def cut_short(text: str, size: float, width: float, bold: bool = False) -> str:
    """The text, cut with an ellipsis where it is wider than `width` mm."""
    if width_of(text, size, bold) <= width:
        return text
    kept = text
    while kept and width_of(kept + "…", size, bold) > width:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def _pieces(word: str, size: float, width: float, bold: bool) -> list[str]:
    parts = [""]
    for char in word:
        if parts[-1] and width_of(parts[-1] + char, size, bold) > width:
            parts.append("")
        parts[-1] += char
    return parts
