"""Fits as drawn: a swing, a lift and a tongue in its slot, against closed forms."""

from collections.abc import Callable
from math import hypot

import pytest

from planbook.model import Design
from planbook.workshop.envelope import prove
from planbook.workshop.run import finish

Write = Callable[[str, str], Design]


TAPER = """
[varies]
thickness = "0 mm"
humidity = [45, 45]

[stock.lid]
wood = "black cherry"
size = ["40 mm", "40 mm", "10 mm"]
at = ["0 mm", "0 mm", "0 mm"]
grain = "x"

[stock.pin]
wood = "black cherry"
size = ["10 mm", "4 mm", "10 mm"]
at = ["{x} mm", "-43.1 mm", "12 mm"]
grain = "x"

[fits.opens]
kind = "swing"
piece = "lid"
about = ["0 mm", "0 mm", "0 mm"]
axis = "z"
angle = "-90 deg"
least = "0 mm"

[fits.lifts]
kind = "lift out"
piece = "lid"
least = "1 mm"
"""


def test_the_narrowest_place_of_a_swing_is_found_between_the_looks(design_of: Write, ring: tuple[str, str]) -> None:
    """A corner on an arc of radius 40 sqrt(2) passes 2 mm under a pin; nearest where it is below the pin's edge."""
    design = design_of(TAPER.format(x=8), '# Test\n\n## Mill\n\n```mill\nboards = ["lid", "pin"]\n```\n')
    found = finish(design).timeline.fits[0]
    assert found.least == pytest.approx(2.0, abs=1e-6)
    assert found.touches == "pin"


def test_a_corner_that_sweeps_past_a_post(design_of: Write, ring: tuple[str, str]) -> None:
    """The far corner of a square lid, 40 sqrt(2) from the axis, passes a post 56.7 mm away."""
    toml = TAPER.format(x=8).replace('at = ["8 mm", "-43.1 mm", "12 mm"]', 'at = ["56.7 mm", "-20 mm", "0 mm"]')
    toml = toml.replace('size = ["10 mm", "4 mm", "10 mm"]', 'size = ["10 mm", "41 mm", "10 mm"]')
    found = finish(design_of(toml, '# Test\n\n## Mill\n\n```mill\nboards = ["lid", "pin"]\n```\n')).timeline.fits[0]
    assert found.least == pytest.approx(56.7 - hypot(40, 40), abs=0.01)


def test_a_lid_is_lifted_out_between_its_neighbours(design_of: Write, ring: tuple[str, str]) -> None:
    """It may rest on what is below it; beside it there are 1.5 mm."""
    toml = """
[varies]
thickness = "0 mm"
humidity = [45, 45]
[stock.base]
wood = "black cherry"
size = ["100 mm", "40 mm", "10 mm"]
grain = "x"
[stock.lid]
wood = "black cherry"
size = ["50 mm", "40 mm", "10 mm"]
at = ["20 mm", "0 mm", "10 mm"]
grain = "x"
[stock.stop]
wood = "black cherry"
size = ["10 mm", "40 mm", "30 mm"]
at = ["71.5 mm", "0 mm", "10 mm"]
grain = "x"
[fits.lifts]
kind = "lift out"
piece = "lid"
least = "1 mm"
[fits.lowers]
kind = "lift out"
piece = "lid"
toward = "bottom"
least = "1 mm"
[fits.step]
kind = "reveal"
between = ["stop", "lid"]
face = "top"
least = "19 mm"
most = "21 mm"
"""
    steps = '# Test\n\n## Mill\n\n```mill\nboards = ["base", "lid", "stop"]\n```\n'
    lifts, lowers, step = finish(design_of(toml, steps)).timeline.fits
    assert (lifts.least, lifts.touches) == (pytest.approx(1.5, abs=1e-6), "stop")
    assert lowers.touches == "base"
    assert lowers.least is not None
    assert -10 <= lowers.least < -8
    assert (step.least, step.most) == (pytest.approx(20), pytest.approx(20))


TONGUE = """
[varies]
thickness = "0 mm"
humidity = [45, 45]

[stock.slotted]
wood = "black cherry"
size = ["60 mm", "40 mm", "30 mm"]
at = ["0 mm", "0 mm", "-30 mm"]
grain = "x"

[stock.tongue]
wood = "black cherry"
size = ["60 mm", "9.4 mm", "30 mm"]
at = ["0 mm", "15.3 mm", "-10 mm"]
grain = "x"

[tools.cutter]
kind = "router"
diameter = "6 mm"

[supplies.glue]
kind = "glue"
product = "PVA"

[fits.play]
kind = "gap"
between = ["tongue", "{other}"]
along = "y"
least = "0.2 mm"
most = "0.4 mm"
"""
TONGUE_STEPS = """# Test

## Rout and glue

```mill
boards = ["slotted", "tongue"]
```

```groove
piece = "slotted"
face = "top"
edge = "front"
at = "15 mm"
width = "10 mm"
depth = "10 mm"
tool = "cutter"
```

```glue
pieces = ["slotted", "tongue"]
along = "z"
glue = "glue"
makes = "joint"
```
"""


def test_a_tongue_is_measured_in_its_slot_just_before_it_is_glued(design_of: Write, ring: tuple[str, str]) -> None:
    """A tongue of 9.4 mm in the middle of a slot of 10 mm has 0.3 mm on each side."""
    timeline = prove(design_of(TONGUE.format(other="slotted"), TONGUE_STEPS))
    (found,) = timeline.fits
    assert found.least == pytest.approx(0.3, abs=1e-6)
    assert found.most == pytest.approx(0.3, abs=1e-6)
    assert found.before is not None
    assert found.before.place.line == timeline.design.operations[-1].place.line
    assert timeline.envelope is not None
    proof = timeline.envelope.proof("play")
    assert proof is not None
    assert proof.least.least == pytest.approx(0.3, abs=1e-6)


def test_pieces_that_never_lie_on_the_bench_together_cannot_be_measured(
    design_of: Write, ring: tuple[str, str]
) -> None:
    timeline = finish(design_of(TONGUE.format(other="joint"), TONGUE_STEPS)).timeline
    assert timeline.fits == ()
    assert [trouble.kind for trouble in timeline.troubles] == ["piece-already-used"]
