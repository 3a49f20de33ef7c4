"""Which event the picture of a step shows, told by what the operations say themselves."""

import ast
import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import ClassVar

import pytest

import planbook.drawing
from planbook.drawing.fences import tells_distance
from planbook.drawing.steps import drawn_event
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.workshop import Shown, registry
from planbook.workshop.drawn import Drawn
from planbook.workshop.registry import operations
from planbook.workshop.shop import Outcome, Shop, Work


@dataclass(frozen=True, kw_only=True)
class Plane(Work):
    """An operation that no drawing has heard of."""

    KIND: ClassVar[str] = "plane"
    DRAWN: ClassVar[Drawn] = Drawn(weight=1000, laid="moved", work="sanding", holds_on=True)

    def work(self, shop: Shop) -> Outcome:
        """Nothing is done: its events are made by hand."""
        return Outcome()


@pytest.fixture
def planing(monkeypatch):
    monkeypatch.setattr(registry, "operations", lambda: {**operations(), "plane": Plane})


def crossed(bench, kind: str):
    """Two boards that stand through one another."""
    boards = (
        bench.piece("rail", block((0, 0, 0), (200, 20, 20))),
        bench.piece("post", block((90, -90, 0), (110, 110, 20))),
    )
    return bench.event(kind, "top", [Shown(board, "worked") for board in boards])


def moved(event) -> int:
    return sum(any(shown.apart) for shown in event.show.pieces)


def test_a_step_is_about_the_heaviest_of_its_operations(bench):
    events = [crossed(bench, kind) for kind in ("sand face", "saw", "bore", "wait")]
    assert drawn_event(events).operation.kind == "saw"
    assert drawn_event(events[2:]).operation.kind == "bore"
    assert drawn_event([]) is None


def plugged(bench, between=None):
    """A board with two holes in its top, and two plugs glued in one after the other; both holes are there at first."""
    holes = [cylinder(FACE_FRAMES["top"], (x, 20), 5, 10, 21) for x in (30, 90)]
    plugs = [bench.piece(f"plug {n}", hole.meet(block((0, 0, 0), (120, 40, 20)))) for n, hole in enumerate(holes, 1)]
    first = bench.piece("board", block((0, 0, 0), (120, 40, 20)).minus(*holes))
    second = bench.piece("board", first.solid.plus(plugs[0].solid))
    taken = between or second
    done = bench.piece("board", taken.solid.plus(plugs[1].solid))
    return [
        replace(
            bench.event("plug", "top", [Shown(board, "worked"), Shown(plug, "worked", (0.0, 0.0, 30.0))]),
            taken=(board, plug),
            made=(made,),
        )
        for board, plug, made in ((first, plugs[0], second), (taken, plugs[1], done))
    ]


def test_plugs_of_a_step_are_on_their_way_into_holes_that_are_seen(bench):
    shown = {s.piece.name: s for s in drawn_event(plugged(bench)).show.pieces}
    assert {*shown} == {"board", "plug 1", "plug 2"}
    holes = 2 * math.pi * 25 * 10
    assert shown["board"].piece.solid.volume == pytest.approx(120 * 40 * 20 - holes, rel=2e-3)
    assert all(shown[name].apart == (0, 0, 30) for name in ("plug 1", "plug 2"))


def test_a_piece_that_is_worked_between_two_plugs_is_shown_as_that_left_it(bench):
    planed = bench.piece("board", block((0, 0, 0), (100, 40, 20)))
    shown = {s.piece.name: s for s in drawn_event(plugged(bench, planed)).show.pieces}
    assert shown["board"].piece is planed


def test_plugs_are_cut_out_of_a_layer_before_the_block_that_it_was_sliced_off(bench):
    whole = bench.piece("block", block((0, 0, 0), (120, 60, 40)))
    layer = bench.piece("layer", block((0, 0, 0), (120, 20, 40)))
    rest = bench.piece("rest", block((0, 21, 0), (120, 60, 40)))
    hole = cylinder(FACE_FRAMES["front"], (60, 20), 6, -20, 0)
    knob, scrap = bench.piece("knob", hole), bench.piece("scrap", layer.solid.minus(hole))
    off = (0.0, -24.0, 0.0)
    sliced = bench.event("slice", "front", [Shown(layer, "new", off), Shown(rest, "new")])
    cut = bench.event("cut plugs", "front", [Shown(scrap, "new"), Shown(knob, "new", (0.0, -28.0, 0.0))])
    thrown = replace(bench.event("discard", "front", [Shown(rest, "waste")]), taken=(rest,))
    steps = [
        replace(each, at=replace(each.at, number=n), taken=taken, made=made)
        for n, (each, taken, made) in enumerate(
            ((sliced, (whole,), (layer, rest)), (cut, (layer,), (knob, scrap)), (thrown, (rest,), ())), 1
        )
    ]
    event = drawn_event(steps)
    assert event.operation.kind == "cut plugs"
    found = {s.piece.name: (s.role, s.apart) for s in event.show.pieces}
    assert found == {"scrap": ("new", off), "knob": ("new", (0, -52, 0)), "rest": ("waste", (0, 0, 0))}
    # What was made of the rest since then is shown by its own work.
    sanded = replace(thrown, made=(bench.piece("rest", block((0, 22, 0), (120, 60, 40))),))
    again = drawn_event([steps[0], replace(sanded, at=replace(sanded.at, number=1)), steps[1]])
    assert {s.piece.name for s in again.show.pieces} == {"scrap", "knob"}


def test_what_the_same_step_throws_away_is_waste_in_its_picture(bench):
    plug, scrap = (
        bench.piece("plug", block((0, 0, 0), (10, 10, 10))),
        bench.piece("scrap", block((20, 0, 0), (60, 10, 40))),
    )
    cut = bench.event("cut plugs", "front", [Shown(scrap, "new"), Shown(plug, "new")])
    thrown = bench.event("discard", "front", [Shown(scrap, "waste")])
    roles = {s.piece.name: s.role for s in drawn_event([cut, thrown]).show.pieces}
    assert roles == {"plug": "new", "scrap": "waste"}
    assert {s.role for s in drawn_event([cut]).show.pieces} == {"new"}
    sawn = replace(thrown, made=(scrap,))
    assert {s.role for s in drawn_event([cut, sawn]).show.pieces} == {"new"}, "what is made is no scrap yet"


def test_a_new_operation_is_drawn_as_it_says(bench, planing):
    events = [crossed(bench, "saw"), crossed(bench, "plane")]
    assert drawn_event(events).operation.kind == "plane"
    assert moved(drawn_event(events[:1])) == 2
    assert moved(drawn_event(events)) == 0


def test_operations_of_the_same_work_are_one_picture(bench, planing):
    rail = bench.event("sand face", "top", [Shown(bench.piece("rail", block((0, 0, 0), (200, 20, 20))), "worked")])
    post = bench.event("plane", "top", [Shown(bench.piece("post", block((0, 90, 0), (200, 110, 20))), "worked")])
    away = bench.event("saw", "top", [Shown(bench.piece("foot", block((0, 180, 0), (200, 200, 20))), "worked")])
    assert {shown.piece.name for shown in drawn_event([rail, away, post]).show.pieces} == {"rail", "post"}


def test_settings_that_hold_on_are_told_of_what_is_made_later_in_the_step(bench, planing, monkeypatch):
    sawn = crossed(bench, "saw")
    planed = replace(crossed(bench, "plane"), settings=(("face", "top"), ("fence", 20.0)))
    monkeypatch.setattr(Plane, "DRAWN", Drawn(weight=1, holds_on=True))
    assert not tells_distance(drawn_event([sawn]))
    assert drawn_event([sawn, planed]).operation.kind == "saw"
    assert tells_distance(drawn_event([sawn, planed]))


def test_drawings_know_no_operation_by_name():
    """The kind of an operation is said where a picture is described, and asked nowhere."""
    asked = {
        path.name
        for path in Path(planbook.drawing.__file__).parent.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Attribute) and ast.unparse(node).endswith("operation.kind")
    }
    assert asked == {"alt.py"}
