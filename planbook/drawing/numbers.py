"""Numbers instead of names, for pictures of many pieces: on the faces where they have room, else on leaders."""

from collections.abc import Sequence
from dataclasses import replace

from planbook.drawing.columns import Room, arranged, fitting
from planbook.drawing.lettering import width_of
from planbook.drawing.names import GAP, ON_FACE, Bounds, Label, Layout, Wanted
from planbook.drawing.paper import Paper

SMALLEST = 1.6
"""Least type size of a number, mm."""


def numbered(names: Sequence[Wanted], bounds: Bounds, room: Room) -> Layout:
    """The drawing with a number for each name; what finds no place even in the smallest type is left out."""
    scale = fitting(bounds, room, 2 * (width_of("000", room.size) + GAP))
    on = [n for n in names if n.room * scale >= ON_FACE]
    led = [n for n in names if n.room * scale < ON_FACE]
    left_out: list[str] = []
    size = room.size
    layout = arranged(led, bounds, room)
    while layout is None:
        if size > SMALLEST:
            size = max(SMALLEST, size * 0.9)
        else:
            last = min(led, key=lambda n: (n.room, n.text))
            led.remove(last)
            left_out.append(last.text)
        layout = arranged(led, bounds, replace(room, size=size))
    labels = (*layout.labels, *(_on_face(n, layout.paper, layout.size) for n in on))
    return replace(layout, labels=labels, left_out=tuple(left_out))


def _on_face(name: Wanted, paper: Paper, size: float) -> Label:
    x, y = paper.put(name.spot)
    wide = width_of(name.text, size, name.bold)
    return Label(name, (name.text,), "on", (x - wide / 2, y - size / 2, x + wide / 2, y + size / 2), (x, y))
