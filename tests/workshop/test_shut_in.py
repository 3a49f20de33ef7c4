"""What lies loose between pieces that are glued is shown with them, and in the pictures of later work on them."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from planbook.model import Design
from planbook.workshop import Event, Timeline
from planbook.workshop.run import build
from planbook.workshop.standing import shut_in_after

DESIGN = """
[stock.one]
wood = "birch plywood"
size = ["200 mm", "20 mm", "40 mm"]
grain = "x"
[stock.two]
wood = "birch plywood"
size = ["200 mm", "20 mm", "40 mm"]
at = ["0 mm", "20 mm", "0 mm"]
grain = "x"
[stock.pin]
wood = "birch plywood"
size = ["20 mm", "18 mm", "20 mm"]
at = ["90 mm", "11 mm", "10 mm"]
grain = "x"
[tools.bit]
kind = "drill"
diameter = "29 mm"
[supplies."wood glue"]
kind = "glue"
product = "PVA"
"""
BORED = """
## Mill and bore

Bore {one} and {two} for {pin}.

```mill
boards = ["one", "two", "pin"]
```

```bore
piece = "one"
face  = "back"
at    = [["100 mm", "20 mm"]]
drill = "bit"
depth = "10 mm"
```

```bore
piece = "two"
face  = "front"
at    = [["100 mm", "20 mm"]]
drill = "bit"
depth = "10 mm"
```
"""
GLUED = """
## Glue

Glue them.

```glue up
pieces = ["one", "two"]
around = ["pin"]
along  = "y"
glue   = "wood glue"
makes  = "rattle"
```

```wait
dry = ["rattle"]
```

## Bore it

Bore into the {rattle}.

```bore
piece = "rattle"
face  = "top"
at    = [["20 mm", "20 mm"]]
drill = "bit"
depth = "10 mm"
```
"""


@pytest.fixture
def run(design_of: Callable[..., Design]) -> Callable[[str], Timeline]:
    return lambda steps: build(design_of(DESIGN, steps))


def shown(event: Event) -> list[tuple[str, str]]:
    return [(s.piece.name, s.role) for s in event.show.pieces] if event.show else []


def test_what_lies_loose_in_a_joint_is_shown_with_it_and_is_not_glued(run: Callable[[str], Timeline]) -> None:
    glued = next(event for event in run(BORED + GLUED).events if event.operation.kind == "glue up")
    assert shown(glued) == [("one", "worked"), ("two", "worked"), ("pin", "context")]
    assert [piece.name for piece in glued.taken] == ["one", "two"]
    assert glued.made[0].sources == ("one", "two")
    assert "pin" in glued.bench


def test_it_stands_in_what_was_glued_around_it(run: Callable[[str], Timeline]) -> None:
    timeline = run(BORED + GLUED)
    assert shown(timeline.events[-1]) == [("rattle", "worked"), ("pin", "context")]
    assert timeline.events[-1].beside == ("pin",)
    assert not timeline.troubles


def test_what_is_in_the_way_is_not_glued_around(run: Callable[[str], Timeline]) -> None:
    solid = BORED.split("```bore")[0]
    troubles = [t for t in run(solid + GLUED.split("## Bore")[0]).troubles if t.kind == "pieces-overlap"]
    assert {(t.facts["first"], t.facts["second"]) for t in troubles} == {("one", "pin"), ("two", "pin")}


def test_it_goes_on_into_what_that_is_joined_to_and_is_free_when_it_is_sawn_apart(
    run: Callable[[str], Timeline],
) -> None:
    made = {name: piece for event in run(BORED + GLUED).events for name, piece in event.bench.items()}
    rattle = made["rattle"]
    assert shut_in_after({}, [rattle], ["pin"]) == {"pin": "rattle"}
    assert shut_in_after({"ball": "one"}, [rattle], ()) == {"ball": "rattle"}
    assert shut_in_after({"ball": "one"}, [made["one"]], ()) == {"ball": "one"}
    halves = [replace(rattle, name=name, sources=("rattle",)) for name in ("upper half", "lower half")]
    assert shut_in_after({"pin": "rattle"}, halves, ()) == {}
