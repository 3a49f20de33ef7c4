"""Where a step stands on its paper: each view at its scale, with names beside it or with numbers; draws nothing."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count

from planbook.drawing import cues, fence, fences, inset
from planbook.drawing.columns import WIDEST, Room, arranged, fitting, trimmed
from planbook.drawing.corners import in_corners
from planbook.drawing.ink import SMALL, USUAL, Ink, Pens
from planbook.drawing.lettering import LEADING, width_of
from planbook.drawing.marks import Ring
from planbook.drawing.names import GAP, MARGIN, Bounds, Box, Layout, Wanted
from planbook.drawing.numbers import numbered
from planbook.drawing.outside import beyond
from planbook.drawing.sight import points_in_sight
from planbook.drawing.stage import Stage, bounds, names
from planbook.drawing.wedge import ARROW
from planbook.drawing.words import key_height
from planbook.solids.visible import Polygon2
from planbook.speech import called
from planbook.units import LengthStyle

ARROWS = ("push", "clamp")
LARGEST = 2.0
"""No object is drawn larger than this many times its size."""
MANY = 14
"""From one more name than this on, pieces get numbers and a key."""
SOME = 5
"""From so many names on they get numbers and a key where their columns leave too little room."""
KEYED = 1.3
"""That is where the drawing could be so many times as large."""
NEARLY = 0.93
"""Names that leave the drawing this share of the scale that it shares with its neighbours stay beside it."""
ROOMY = 0.85
"""The least share of its scale that a drawing keeps where room is made for further distances, or for that of a hole."""
SOME_PLACES = 4
"""So many places of a further distance are tried, those first that take least room."""
FIRST = 0.5
"""Share of the width that the first of two views gets."""
SHORT_KEY = 24
"""A key of no more names than this is set larger than the other words below a picture."""
WIDE = 70.0
"""A picture narrower than this has no room for two views, nor for names in 8 points, mm."""
PAD = 0.4
"""Around the pieces, for the width of their lines, mm."""
LETTERS = "abcdefghjkmnpqrstuvwxyz"
"""Those of them that nobody takes for a digit."""
BETWEEN = 3.0
"""Between two views, mm."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """Paper for a view, mm: the type size of names, the largest scale, the pens, the ink, and how lengths are told."""

    width: float
    height: float
    size: float
    most: float
    pens: Pens
    ink: Ink
    lengths: LengthStyle | None = None
    numbers: Mapping[str, int] = field(default_factory=dict)
    """The numbers of the pieces list by name, which a picture with a key has as well."""


def sheet_of(width: float, height: float, ink: Ink, scale: float | None) -> Sheet:
    """Names are set in 8 points in a picture of usual size."""
    size = 2.8 if width >= WIDE else 2.3
    return Sheet(width, height, size, min(LARGEST, scale or LARGEST), USUAL if width > 45 else SMALL, ink)


def key_size(width: float, names: int) -> float:
    """Type size of the key of a picture so wide, mm: it can be read on a page that has room for a smaller one only.

    So many names that the key would take the room of the picture are set as small as the other words below it.
    """
    return 2.6 if width >= WIDE and names <= SHORT_KEY else words_size(width)


def words_size(width: float) -> float:
    """Type size of the words below a picture so wide, mm."""
    return 2.4 if width >= WIDE else 2.1


def sheets_of(sheet: Sheet, views: int) -> list[Sheet]:
    """The paper of each view; below each of two is room for words."""
    if views == 1:
        return [sheet]
    room, high = sheet.width - BETWEEN, sheet.height - caption_height(sheet)
    return [replace(sheet, width=room * share, height=high) for share in (FIRST, 1 - FIRST)]


def laid_out(views: Sequence[Stage], sheet: Sheet) -> tuple[list[Layout], Mapping[str, str]]:
    """Where everything stands, and the names of the key by their tags (none where names stand beside the drawing).

    A tag is the number that a piece has in the pieces list; what is not listed there has a letter.
    """
    wanted = [names(stage) for stage in views]
    texts = tuple(name.text for each in wanted for name in each)
    rest = sheet.height - key_height(texts, sheet.width, key_size(sheet.width, len(texts))) - MARGIN
    small = replace(sheet, height=max(rest, 0.45 * sheet.height), size=sheet.size * 0.85)
    if len(texts) <= MANY:
        found = [with_names(*each) for each in zip(views, wanted, sheets_of(sheet, len(views)), strict=True)]
        layouts = [layout for layout in found if layout is not None]
        if len(layouts) == len(views) and not (len(texts) >= SOME and _cramped(views, wanted, sheet, small, layouts)):
            return layouts, {}
    tags = _tags(texts, sheet.numbers)
    left = iter(tags)
    numbers = [[Wanted(next(left), n.faces, n.spot, n.room, bold=True) for n in each] for each in wanted]
    layouts = [_numbered(*each) for each in zip(views, numbers, sheets_of(small, len(views)), strict=True)]
    return layouts, dict(sorted(zip(tags, texts, strict=True), key=lambda each: (len(each[0]), each[0])))


def _tags(texts: Sequence[str], numbers: Mapping[str, int]) -> list[str]:
    """The number of the pieces list for each name, and letters for others; without a list, as many as there are."""
    if not numbers:
        return [str(number) for number in range(1, len(texts) + 1)]
    known = {called(name): str(number) for name, number in numbers.items()}
    letters = (f"{'' if n < len(LETTERS) else n // len(LETTERS)}{LETTERS[n % len(LETTERS)]}" for n in count())
    return [known.get(text) or next(letters) for text in texts]


def _cramped(
    views: Sequence[Stage], wanted: Sequence[Sequence[Wanted]], sheet: Sheet, small: Sheet, layouts: Sequence[Layout]
) -> bool:
    """Whether numbers and a key would leave the drawing so much more room that they are worth the looking up.

    That is asked without a scale that was given, so that the picture comes out as the one that told its scale.
    """
    for stage, names_of, paper, other, beside in zip(
        views, wanted, sheets_of(sheet, len(views)), sheets_of(small, len(views)), layouts, strict=True
    ):
        if beside.paper.scale >= NEARLY * paper.most:
            continue
        free = beside if paper.most >= LARGEST else with_names(stage, names_of, replace(paper, most=LARGEST))
        room = _rooms(stage, replace(other, most=LARGEST))[0]
        columns = 2 * (width_of("00", other.size, bold=True) + GAP)
        if free is not None and fitting(bounds(stage), room, columns) > KEYED * free.paper.scale:
            return True
    return False


def with_names(stage: Stage, wanted: Sequence[Wanted], sheet: Sheet) -> Layout | None:
    """A view with its names beside it; None where they find no room."""
    shapes = [q for face in stage.look.faces for q in face.polygons]
    lines = [c for c in stage.show.cues if c.kind in (*ARROWS, "drill axis") and c.points]
    signs = [cues.points_of(cue, stage.pieces, stage.look.view) for cue in lines]
    tips = [cues.world_points(cue, stage.pieces)[-1] for cue in lines if cue.kind in ARROWS]
    # An arrow to a hidden place is drawn elsewhere, where there might be a name.
    astray = len(points_in_sight(tips, stage.pieces, stage.look.view)) < len(tips)

    def arrange(room: Room, edge: Bounds) -> Layout | None:
        beside = arranged(wanted, edge, room)
        if beside is None or astray:
            return beside
        corners = in_corners(beside, shapes, signs, edge, room)
        fenced = corners is not beside and stage.fence is not None
        return beside if fenced and told_in(stage, corners) < told_in(stage, beside) else corners

    return _first_told(stage, sheet, arrange)


def _numbered(stage: Stage, wanted: Sequence[Wanted], sheet: Sheet) -> Layout:
    found = _first_told(stage, sheet, lambda room, edge: numbered(wanted, edge, replace(room, air=0.3)))
    assert found is not None, "numbers that find no room are left out"
    return found


def _first_told(stage: Stage, sheet: Sheet, arrange: Callable[[Room, Bounds], Layout | None]) -> Layout | None:
    """The first layout in which the distance of the fence can be told, or else the first of all.

    The distance of a hole does not make the drawing much smaller: it is told where there is room.
    """
    edge, first = bounds(stage), None
    if stage.fence is not None and stage.fence.hole:
        plain = _first_told(replace(stage, fence=None), sheet, arrange)
        told = told_in(stage, plain) if plain is not None else 0
        for room in _rooms(stage, sheet) if plain is not None else ():
            roomy = arrange(room, edge)
            if plain and roomy and roomy.paper.scale > ROOMY * plain.paper.scale:
                roomy = trimmed(roomy, edge, room.pad, room.signs)
                if told_in(stage, roomy) > told:
                    return roomy
        return plain
    for room in _rooms(stage, sheet):
        layout = arrange(room, edge)
        if layout is None:
            continue
        layout = trimmed(layout, edge, room.pad, room.signs)
        if stage.fence is None or told_in(stage, layout):
            return _all_told(stage, sheet, arrange, room, layout)
        first = first or layout
    return first


def _all_told(
    stage: Stage, sheet: Sheet, arrange: Callable[[Room, Bounds], Layout | None], room: Room, first: Layout
) -> Layout:
    """The first layout, or one a little smaller in which more distances can be told."""
    edge, best, told = bounds(stage), first, told_in(stage, first)
    for places in fences.rooms_of(stage, edge, first.paper.scale):
        for place in places[:SOME_PLACES]:
            roomy = replace(room, signs=_wider(room.signs, place))
            layout = arrange(roomy, edge)
            if layout is None or layout.paper.scale <= ROOMY * first.paper.scale:
                continue
            layout = trimmed(layout, edge, roomy.pad, roomy.signs)
            if (count := told_in(stage, layout)) > told:
                best, told, room = layout, count, roomy
                break
    return best


def told_in(stage: Stage, layout: Layout) -> int:
    """How many distances find room in a layout, however they are printed."""
    return len(fences.all_drawn(stage, layout.paper, None, *around(layout), (layout.width, layout.height)))


def _rooms(stage: Stage, sheet: Sheet) -> list[Room]:
    """What the signs leave, one for each place of the fence that may be told.

    How far they stick out is asked for a scale that has room for the widest columns.
    """
    room, edge = Room(sheet.width, sheet.height, sheet.size, sheet.most, PAD), bounds(stage)
    least = fitting(edge, replace(room, pad=PAD + ARROW), 2 * (WIDEST * sheet.width + GAP))
    out = beyond(stage.show.cues, stage.pieces, stage.look.view, edge, least)
    if stage.fence is not None and stage.fence.hole:
        return [replace(room, signs=_wider(out, (wide, fence.OUT, wide, fence.OUT))) for wide in (fence.OUT, 0.0)]
    far = next(iter(fences.rooms_of(stage, edge, least)), [])
    return [replace(room, signs=_wider(out, each)) for each in far or [out]]


def _wider(one: Box, two: Box) -> Box:
    return (max(one[0], two[0]), max(one[1], two[1]), max(one[2], two[2]), max(one[3], two[3]))


def around(layout: Layout) -> tuple[list[Polygon2], list[Ring], list[Ring]]:
    """What a dimension keeps clear of besides the drawing: names, the edge of the paper and leaders."""
    leaders: list[Ring] = [(label.start, label.dot) for label in layout.labels if label.side != "on"]
    boxes = [inset.boxed(label.box) for label in layout.labels]
    rims = [outline for outline, _ in (*boxes, inset.boxed((0.0, 0.0, layout.width, layout.height)))]
    return boxes, [(*rim, rim[0]) for rim in rims], leaders


def caption_height(sheet: Sheet) -> float:
    """Room for the words below each of two views, mm."""
    return 2 * LEADING * words_size(sheet.width) + MARGIN
