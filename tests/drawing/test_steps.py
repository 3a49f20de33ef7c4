"""Which event the picture of a step shows, told by what the operations say themselves."""

import ast
from dataclasses import dataclass, replace
from pathlib import Path
from typing import ClassVar

import pytest

import planbook.drawing
from planbook.drawing.fences import tells_distance
from planbook.drawing.steps import drawn_event
from planbook.solids.solid import block
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
