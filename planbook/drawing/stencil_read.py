"""Reads the stencils to be printed off the finished build; draws nothing."""

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any, cast

from planbook.drawing.stencil_art import ArtHole, ArtLine, ArtRegion, Side, StencilArt, outlines_of
from planbook.drawing.stencil_way import way_of
from planbook.solids import Area, Frame, Outline, Path
from planbook.solids.plane import box
from planbook.speech import called, say
from planbook.workshop import Event, Piece, Stuck, Timeline
from planbook.workshop.drawn import Follows
from planbook.workshop.registry import operation_of

_REACH = 25.0
"""Wood that stands out beyond the face by more than this, mm, belongs to something behind it and is not printed."""
_ON_FACE = 0.05
"""An outline nearer than this to that of the face is the same, mm."""
_END_GRAIN = math.sin(math.radians(20))
"""A grain that leaves the face by more than 70 degrees is drawn as end grain."""


def stencil_arts(timeline: Timeline) -> tuple[StencilArt, ...]:
    """Every stencil stuck on, by number; one stuck on alike faces of several pieces is printed once."""
    groups = _groups(timeline)
    numbers, total = _numbers_of(groups, len(timeline.design.stencils))
    sheets = Counter(group[0].stencil.name for group in groups if not group[0].mirrored)
    return tuple(
        _art(group, number, total, timeline, named=sheets[group[0].stencil.name] > 1)
        for group, number in zip(groups, numbers, strict=True)
    )


def sheet_numbers(timeline: Timeline) -> tuple[Mapping[str, tuple[int, ...]], int]:
    """The numbers that the sheets of each stencil carry, by its name, and how many sheets there are."""
    groups = _groups(timeline)
    numbers, total = _numbers_of(groups, len(timeline.design.stencils))
    found: dict[str, tuple[int, ...]] = {}
    for group, number in zip(groups, numbers, strict=True):
        name = group[0].stencil.name
        found[name] = (*found.get(name, ()), number)
    return found, total


def stencilled(timeline: Timeline) -> frozenset[str]:
    """The names of the pieces that a stencil was stuck on, and of all that was made of those."""
    found: set[str] = set()
    for event in timeline.events:
        found |= {p.name for p in event.made if p.stuck or not found.isdisjoint((p.name, *p.sources))}
    return frozenset(found)


def _groups(timeline: Timeline) -> list[list[Stuck]]:
    """Every stencil stuck on, those that are printed on one sheet together, in the order of their numbers."""
    alike: dict[object, list[Stuck]] = {}
    for stuck in _every_stuck(timeline):
        alike.setdefault((stuck.stencil.name, stuck.mirrored, _signature(stuck)), []).append(stuck)
    return sorted(alike.values(), key=lambda group: (group[0].stencil.number, group[0].mirrored))


def _numbers_of(groups: list[list[Stuck]], stencils: int) -> tuple[list[int], int]:
    """The numbers of the sheets, and how many there are: those of their stencils, counting on past further sheets."""
    told: set[int] = set()
    numbers, more = [], 0
    for stuck in (group[0] for group in groups):
        more += stuck.stencil.number in told
        told.add(stuck.stencil.number)
        numbers.append(stuck.stencil.number + more)
    return numbers, max([stencils + more, *numbers], default=0)


def _every_stuck(timeline: Timeline) -> list[Stuck]:
    """Every stencil as it was stuck on; one operation may have stuck it on several pieces."""
    found: list[Stuck] = []
    for event in timeline.events:
        if event.stuck is not None:
            name, at = event.stuck.stencil.name, event.stuck.at
            copies = [s for piece in event.made for s in piece.stuck if s.stencil.name == name and s.at == at]
            found += copies or [event.stuck]
    return found


def _signature(stuck: Stuck) -> object:
    """Stencils with the same one can be printed from one sheet."""
    outlines = [(name, _numbers(outline)) for name, outline in stuck.lines.items()]
    return tuple(outlines), tuple(stuck.holes.items()), _numbers(stuck.face)


def _numbers(outline: Outline) -> object:
    rings = outline.rings if isinstance(outline, Area) else (outline.points,)
    return tuple(sorted((round(u, 2) + 0.0, round(v, 2) + 0.0) for ring in rings for u, v in ring))


def _art(group: list[Stuck], number: int, total: int, timeline: Timeline, *, named: bool) -> StencilArt:
    """One sheet; `named` for its pieces where the same stencil is printed for others as well."""
    first = group[0]
    pieces = tuple(dict.fromkeys(stuck.piece for stuck in group))
    events = [event for event in timeline.events if not event.broken and _meant(event, group)]
    return StencilArt(
        number=number,
        total=total,
        title=": ".join((_title(first), *((", ".join(map(called, pieces)),) if named else ()))),
        face_name=first.stencil.face,
        pieces=pieces,
        face=first.face,
        lines=_lines(first, events),
        holes=_holes(first, events),
        regions=_regions(first, pieces, events, timeline),
        grain=_grain(first, timeline),
        note=called(first.stencil.note),
        way=way_of(group, timeline),
        rim=_rim(first, timeline),
    )


def _title(stuck: Stuck) -> str:
    title = called(stuck.stencil.title or stuck.stencil.name)
    return say("{title}, mirrored", title=title) if stuck.mirrored else title


def _meant(event: Event, group: list[Stuck]) -> bool:
    """Whether an event works by one of these stuck stencils."""
    return any(_stuck_on(piece, stuck) for piece in event.taken for stuck in group) and (
        dict(event.settings).get("stencil") == group[0].stencil.name
    )


def _stuck_on(piece: Piece, stuck: Stuck) -> bool:
    return any(
        s.stencil.name == stuck.stencil.name and s.at == stuck.at and s.piece == stuck.piece for s in piece.stuck
    )


def _lines(stuck: Stuck, events: Iterable[Event]) -> tuple[ArtLine, ...]:
    """Every line with each of its different uses; lines that nothing follows are guides."""
    found: dict[object, ArtLine] = {}
    for event in events:
        settings = dict(event.settings)
        for name in _names(settings.get("lines")):
            if name in stuck.lines and _follows(event) in ("sawn", "sanded"):
                line = _line(name, stuck.lines[name], _follows(event), settings)
                found[(name, line.use, line.side, line.leave)] = line
        for entry in _names(settings.get("entry")):
            if _follows(event) == "sawn" and entry in stuck.lines:
                kerf = float(settings.get("kerf") or 0.0)
                found[(entry, "entry")] = ArtLine(entry, stuck.lines[entry], "entry", kerf=kerf)
    entries = {line.name for line in found.values() if line.use == "entry"}
    cuts = {line.name for line in found.values() if line.use == "cut"}
    kept = [
        line
        for line in found.values()
        if not (line.use == "sand to" and line.name in cuts) and (line.use == "entry" or line.name not in entries)
    ]
    used = {line.name for line in kept}
    guides = [ArtLine(name, outline, "guide") for name, outline in stuck.lines.items() if name not in used]
    return (*kept, *guides)


def _follows(event: Event) -> Follows:
    return operation_of(event).DRAWN.follows


def _line(name: str, outline: Outline, how: Follows, settings: dict[str, Any]) -> ArtLine:
    if how != "sawn":
        return ArtLine(name, outline, "sand to")
    side = cast(Side, settings.get("kerf side") or "centre")
    if isinstance(outline, Area) == (side in ("left", "right")):
        side = "centre"
    leave = float(settings.get("leave") or 0.0)
    return ArtLine(name, outline, "cut", side, leave, float(settings.get("kerf") or 0.0))


def _names(value: object) -> tuple[str, ...]:
    """The names of a setting, which is one name, several or none."""
    if isinstance(value, str):
        return (value,) if value else ()
    return tuple(map(str, value)) if isinstance(value, tuple | list) else ()


def _holes(stuck: Stuck, events: Iterable[Event]) -> tuple[ArtHole, ...]:
    depths: dict[str, float | None] = {}
    for event in events:
        settings = dict(event.settings)
        if _follows(event) == "bored":
            depth = settings.get("depth")
            for name in _names(settings.get("holes")):
                depths[name] = None if depth == "through" else float(depth or 0.0)
    return tuple(ArtHole(name, (u, v), d, depths.get(name, 0.0)) for name, (u, v, d) in stuck.holes.items())


def _regions(
    stuck: Stuck, pieces: tuple[str, ...], events: Iterable[Event], timeline: Timeline
) -> tuple[ArtRegion, ...]:
    """The parts that the saw made of the face, as simulated; a part sawn again gives way to its own."""
    found: dict[str, ArtRegion] = {}
    for event in events:
        if _follows(event) != "sawn":
            continue
        for taken in (piece for piece in event.taken if _stuck_on(piece, stuck)):
            frame = next(s.frame for s in taken.stuck if s.stencil.name == stuck.stencil.name)
            found.pop(taken.name, None)
            waste = {name.replace("*", taken.name) for name in _names(dict(event.settings).get("waste"))}
            for made in (piece for piece in event.made if taken.name in (piece.name, *piece.sources)):
                area = made.solid.section(frame, -0.01)
                if not area.empty:
                    thrown = made.name in waste or _thrown_away(made.name, timeline)
                    found[made.name] = ArtRegion(called(_general(made.name, pieces)), area, thrown)
    return tuple(found.values())


def _thrown_away(name: str, timeline: Timeline) -> bool:
    fate = timeline.fates.get(name)
    return fate is not None and fate.ending == "discarded"


def _general(name: str, pieces: tuple[str, ...]) -> str:
    """On a sheet for several pieces, the name of a part without what belongs to the first piece alone."""
    if len(pieces) < 2:
        return name
    words = [set(piece.split()) for piece in pieces]
    own = words[0].difference(*[words[0] & other for other in words[1:]])
    return " ".join(word for word in name.replace(pieces[0], " ").split() if word not in own) or name


def _under(stuck: Stuck, timeline: Timeline) -> Piece | None:
    """The piece as it was when the stencil was stuck on."""
    return next(
        (p for e in timeline.events if e.at == stuck.at for p in e.made if p.name == stuck.piece),
        timeline.pieces.get(stuck.piece),
    )


def _rim(stuck: Stuck, timeline: Timeline) -> tuple[Path, ...]:
    """What of the outline of a piece, as one looks at the face, lies deeper than it: at grooves, rabbets, chamfers."""
    piece = _under(stuck, timeline)
    if piece is None or stuck.face.empty:
        return ()
    shadow = piece.solid.shadow(stuck.frame)
    (left, low, right, high), whole = stuck.face.bounds, shadow.bounds
    more = [
        far if far <= _REACH else 0.0 for far in (left - whole[0], low - whole[1], whole[2] - right, whole[3] - high)
    ]
    near = box(left - more[0], low - more[1], right - left + more[0] + more[2], high - low + more[1] + more[3])
    own = stuck.face.offset(_ON_FACE).minus(stuck.face.offset(-_ON_FACE))
    runs = (run for edge in outlines_of(shadow) for run in edge.inside(near.offset(_ON_FACE)))
    return tuple(part for run in runs for part in run.outside(own))


def _grain(stuck: Stuck, timeline: Timeline) -> float | None:
    """Direction of the grain of the wood that takes most of the face."""
    piece = _under(stuck, timeline)
    if piece is None or not piece.members:
        return 0.0
    most = max(piece.members, key=lambda m: m.region.section(stuck.frame, -0.01).meet(stuck.face).size)
    return grain_on(stuck.frame, most.grain)


def grain_on(frame: Frame, grain: tuple[float, float, float]) -> float | None:
    """The grain's direction on a face in degrees from u, 0 to 180; None where it runs into the face."""
    u, v, n = frame.at((0.0, 0.0, 0.0)).local(grain)
    flat = math.hypot(u, v)
    if flat < _END_GRAIN * math.hypot(flat, n):
        return None
    return math.degrees(math.atan2(v, u)) % 180.0
