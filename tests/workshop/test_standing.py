"""What has been put into the object stands in the pictures of later work on it, until it is taken out."""

from collections.abc import Callable

import pytest

from planbook.drawing.steps import drawn_event
from planbook.model import Design
from planbook.workshop import Event, Timeline
from planbook.workshop.run import build

DESIGN = """
[stock.shell]
wood = "birch plywood"
size = ["200 mm", "60 mm", "100 mm"]
grain = "x"
[stock.shutter]
wood = "birch plywood"
size = ["100 mm", "10 mm", "20 mm"]
at = ["50 mm", "-10 mm", "40 mm"]
grain = "x"
[stock.front]
wood = "birch plywood"
size = ["200 mm", "12 mm", "100 mm"]
at = ["-250 mm", "0 mm", "0 mm"]
grain = "x"
[tools.drill]
kind = "drill"
diameter = "6 mm"
[supplies."wood glue"]
kind = "glue"
product = "PVA"
"""
STEPS = """
## Mill all

Mill {shell}, {shutter} and {front}.

```mill
boards = ["shell", "shutter", "front"]
```

## Close the box

Lay the {shutter} in, and glue.

```assemble
pieces = ["shell", "shutter"]
```

```glue
pieces = ["shell", "front"]
along = "x"
glue = "wood glue"
makes = "box"
```

```wait
dry = ["box"]
```

## Bore a hole

Bore it.

```bore
piece = "box"
face = "right"
at = [["20 mm", "20 mm"]]
drill = "drill"
depth = "10 mm"
```

## Bore another

Bore it.

```bore
piece = "shutter"
face = "right"
at = [["5 mm", "5 mm"]]
drill = "drill"
depth = "10 mm"
```

## Turn it

Turn it.

```turn
piece = "shutter"
axis = "z"
angle = "90 deg"
```
"""


@pytest.fixture
def timeline(design_of: Callable[[str, str], Design]) -> Timeline:
    return build(design_of(DESIGN, STEPS))


def of(timeline: Timeline, step: int) -> Event:
    event = drawn_event(timeline.of_step(timeline.design.steps[step - 1]))
    assert event is not None
    return event


def roles(event: Event) -> dict[str, str]:
    assert event.show is not None
    return {s.piece.name: s.role for s in event.show.pieces}


def test_what_is_laid_in_is_seen_where_it_is_closed_in(timeline: Timeline) -> None:
    assert timeline.troubles == ()
    event = of(timeline, 2)
    assert event.operation.kind == "glue"
    assert roles(event) == {"shell": "worked", "front": "worked", "shutter": "worked"}
    assert event.show is not None
    apart = {s.piece.name: s.apart for s in event.show.pieces}
    assert apart["shutter"] == apart["shell"] != apart["front"]


def test_it_stands_by_in_later_work_on_what_was_made_of_its_place(timeline: Timeline) -> None:
    assert roles(of(timeline, 3)) == {"box": "worked", "shutter": "context"}
    assert roles(of(timeline, 4)) == {"shutter": "worked", "box": "context"}
    assert {piece.name for piece in timeline.object} == {"box", "shutter"}


def test_what_is_taken_out_lies_alone(timeline: Timeline) -> None:
    assert roles(of(timeline, 5)) == {"shutter": "worked"}


def test_without_an_assembly_nothing_stands_by(design_of: Callable[[str, str], Design]) -> None:
    block = '```assemble\npieces = ["shell", "shutter"]\n```\n'
    assert block in STEPS
    assert roles(of(build(design_of(DESIGN, STEPS.replace(block, ""))), 3)) == {"box": "worked"}
