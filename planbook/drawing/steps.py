"""Which event of a step is drawn, and the pictures of all steps; draws nothing itself."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from planbook.cache import Cache, Forgetful
from planbook.drawing.driven import with_driven
from planbook.drawing.far_edges import without_far_edges
from planbook.drawing.fences import tells_distance
from planbook.drawing.ghost import with_all_gone, with_gone
from planbook.drawing.ink import Ink
from planbook.drawing.kept import Kept
from planbook.drawing.laid_flat import laid_flat
from planbook.drawing.level import level
from planbook.drawing.line_names import lines_told, with_lines_told
from planbook.drawing.marks import Picture
from planbook.drawing.sanding import with_sanding
from planbook.drawing.sawn_off import with_sawn_off
from planbook.drawing.scales import shared_scales
from planbook.drawing.scene import is_broad, step_picture, step_scale
from planbook.drawing.side_by_side import side_by_side
from planbook.drawing.stage import BORED, FURTHER
from planbook.drawing.stood import cleared, loosened, stood_apart, taken_apart
from planbook.model import Step
from planbook.solids.frames import times
from planbook.units import LengthStyle
from planbook.workshop import Cue, Event, Shown, Timeline
from planbook.workshop.registry import operation_of

MANY, HIGHER = 10, 1.5
"""A picture of so many pieces has so much more room in height, where others would seldom need it."""
PRINTED = "printed line"
"""The kind of the cues for what is printed on a stencil that is being stuck on."""


def step_pictures(
    timeline: Timeline,
    width_mm: float,
    height_mm: float,
    ink: Ink = "colour",
    cache: Cache | None = None,
    lengths: LengthStyle | None = None,
    numbers: Mapping[str, int] | None = None,
    heights: Mapping[int, float] | None = None,
) -> dict[int, Picture]:
    """The picture of every step that has something to show, by the step's number; mm of paper.

    One that shows many pieces may be HIGHER times as high, and one of a single view as high as `heights` says of its
    step, where that is more.
    One without marks failed to show it, and says so in `missing`. With `lengths`, distances are told in that style.
    Pictures that have a key take their `numbers` from the pieces list.
    """
    kept = Kept(timeline, cache or Forgetful())
    chosen = [(step, drawn_step(timeline, step)) for step in timeline.design.steps]
    events = [(step, event) for step, event in chosen if event is not None]
    told = lengths is not None
    beside = heights or {}
    rooms = [(width_mm, _height(event, width_mm, height_mm, beside.get(step.number, 0.0))) for step, event in events]
    own = [
        kept.number(
            kept.of_step(step, "scale", room, told, lines_told(event)),
            partial(step_scale, timeline, event, *room, told),
        )
        for (step, event), room in zip(events, rooms, strict=True)
    ]
    # Many pieces pulled apart are looked at by themselves: the whole of them is not drawn as small for their sake.
    strange = [n == 0 or _many(e) or not _akin(events[n - 1][1], e) for n, (_, e) in enumerate(events)]
    found = {}
    for (step, event), room, scale in zip(events, rooms, shared_scales(own, strange), strict=True):
        # A picture that tells no distance is the same in every edition.
        style = lengths if tells_distance(event) else None
        draw = partial(step_picture, timeline, event, *room, ink, scale, style, numbers)
        listed = tuple((numbers or {}).items())
        key = kept.of_step(step, room, ink, scale, style, listed, lines_told(event))
        found[step.number] = kept.picture(key, draw)
    return found


def _height(event: Event, width_mm: float, height_mm: float, beside_mm: float) -> float:
    """How high the picture of an event may be, mm: words stand `beside_mm` high beside one that is not broad."""
    if _many(event):
        return height_mm * HIGHER
    return height_mm if beside_mm <= height_mm or is_broad(event, width_mm) else beside_mm


def drawn_step(timeline: Timeline, step: Step) -> Event | None:
    """The event the picture of a step shows, with those lines named that its words name."""
    return with_lines_told(drawn_event(timeline.of_step(step)), step)


def drawn_event(events: Sequence[Event]) -> Event | None:
    """The event a step's picture shows: the weightiest, joined with others of the same work in the step."""
    showing = [event for event in events if event.show is not None and event.show.pieces]
    if not showing:
        return None
    main = max(showing, key=lambda event: operation_of(event).DRAWN.weight)
    alike = [with_gone(with_sanding(event, showing)) for event in showing if _same_work(event, main)]
    laid = _laid(alike[0] if len(alike) == 1 else _joined(main, alike), alike)
    before = [each for each in showing if each.at.number < alike[0].at.number]
    whole = with_sawn_off(laid, before) if len(alike) == 1 else laid
    worked = _with_work(_with_bored(_with_what_holds(whole, showing), showing), showing)
    clear = without_far_edges(worked) if _many(worked) else worked
    return with_driven(_with_scrap(_with_printed(clear, showing), showing), showing)


def _same_work(one: Event, two: Event) -> bool:
    """Whether two events are one work to a reader."""
    first, second = operation_of(one), operation_of(two)
    return first is second or (first.DRAWN.work != "" and first.DRAWN.work == second.DRAWN.work)


def _laid(event: Event, alike: Sequence[Event]) -> Event:
    """The event of a picture, made of events `alike`, with its pieces as far apart as a reader needs."""
    how = operation_of(event).DRAWN.laid
    opened = stood_apart(event) if how == "opened" else taken_apart(event) if how == "one by one" else event
    one = side_by_side(event, alike) if opened is event else opened
    one = level(one) if how == "level" else laid_flat(one) if how == "together" else one
    return one if how in ("moved", "together") else cleared(loosened(one))


def _with_what_holds(event: Event, events: Sequence[Event]) -> Event:
    """The event with the settings of others of its step that hold on: what is cut of a slice is still as thick."""
    held = tuple(each.settings for each in events if operation_of(each).DRAWN.holds_on)
    if not held or operation_of(event).DRAWN.holds_on:
        return event
    before = dict(event.settings).get(FURTHER, ())
    rest = tuple(each for each in event.settings if each[0] != FURTHER)
    return replace(event, settings=(*rest, (FURTHER, (*before, *held))))


def _with_bored(event: Event, events: Sequence[Event]) -> Event:
    """The event with the settings of what bores its step's holes by measure, where it is about something else."""
    if operation_of(event).DRAWN.fastens == "hole":
        return event
    bored = (each.settings for each in events if operation_of(each).DRAWN.fastens == "hole")
    measured = tuple(settings for settings in bored if dict(settings).get("at"))
    return replace(event, settings=(*event.settings, (BORED, measured))) if measured else event


def _with_printed(event: Event, events: Sequence[Event]) -> Event:
    """The event with the lines of the stencils that its step sticks on, where it is about something else."""
    assert event.show is not None
    stuck = {s.piece.name: s.piece.stuck for s in event.show.pieces}
    stick = [each for each in events if any(cue.kind == PRINTED for cue in (each.show.cues if each.show else ()))]
    still = {piece.name for each in stick for piece in each.made if stuck.get(piece.name) == piece.stuck}
    every = (cue for each in stick if each.show for cue in each.show.cues)
    mine = [cue for cue in every if cue.kind == PRINTED and cue.piece in still and cue not in event.show.cues]
    return replace(event, show=replace(event.show, cues=(*event.show.cues, *mine))) if mine else event


def _with_scrap(event: Event, events: Sequence[Event]) -> Event:
    """The event, in which what another of its step shows as waste, and makes nothing of, is waste from the start."""
    assert event.show is not None
    last = (each.show.pieces for each in events if each.show and not each.made)
    gone = {s.piece.name for pieces in last for s in pieces if s.role == "waste"}
    pieces = (replace(s, role="waste") if s.piece.name in gone else s for s in event.show.pieces)
    return replace(event, show=replace(event.show, pieces=tuple(pieces))) if gone else event


def _with_work(event: Event, events: Sequence[Event]) -> Event:
    """The event, in which what other events of the step are about does not stand back."""
    assert event.show is not None
    worked = {piece.name for each in events for piece in each.made}
    if not any(s.role == "context" and s.piece.name in worked for s in event.show.pieces):
        return event
    pieces = (_to_the_fore(s) if s.piece.name in worked else s for s in event.show.pieces)
    return replace(event, show=replace(event.show, pieces=tuple(pieces)))


def _to_the_fore(shown: Shown) -> Shown:
    return replace(shown, role="worked") if shown.role == "context" else shown


def _many(event: Event) -> bool:
    """Whether a picture shows so many pieces of which each is looked for that they would be drawn too small."""
    return event.show is not None and sum(s.role != "context" for s in event.show.pieces) >= MANY


def _akin(one: Event, two: Event) -> bool:
    """Whether the second shows a piece of the first, or one that was made of it."""
    before, after = (event.show.pieces if event.show else () for event in (one, two))
    names = {shown.piece.name for shown in before}
    return any(names & {shown.piece.name, *shown.piece.sources} for shown in after)


def _joined(main: Event, alike: Sequence[Event]) -> Event:
    """Several events in one picture: what a later one takes up again is not shown as it was before."""
    assert main.show is not None
    shown: list[Shown] = []
    for number, event in enumerate(alike):
        later = {piece.name for other in alike[number + 1 :] for piece in other.taken}
        made_here = {piece.name for piece in event.made}
        behind = len(alike) - number - 1 if later & made_here else 0
        pieces = event.show.pieces if event.show else ()
        left = [s for s in pieces if s.piece.name not in later]
        # What is let in stands before its own place, and hides nothing of the next.
        shown += [_further(_begun(s, alike[:number]), behind if s.piece.name in made_here else 0) for s in left]
    cues = [_handed_on(c, alike[n + 1 :], shown) for n, e in enumerate(alike) if e.show for c in e.show.cues]
    kept = _each_once([cue for cue in cues if cue is not None])
    show = replace(main.show, pieces=with_all_gone(_once(shown), alike), cues=kept)
    taken = tuple({p.name: p for e in alike for p in e.taken}.values())
    made = tuple({p.name: p for e in alike for p in e.made}.values())
    further = tuple(event.settings for event in alike if event is not main)
    return replace(main, show=show, taken=taken, made=made, settings=(*main.settings, (FURTHER, further)))


def _begun(shown: Shown, before: Sequence[Event]) -> Shown:
    """A piece as it was when the first of a run of events took it, if each shows it as it took it.

    What the run puts into it is shown on its way in, and not in its place as well.
    """
    piece = shown.piece
    for event in reversed(before):
        took = next((old for old in event.taken if old.name == piece.name), None)
        shows = event.show is not None and any(s.piece is took for s in event.show.pieces)
        if took is None or not shows or not any(made is piece for made in event.made):
            break
        piece = took
    return replace(shown, piece=piece)


def _each_once(cues: Sequence[Cue]) -> tuple[Cue, ...]:
    """The signs, of which clamps that press in one place for several events are one."""
    kept: dict[object, Cue] = {}
    for n, cue in enumerate(cues):
        place = (cue.piece, *(round(x, 1) for point in cue.points for x in point))
        kept.setdefault(place if cue.kind == "clamp" else n, cue)
    return tuple(kept.values())


def _handed_on(cue: Cue, later: Sequence[Event], shown: Sequence[Shown]) -> Cue | None:
    """A cue of a piece that is not shown: a line to cut goes to the largest of what was made of the piece later."""
    if not cue.piece or any(s.piece.name == cue.piece for s in shown):
        return cue
    names = {cue.piece}
    for event in later:
        if names & {piece.name for piece in event.taken}:
            names |= {piece.name for piece in event.made}
    heirs = [s.piece for s in shown if s.piece.name in names and s.role != "context"]
    if cue.kind != "cut line" or not heirs:
        return None
    return replace(cue, piece=max(heirs, key=lambda piece: piece.solid.volume).name)


def _further(shown: Shown, steps: int) -> Shown:
    """A piece cut off earlier lies further away, so that the later ones do not hide it."""
    return replace(shown, apart=times(shown.apart, 1 + steps)) if steps else shown


def _once(shown: Sequence[Shown]) -> Sequence[Shown]:
    """Each piece once, as the last event shows it that is about it, rather than one in which it only stands by."""
    about = {s.piece.name for s in shown if s.role != "context"}
    return tuple({s.piece.name: s for s in shown if s.role != "context" or s.piece.name not in about}.values())
