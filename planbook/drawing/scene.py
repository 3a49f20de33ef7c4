"""The picture of a step: its pieces as they lie after the work, their names, and the signs of what is done."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain

from planbook.drawing import alt, cues
from planbook.drawing.ink import SMALL, USUAL, Ink, Pens
from planbook.drawing.lettering import shortened
from planbook.drawing.look import Look, Placed, hidden_lines, look
from planbook.drawing.marks import Mark, Picture
from planbook.drawing.names import MARGIN, Bounds, Layout, Room, Wanted, arranged, trimmed, wanted
from planbook.drawing.numbers import numbered
from planbook.drawing.paint import UNSEEN, Style, dashed, faces, lines, sheets
from planbook.drawing.paper import Paper
from planbook.drawing.plain_sight import NOTHING, missing
from planbook.drawing.views import Choice, choose
from planbook.drawing.words import DOT, key, key_height, named
from planbook.solids.visible import Polygon2
from planbook.speech import called, told
from planbook.workshop.timeline import Event, Role, Show, Shown, Timeline

LARGEST = 2.0
"""No object is drawn larger than this many times its size."""
MANY = 14
"""From one more name than this on, pieces get numbers and a key."""
FINE = 0.28
"""Radius of the dots of numbers, mm."""
FEW = 8
"""Pieces that only stand by are named when there are no more names than this."""
_RANK: tuple[Role, ...] = ("new", "worked", "context", "waste")


@dataclass(frozen=True, eq=False, slots=True)
class _Scene:
    """A step as it will be drawn: the pieces in order of drawing, which of them matter, the view, what is seen,
    and whether stencils are.
    """

    show: Show
    pieces: tuple[Shown, ...]
    placed: tuple[Placed, ...]
    matters: tuple[int, ...]
    choice: Choice
    look: Look
    sheets: bool


def step_picture(
    timeline: Timeline,
    event: Event,
    width_mm: float,
    height_mm: float,
    ink: Ink = "colour",
    scale: float | None = None,
) -> Picture:
    """The picture of one event, at most `height_mm` high; mm of paper throughout.

    `scale` (mm of paper for one mm of the object) is the largest to be used. An event that shows nothing gives a
    picture without marks.
    """
    scene = _scene(event)
    if scene is None:
        return Picture(width_mm, 0.0, (), alt.of_step(event, "", ""), (NOTHING,))
    style = Style(tuple(s.role for s in scene.pieces), _pens(width_mm), ink, timeline.design.handbook)
    layout, listed = _layout(scene, width_mm, height_mm, scale)
    work, signs = _drawn(scene, layout.paper, style), _signs(scene, layout.paper, ink)
    lost = missing(
        scene.pieces,
        scene.matters,
        scene.look,
        layout.paper.scale,
        work,
        [(cue, bool(drawn)) for cue, drawn in zip(scene.show.cues, signs, strict=True)],
    )
    marks = (*work, *chain.from_iterable(signs), *named(layout.labels, layout.size, FINE if listed else DOT))
    high = layout.height
    if listed:
        size = _key_size(width_mm)
        marks = (*marks, *key(listed, width_mm, layout.height, size))
        high += key_height(listed, width_mm, size) + MARGIN
    words = alt.of_step(event, scene.show.face, scene.choice.words)
    return Picture(width_mm, round(high, 2), marks, words, lost)


def step_scale(timeline: Timeline, event: Event, width_mm: float, height_mm: float) -> float | None:
    """The scale that `step_picture` would choose for an event, or None if it shows nothing."""
    scene = _scene(event)
    return _layout(scene, width_mm, height_mm, None)[0].paper.scale if scene else None


def shared_scales(own: Sequence[float | None], within: float = 1.5) -> tuple[float | None, ...]:
    """From the scale that each picture would choose: neighbours that differ by less than `within` times share one.

    It is the smallest of theirs, so that every picture still has room; None (no picture) stays None.
    """
    groups: list[list[int]] = []
    for n, value in enumerate(own):
        if value is None:
            continue
        group = [own[k] or 0.0 for k in groups[-1]] if groups else []
        if group and max(*group, value) <= within * min(*group, value):
            groups[-1].append(n)
        else:
            groups.append([n])
    shared: list[float | None] = [None] * len(own)
    for members in groups:
        least = min(own[k] or 0.0 for k in members)
        for k in members:
            shared[k] = least
    return tuple(shared)


def unseen(picture: Picture) -> tuple[str, ...]:
    """Names of the pieces of a picture that lie behind others in every view and are only drawn in dashes."""
    found = (mark.layer for mark in picture.marks if mark.layer.startswith(UNSEEN))
    return tuple(dict.fromkeys(layer.removeprefix(UNSEEN) for layer in found))


def _scene(event: Event) -> _Scene | None:
    show = event.show
    if show is None:
        return None
    solid = [s for s in show.pieces if len(s.piece.solid.mesh[1])]
    if not solid:
        return None
    if all(s.role == "context" for s in solid):  # nothing stands out, so nothing needs to stand back
        solid = [replace(s, role="worked") for s in solid]
    pieces = tuple(sorted(solid, key=lambda s: _RANK.index(s.role)))
    placed = tuple((s.piece, s.apart) for s in pieces)
    matters = [n for n, s in enumerate(pieces) if s.role in ("worked", "new")] or list(range(len(pieces)))
    choice = choose(placed, show.face, matters)
    follows = "stencil" in event.operation.fields.table()
    calm = tuple(n for n, s in enumerate(pieces) if s.role == "context")
    return _Scene(show, pieces, placed, tuple(matters), choice, look(placed, choice.view, calm), follows)


def _pens(width: float) -> Pens:
    return USUAL if width > 45 else SMALL


def _size(width: float) -> float:
    """Type size of names, mm (8 points in a picture of usual size)."""
    return 2.8 if width >= 70 else 2.3


def _key_size(width: float) -> float:
    return 2.4 if width >= 70 else 2.1


def _drawn(scene: _Scene, paper: Paper, style: Style) -> tuple[Mark, ...]:
    """Faces, lines and dashes of the hidden, from back to front."""
    marks: list[Mark] = [*faces(scene.look, paper, style)]
    if scene.sheets:
        marks += sheets(scene.look, scene.placed, paper)
    marks += lines(scene.look, paper, style)
    for n in scene.choice.unseen:
        marks += dashed(hidden_lines(scene.placed, scene.look.view, n), scene.pieces[n].piece.name, paper, style)
    return tuple(marks)


def _signs(scene: _Scene, paper: Paper, ink: Ink) -> list[tuple[Mark, ...]]:
    """The marks of each cue."""
    return [cues.drawn(cue, scene.pieces, scene.look, paper, ink) for cue in scene.show.cues]


def _layout(scene: _Scene, width: float, height: float, scale: float | None) -> tuple[Layout, tuple[str, ...]]:
    """Where everything stands, and the names of the key (none where names stand beside the drawing)."""
    bounds = _bounds(scene)
    pad = cues.sticking_out(scene.show.cues)
    room = Room(width, height, _size(width), min(LARGEST, scale or LARGEST), pad)
    names = _names(scene)
    if len(names) <= MANY:
        layout = arranged(names, bounds, room)
        if layout is not None:
            return trimmed(layout, bounds, pad), ()
    texts = tuple(n.text for n in names)
    rest = height - key_height(texts, width, _key_size(width)) - MARGIN
    room = Room(width, max(rest, 0.45 * height), room.size * 0.85, room.most, pad, air=0.3)
    digits = [Wanted(str(k + 1), n.faces, n.spot, n.room, bold=True) for k, n in enumerate(names)]
    return trimmed(numbered(digits, bounds, room), bounds, pad), texts


def _bounds(scene: _Scene) -> Bounds:
    """What must be on the picture: the pieces and the points of all signs."""
    left, bottom, right, top = scene.look.bounds
    points = [p for cue in scene.show.cues for p in cues.points_of(cue, scene.pieces, scene.look.view)]
    us, vs = [left, right, *(p[0] for p in points)], [bottom, top, *(p[1] for p in points)]
    return (min(us), min(vs), max(us), max(vs))


def _names(scene: _Scene) -> list[Wanted]:
    """The names to be set: pieces that matter, the others if there are few, and notes."""
    notes = [cue for cue in scene.show.cues if cue.kind == "note" and cue.text and cue.points]
    named = [n for n, s in enumerate(scene.pieces) if s.role != "context"]
    if len(scene.pieces) + len(notes) <= FEW or not named:
        named = list(range(len(scene.pieces)))
    names = []
    for n in named:
        shown = scene.pieces[n]
        spots = _spots(scene, n)
        if spots and shortened(shown.piece.name):
            name = wanted(called(shown.piece.name), spots, bold=shown.role == "new")
            names.append(replace(name, room=0.0) if n in scene.choice.unseen else name)
    for cue in notes:
        point = cues.points_of(cue, scene.pieces, scene.look.view)[0]
        names.append(Wanted(told(cue.text), (), point))
    return names


def _spots(scene: _Scene, piece: int) -> list[tuple[Polygon2, ...]]:
    """The faces of a piece on which a leader may end, largest first; the box around its dashes if it is hidden."""
    if piece in scene.choice.unseen:
        return _dashed_box(scene, piece)
    faces_of = scene.look.of(piece)
    return [f.polygons for f in faces_of if f.area >= 0.4 * faces_of[0].area][:3]


def _dashed_box(scene: _Scene, piece: int) -> list[tuple[Polygon2, ...]]:
    points = [p for line in hidden_lines(scene.placed, scene.look.view, piece) for p in line.points]
    if not points:
        return []
    left, right = min(p[0] for p in points), max(p[0] for p in points)
    low, high = min(p[1] for p in points), max(p[1] for p in points)
    return [((((left, low), (right, low), (right, high), (left, high)), ()),)]
