"""Which side of the finished object the upper side of a stencil becomes; it draws nothing."""

from collections.abc import Iterable, Sequence
from typing import Any

from planbook.solids import AXES, Vec3
from planbook.solids.frames import dot, negated
from planbook.workshop import Event, Stuck, Timeline
from planbook.workshop.pieces import turned_vector

SIDES: dict[str, Vec3] = {
    "up": AXES["z"],
    "down": negated(AXES["z"]),
    "back": AXES["y"],
    "front": negated(AXES["y"]),
    "right": AXES["x"],
    "left": negated(AXES["x"]),
}
LIKE = 0.95
"""Least cosine between a side and what may be called by its name: 18 degrees aside."""
GONE = ("discarded", "left over")
"""How pieces end that are no matter for what a side becomes."""


def way_of(group: Sequence[Stuck], timeline: Timeline) -> str:
    """The side (one of SIDES) that the upper side of a stencil becomes on all that is made by it.

    "" where pieces are turned each another way, or to none of the sides.
    """
    found = {side for stuck in group for side in _sides(stuck, timeline)}
    return found.pop() if len(found) == 1 else ""


def _sides(stuck: Stuck, timeline: Timeline) -> set[str]:
    """The sides that the upper side of one stuck stencil becomes on the pieces that are kept; "" for none of them."""
    ups: dict[str, set[Vec3]] = {stuck.piece: {stuck.frame.v}}
    since = [event for event in timeline.events if (event.at.step, event.at.number) > (stuck.at.step, stuck.at.number)]
    for event in since:
        _carried(ups, event)
    fates = timeline.fates
    kept = [ways for name, ways in ups.items() if name in fates and fates[name].ending not in GONE]
    return {_side(way) for way in _every(kept or ups.values())}


def _carried(ups: dict[str, set[Vec3]], event: Event) -> None:
    """What an event makes of the pieces followed looks their ways, turned if it turns them."""
    ways = {piece.name: ups.pop(piece.name) for piece in event.taken if piece.name in ups}
    for made in event.made if ways else ():
        own = [ways[name] for name in (made.name, *made.sources) if name in ways]
        if own:
            ups.setdefault(made.name, set()).update(_turned(way, dict(event.settings)) for way in _every(own))


def _turned(way: Vec3, settings: dict[str, Any]) -> Vec3:
    about = settings.get("about")
    return turned_vector(way, AXES[about], float(settings["angle"])) if about else way


def _every(ways: Iterable[set[Vec3]]) -> set[Vec3]:
    return set().union(*ways)


def _side(way: Vec3) -> str:
    return next((name for name, side in SIDES.items() if dot(way, side) > LIKE), "")
