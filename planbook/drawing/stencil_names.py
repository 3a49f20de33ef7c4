"""What is written on a stencil: holes, regions, ways in, grain, way up, edges; the desk finds the places."""

import re
from fractions import Fraction
from itertools import pairwise

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Point, Stroke
from planbook.drawing.stencil_along import write_line_names
from planbook.drawing.stencil_art import ArtHole, ArtRegion, Box, Laid, joined_boxes
from planbook.drawing.stencil_desk import Desk
from planbook.drawing.stencil_lines import broken_off
from planbook.drawing.stencil_pens import BODY, SMALL, THIN
from planbook.drawing.stencil_room import Label, rectangle
from planbook.drawing.stencil_signs import end_grain_sign, grain_sign, inward, up_sign
from planbook.drawing.stencil_words import StencilWords, broken, plain
from planbook.solids import Area, Path
from planbook.solids.plane import blank_area, box
from planbook.speech import called
from planbook.units import LengthStyle, Quantity, show_drill, show_fine

_SIZES = (3.6, 3.2, SMALL)
_TAGGED_FROM = 7
"""From this many holes on, holes get letters that are explained once."""
_TAGS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_BY = 7.0
_HAIR = 0.1
_COLUMN = 38.0
_ARROW = 6.0


def write_names(desk: Desk) -> None:
    """Put every word and sign of the stencil; those that can stand in one place only come first."""
    _away_from_edges(desk)
    _holes(desk)
    _regions(desk)
    _entries(desk)
    write_line_names(desk)
    _signs(desk)
    _edges(desk)


def _length(mm: float, style: LengthStyle) -> str:
    return show_fine(Quantity(Fraction(str(round(mm, 6))), 1), style)


def hole_text(hole: ArtHole, words: StencilWords, style: LengthStyle) -> str:
    """Diameter and depth of a hole in words."""
    diameter = show_drill(hole.diameter, style)
    if hole.depth is None:
        return words.hole_through.format(diameter=diameter)
    if hole.depth == 0:
        return words.hole.format(diameter=diameter)
    return words.hole_deep.format(diameter=diameter, depth=_length(hole.depth, style))


def entries_of(paper: Laid) -> list[tuple[str, Path]]:
    """The ways in for the blade, by name."""
    found = ((line.name, line.outline) for line in paper.lines if line.use == "entry")
    return [(name, outline) for name, outline in found if isinstance(outline, Path)]


def _holes(desk: Desk) -> None:
    holes = desk.paper.holes
    texts = [hole_text(hole, desk.words, desk.style) for hole in holes]
    kinds = list(dict.fromkeys(texts))
    if len(holes) < _TAGGED_FROM or len(kinds) > len(_TAGS):
        for hole, text in zip(holes, texts, strict=True):
            _hole(desk, hole, Label((text,), SMALL))
    elif len(kinds) == 1:
        desk.notes.append(desk.words.holes_all.format(count=len(holes), hole=kinds[0]))
    else:
        for tag, kind in zip(_TAGS, kinds, strict=False):
            desk.notes.append(desk.words.holes_like.format(tag=tag, count=texts.count(kind), hole=kind))
            for hole, text in zip(holes, texts, strict=True):
                if text == kind:
                    _hole(desk, hole, Label((tag,), BODY, bold=True))


def _hole(desk: Desk, hole: ArtHole, label: Label) -> None:
    """Words close by a hole, on wood that is kept if they can be, or else with a leader."""
    (x, y), reach = hole.at, hole.diameter / 2 + 1.8
    across, down = reach + label.width / 2, reach + label.height / 2
    ways = ((1, -0.7), (1, 0.7), (-1, -0.7), (-1, 0.7), (0.3, -1.2), (0.3, 1.2))
    spots = [(x + dx * across, y + dy * down) for dx, dy in ways]
    waste = [region.area for region in desk.paper.regions if region.waste]
    kept = [spot for spot in spots if not any(area.holds(spot) for area in waste)]
    if not desk.at_one_of(label, (*kept, *spots)):
        desk.led(label, hole.at, dot=False, radius=hole.diameter / 2, narrower=_narrower(label))


def _narrower(label: Label) -> list[Label]:
    """Words of one line in several lines, parted before brackets and after commas, and upright."""
    (text,) = label.lines
    parts = tuple(re.split(r" (?=\()|(?<=,) ", text))
    ways = [(*parts[:1], " ".join(parts[1:])), (" ".join(parts[:-1]), *parts[-1:]), parts] if len(parts) > 1 else []
    lines = [Label(way, label.size, label.bold) for way in dict.fromkeys(ways)]
    return [*lines, Label((text,), label.size, label.bold, upright=True)]


def _regions(desk: Desk) -> None:
    for region in sorted(desk.paper.regions, key=lambda r: r.area.size):
        text = plain(_region_text(region, desk.words), 80)
        if not _inside(desk, region, text):
            label = Label(broken(text, SMALL, _COLUMN, 5), SMALL, bold=not region.waste)
            desk.led(label, _dot_in(region.area), dot=True)


def _region_text(region: ArtRegion, words: StencilWords) -> str:
    if not region.waste:
        return region.name
    said = words.waste.casefold() in region.name.casefold().split()
    return region.name if said else words.waste_of.format(name=region.name)


def _inside(desk: Desk, region: ArtRegion, text: str) -> bool:
    left, _, right, _ = region.area.bounds
    for size in _SIZES:
        for share in (1.0, 0.5, 0.3):
            width = max((right - left) * share - 2, 6.0)
            if share < 1 and width > width_of(text, size, True):
                continue
            label = Label(broken(text, size, min(width, 70.0), 3, bold=True), size, bold=not region.waste)
            whole = text.endswith("…") or not label.lines[-1].endswith("…")
            if whole and desk.label(label, _middle(region.area), area=desk.free.meet(region.area)):
                return True
    upright = [Label((text,), size, bold=not region.waste, upright=True) for size in _SIZES]
    return any(desk.label(label, _middle(region.area), area=desk.free.meet(region.area)) for label in upright)


def _middle(area: Area) -> Point:
    middle = area.centroid
    return middle if area.holds(middle) else area.middle


def _dot_in(area: Area) -> Point:
    """A point of a region on the side where words stand beside the stencil, so that its leader is short."""
    left, top, right, bottom = area.bounds
    side = area.meet(box(right - 0.3 * (right - left), top, right - left, bottom - top))
    return area.middle if side.empty else side.middle


def _entries(desk: Desk) -> None:
    """The name of a way in stands where the blade begins, off the wood that is kept if there is room."""
    waste = [region.area for region in desk.paper.regions if region.waste]
    off = blank_area().plus(*waste)
    for name, entry in entries_of(desk.paper):
        start = inward(entry, desk.paper)[0]
        level, upright = (Label((called(name),), SMALL, upright=up) for up in (False, True))
        areas = (desk.outer, desk.free.meet(off), desk.free)
        places = [(label, area) for area in areas for label in (level, upright)]
        if not any(desk.label(label, start, _BY + max(label.width, label.height) / 2, area) for label, area in places):
            desk.led(level, start, dot=False)


def _signs(desk: Desk) -> None:
    """The grain and the way up stand in the largest part that is kept, where they fit."""
    paper, words = desk.paper, desk.words
    kept = [region.area for region in paper.regions if not region.waste]
    area = max(kept, key=lambda a: a.size) if kept else paper.face
    if area.empty:
        area = desk.free
    near = (0.0, 0.0) if area.empty else _middle(area)
    if paper.grain is None:
        grain = [end_grain_sign(words.end_grain)]
    else:
        short = width_of(words.grain, BODY) + 14
        grain = [grain_sign(paper.grain, short + more, words.grain) for more in (36, 20, 8, 0)]
    desk.sign(grain, (near[0], near[1] + 12), area)
    desk.sign([up_sign(paper.up, words.ways[paper.art.way])], (near[0], near[1] - 14), area)


def _edges(desk: Desk) -> None:
    """The words for the edge go close along its inside where they fit, or else below the stencil."""
    paper = desk.paper
    if not paper.edges:
        return
    left, _, _, bottom = paper.face.bounds
    label, whole = Label((desk.words.edge,), SMALL), _to_its_rim(paper)
    strip = whole.minus(whole.offset(-6.5)).minus(*(cut.band(13.0) for cut in crop_lines(paper)))
    if desk.label(label, (left + label.width, bottom), area=desk.free.meet(strip)) or not desk.beside:
        return
    sides = [side for edge in paper.edges for side in pairwise(edge.points)]
    (ax, ay), (bx, by) = max(sides, key=lambda side: (round(side[0][1] + side[1][1], 1), -side[0][0]))
    spot = ((ax + bx) / 2, max(ay, by, paper.bounds[3]) + 1.2 + label.height / 2)
    desk.put(rectangle(spot, label.width, label.height), label.words(spot))


def _to_its_rim(paper: Laid) -> Area:
    """The face with what lies deeper but within the outline of the piece, such as a dado that runs out of its edge."""
    rim = [path for path in paper.edges if path.points[0] != path.points[-1]]
    left, top, right, bottom = joined_boxes([paper.face.bounds, *(path.bounds for path in rim)])
    around = box(left - 1, top - 1, right - left + 2, bottom - top + 2).minus(paper.face)
    parts = around.minus(*(path.band(_HAIR, over=(_HAIR, _HAIR)) for path in rim)).parts if rim else ()
    deeper = (part.offset(_HAIR) for part in parts if not _reaches(part.bounds, around.bounds))
    return paper.face.plus(*deeper)


def _reaches(inner: Box, outer: Box) -> bool:
    return any(abs(a - b) < _HAIR for a, b in zip(inner, outer, strict=True))


def crop_lines(paper: Laid) -> tuple[Path, ...]:
    """The sides of a cropped stencil's paper that are no edge of the piece."""
    if paper.face.empty:
        return ()
    left, top, right, bottom = paper.face.bounds
    ends = {
        "left": ((left, top), (left, bottom)),
        "right": ((right, top), (right, bottom)),
        "above": ((left, top), (right, top)),
        "below": ((left, bottom), (right, bottom)),
    }
    return tuple(Path(ends[paper.side(side)]) for side in paper.art.trimmed)


def _away_from_edges(desk: Desk) -> None:
    """A cropped stencil says how far the trimmed sides of its paper are from the edges of the piece."""
    paper = desk.paper
    desk.marks += [broken_off(path.points[0], path.points[-1]) for path in crop_lines(paper)]
    for name, distance in paper.art.away:
        text = desk.words.edge_away.format(length=_length(distance, desk.style))
        side = paper.side(name)
        if not desk.label(Label((text,), SMALL), _arrow_to(desk, side)):
            desk.notes.append(text)


def _arrow_to(desk: Desk, side: str) -> Point:
    """A thin arrow to one side of the paper where nothing is crossed, and where its words are wanted."""
    left, top, right, bottom = desk.paper.face.bounds
    dx, dy = {"left": (-1, 0), "right": (1, 0), "above": (0, -1), "below": (0, 1)}[side]
    shape = rectangle((0, 0), abs(dx) * _ARROW + 2.4, abs(dy) * _ARROW + 2.4)
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
        x, y = left + share * (right - left), top + share * (bottom - top)
        tip = ({-1: left, 1: right}.get(dx, x), {-1: top, 1: bottom}.get(dy, y))
        tail = (tip[0] - dx * _ARROW, tip[1] - dy * _ARROW)
        middle = ((tail[0] + tip[0]) / 2 - dx * 1.3, (tail[1] + tip[1]) / 2 - dy * 1.3)
        if shape.moved(*middle).within(desk.free):
            wings = [(tip[0] - 2 * dx - s * dy, tip[1] - 2 * dy + s * dx) for s in (-1, 1)]
            lines = ((tail, tip), (wings[0], tip, wings[1]))
            desk.put(shape.moved(*middle), (Stroke(points, THIN, "frame") for points in lines))
            return tail
    return ((left + right) / 2, (top + bottom) / 2)
