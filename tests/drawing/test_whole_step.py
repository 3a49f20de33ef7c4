"""A picture shows what its step is about: all pieces that it works, each by itself."""

from pathlib import Path

import pytest

from planbook.drawing.steps import drawn_event
from planbook.reader import read_design
from planbook.workshop.run import build

SAMPLES = Path(__file__).parents[2] / "designs"
BESIDE = 2
"""So many pieces may only have their paper peeled off in a step that does more to others, as its words say."""


@pytest.mark.parametrize("name", ["dory-stool", "pebble-box"])
def test_no_step_works_a_lot_that_its_picture_leaves_out(name):
    design = read_design(SAMPLES / name).design
    assert design is not None
    timeline = build(design)
    for step in design.steps:
        events = timeline.of_step(step)
        picture = drawn_event(events)
        if picture is None or picture.show is None:
            continue
        left = {}
        for each in events:
            gone = {piece.name for piece in each.taken}
            left = {name: event for name, event in left.items() if name not in gone}
            left |= {piece.name: each for piece in each.made}
        shown = {shown.piece.name for shown in picture.show.pieces}
        alone = {name for name, event in left.items() if len(event.taken) == len(event.made)}
        assert len(alone - shown) <= BESIDE, step.title
