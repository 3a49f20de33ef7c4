"""A step as it will be drawn, from one side or from two: pieces, view, what is seen, names; no paper yet."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, reduce

from planbook.drawing import cues
from planbook.drawing.coarse import coarse
from planbook.drawing.cut_in_sight import where_seen
from planbook.drawing.ghost import Lines, outline
from planbook.drawing.islands import by_themselves
from planbook.drawing.lettering import shortened
from planbook.drawing.line_names import names_of_lines
from planbook.drawing.lines_in_sight import with_lines_in_sight
from planbook.drawing.look import Look, Placed, flat, hidden_lines, look
from planbook.drawing.names import Bounds, Wanted, wanted
from planbook.drawing.sanding import sanded_faces
from planbook.drawing.sets import with_sets
from planbook.drawing.sight import points_in_sight
from planbook.drawing.views import Choice, choose
from planbook.solids import Vec3
from planbook.solids.frames import plus, times
from planbook.solids.visible import Polygon2
from planbook.speech import called, say, told
from planbook.workshop.registry import operation_of
from planbook.workshop.timeline import Cue, Event, Role, Show, Shown

FURTHER = "further"
"""The key of the settings of other operations that are shown in the same picture."""
BORED = "bored"
"""The key of the settings of operations that bore the holes which a picture of other work shows with it."""
FEW = 8
"""Pieces that only stand by are named when there are no more names than this."""
LARGE, LEAST, MORE = 0.4, 0.1, 4
"""Leaders end on faces of this share of the largest one of their piece, or else of so much, on so many of those."""
BETTER = 1.5
"""A piece belongs to the second of two views where that shows this many times as much of it."""
_RANK: tuple[Role, ...] = ("new", "worked", "context", "waste")


@dataclass(frozen=True, slots=True)
class Fence:
    """A distance of `far` mm along the outward direction `way`, on a piece (by number), ending at `level` mm.

    `hole` is the mouth of the hole whose distance it is, and the way out of it; with `centred` that is measured from
    the middle of its face, not from an edge. With `cornered` it is only told where both its ends are corners. `stop` is
    the end of the cut that stops there, by its corners; one that is `near` is only told beside that.
    """

    piece: int
    way: Vec3
    level: float
    far: float
    hole: tuple[Vec3, Vec3] | None = None
    centred: bool = False
    cornered: bool = False
    stop: tuple[Vec3, Vec3] | None = None
    near: bool = False

    @property
    def told_as(self) -> tuple[float, ...]:
        """What is the same of distances of which one is told: the axis they are measured along, and their length."""
        return (*(round(abs(c), 3) for c in self.way), round(self.far, 1))

    @property
    def edge(self) -> tuple[object, ...]:
        """From where it is measured: what lies further from there is not told without what is nearer."""
        return (self.piece, self.centred, tuple(round(c, 3) for c in self.way), round(self.level, 1))


@dataclass(frozen=True, eq=False, slots=True)
class Stage:
    """A step seen from one side: the pieces in order of drawing, which of them matter here, and what is seen.

    `bystanders` says whether pieces that only stand by are named;
    `fence` is the distance that a dimension tells, `further` are others that are told where there is room; `before`
    are lines of wood that is gone, mm of the view; `rough` is by how many mm the surfaces were made coarser if that
    is seen.
    """

    show: Show
    pieces: tuple[Shown, ...]
    placed: tuple[Placed, ...]
    matters: tuple[int, ...]
    choice: Choice
    look: Look
    bystanders: bool = True
    fence: Fence | None = None
    further: tuple[Fence, ...] = ()
    before: Lines = ()
    rough: float = 0.0


@lru_cache(maxsize=64)
def stages(event: Event, two: bool = True) -> tuple[Stage, ...]:
    """The step from the best side, and from a second one if need be and there may be `two`.

    The names and signs of the second are those of the pieces that the first does not show. Nothing for a step that
    shows nothing.
    """
    show = event.show
    solid = [s for s in show.pieces if len(s.piece.solid.mesh[1])] if show else []
    if show is None or not solid:
        return ()
    if all(s.role == "context" for s in solid):  # nothing stands out, so nothing needs to stand back
        solid = [replace(s, role="worked") for s in solid]
    drawn = coarse(tuple(s.piece.solid for s in solid))
    rough = drawn.off if drawn.seen else 0.0
    if drawn.off:
        solid = [replace(s, piece=replace(s.piece, solid=c)) for s, c in zip(solid, drawn.solids, strict=True)]
    pieces = tuple(sorted(solid, key=lambda s: _RANK.index(s.role)))
    placed = tuple((s.piece, s.apart) for s in pieces)
    matters = tuple(n for n, s in enumerate(pieces) if s.role in ("worked", "new")) or tuple(range(len(pieces)))
    best = choose(placed, show.face, matters, two, sanded_faces(show.cues))
    cut = any(cue.kind == "cut line" for cue in show.cues)
    sawn = cut and operation_of(event).DRAWN.follows == "sawn"
    choice, pieces = with_lines_in_sight(show, pieces, matters, best) if sawn else (best, pieces)
    placed = tuple((s.piece, s.apart) for s in pieces)
    calm = tuple(n for n, s in enumerate(pieces) if s.role == "context")
    seen = look(placed, choice.view, calm)
    before = outline(pieces, seen)
    shown = replace(show, pieces=pieces, cues=where_seen(show.cues, pieces, seen))
    whole = Stage(shown, pieces, placed, matters, choice, seen, before=before, rough=rough)
    if choice.other is None:
        return (whole,)
    other = look(placed, choice.other.view, calm)
    again = replace(shown, cues=where_seen(show.cues, pieces, other))
    second = replace(whole, show=again, look=other, before=outline(pieces, other), bystanders=False)
    beyond = tuple(n for n in matters if second.look.area_of(n) > BETTER * whole.look.area_of(n))
    here = replace(choice, unseen=tuple(n for n in choice.unseen if n not in beyond))
    return (
        _only(replace(whole, choice=here), lambda n: n not in beyond),
        _only(replace(second, choice=replace(choice.other, unseen=())), lambda n: n in beyond),
    )


def _only(stage: Stage, wanted: Callable[[int], bool]) -> Stage:
    """The stage with the names and signs of some of the pieces that matter."""
    matters = tuple(n for n in stage.matters if wanted(n))
    others = {stage.pieces[n].piece.name for n in stage.matters if not wanted(n)}
    kept = tuple(cue for cue in stage.show.cues if cue.piece not in others)
    return replace(stage, matters=matters, show=replace(stage.show, cues=kept))


def bounds(stage: Stage) -> Bounds:
    """What must be on the picture: the pieces, what is gone, and the points of all signs, mm of the object."""
    left, bottom, right, top = stage.look.bounds
    points = [p for cue in stage.show.cues for p in cues.extent_of(cue, stage.pieces, stage.look.view)]
    points += [p for line in stage.before for p in line]
    us, vs = [left, right, *(p[0] for p in points)], [bottom, top, *(p[1] for p in points)]
    return (min(us), min(vs), max(us), max(vs))


def names(stage: Stage) -> list[Wanted]:
    """The names to be set: pieces that matter, the others if there are few, and notes."""
    notes = [cue for cue in stage.show.cues if cue.kind == "note" and cue.text and cue.points]
    found = []
    for each in with_sets(stage.pieces, _named(stage, len(notes))):
        first, unseen = each.pieces[0], each.pieces[0] in stage.choice.unseen
        spots = [face for n in each.pieces for face in _spots(stage, n)]
        if spots and shortened(each.text):
            name = wanted(each.text, spots, bold=stage.pieces[first].role == "new")
            more = () if unseen or len(each.pieces) > 1 else _smaller(stage, first)
            found.append(replace(name, room=0.0 if unseen else name.room, more=more))
    found += names_of_lines(stage.show.cues, stage.pieces, stage.look.view)
    placed = _places(stage, notes)
    said = _said(stage, [cue for cue, _ in placed])
    return found + [Wanted(text, (), flat(stage.look.view, at)) for text, (_, at) in zip(said, placed, strict=True)]


def _said(stage: Stage, notes: Sequence[Cue]) -> list[str]:
    """What notes say; the linings of several pieces with the piece, of several walls with the wall, and those of
    several openings with the face of the opening, each is for.
    """
    lined = {cue.piece for cue in stage.show.cues if cue.kind == "lining"}
    opening = {(cue.piece, cue.points): cue.text for cue in stage.show.cues if cue.kind == "lining"}
    said = []
    for note in notes:
        alike = [each for each in notes if each.text == note.text]
        own = [each for each in alike if each.piece == note.piece]
        text = told(note.text)
        if note.wall and len({each.wall for each in own}) > 1:
            text += f", {say('floor' if note.wall == 'bottom' else note.wall)}"
        where = []
        if note.piece in lined and len({each.piece for each in alike}) > 1:
            where.append(called(note.piece))
        faces = {opening.get((each.piece, each.points), "") for each in own}
        if len(faces) > 1 and opening.get((note.piece, note.points)):
            where.append(say(opening[note.piece, note.points]))
        said.append(f"{text} ({', '.join(where)})" if where else text)
    return said


def _places(stage: Stage, notes: Sequence[Cue]) -> list[tuple[Cue, Vec3]]:
    """Where each note points: amid those of its places that are seen. One of which none is gives way to its like."""
    if len(notes) == 1 and len(notes[0].points) == 1:
        return [(notes[0], cues.world_points(notes[0], stage.pieces)[0])]
    places = [cues.world_points(note, stage.pieces) for note in notes]
    seen = [points_in_sight(each, stage.pieces, stage.look.view) for each in places]
    told_of = {note.text for note, found in zip(notes, seen, strict=True) if found}
    at = zip(notes, seen, places, strict=True)
    return [(note, _amid(found or every[:1])) for note, found, every in at if found or note.text not in told_of]


def _amid(places: Sequence[Vec3]) -> Vec3:
    """The place that is nearest to the middle of all; of a floor half hidden that is not the one at the rim."""
    middle = times(reduce(plus, places), 1 / len(places))
    return min(places, key=lambda place: math.dist(place, middle))


def _named(stage: Stage, notes: int) -> list[int]:
    if not stage.bystanders:
        return [*stage.matters]
    found = [n for n, s in enumerate(stage.pieces) if s.role == "waste" or n in stage.matters]
    if len(stage.pieces) + notes <= FEW or not found:
        left_out = {n for n, s in enumerate(stage.pieces) if s.role in ("new", "worked")} - {*stage.matters}
        return [n for n in range(len(stage.pieces)) if n not in left_out]
    return found


def _spots(stage: Stage, piece: int) -> list[tuple[Polygon2, ...]]:
    """The faces of a piece on which a leader may end, largest first; the box around its dashes if it is hidden."""
    if piece in stage.choice.unseen:
        return _dashed_box(stage, piece)
    faces_of = stage.look.of(piece)
    large = [f.polygons for f in faces_of if f.area >= LARGE * faces_of[0].area]
    return by_themselves(large[:3], piece, stage.look)


def _smaller(stage: Stage, piece: int) -> tuple[tuple[Polygon2, ...], ...]:
    """Further faces of a piece on which a leader may end where it is better than on the larger ones."""
    faces_of = stage.look.of(piece)
    return tuple(f.polygons for f in faces_of if LEAST * faces_of[0].area <= f.area < LARGE * faces_of[0].area)[:MORE]


def _dashed_box(stage: Stage, piece: int) -> list[tuple[Polygon2, ...]]:
    points = [p for line in hidden_lines(stage.placed, stage.look.view, piece) for p in line.points]
    if not points:
        return []
    left, right = min(p[0] for p in points), max(p[0] for p in points)
    low, high = min(p[1] for p in points), max(p[1] for p in points)
    return [((((left, low), (right, low), (right, high), (left, high)), ()),)]
