"""Fits over all that may vary, against closed forms, and against a build at every corner."""

from collections.abc import Callable
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.model import Design
from planbook.reader import read_design
from planbook.workshop import Envelope, Proof, Setting, Timeline
from planbook.workshop.envelope import Prover, prove, variation
from planbook.workshop.run import finish

Write = Callable[[str, str], Design]


def proof_of(timeline: Timeline, name: str) -> Proof:
    assert timeline.envelope is not None
    proof = timeline.envelope.proof(name)
    assert proof is not None
    return proof


def envelope_of(timeline: Timeline) -> Envelope:
    assert timeline.envelope is not None
    return timeline.envelope


def test_a_disc_sawn_from_a_ring_has_the_kerf_around_it(design_of: Write, ring: tuple[str, str]) -> None:
    """The gap is the kerf, whatever it is; a chord of the circle is at most 0.02 mm off."""
    proof = proof_of(prove(design_of(*ring)), "turns")
    assert proof.least.least == pytest.approx(0.8, abs=0.02)
    assert proof.least_at == (Setting("kerf", 0.8, "saw"),)
    assert proof.most.most == pytest.approx(1.4, abs=0.02)
    assert proof.most_at == (Setting("kerf", 1.4, "saw"),)


SLOT = """
[varies]
thickness = "0 mm"
sanding = "0.1 mm"
humidity = {humidity}

[stock.plank]
wood = "black cherry"
size = ["400 mm", "20 mm", "40 mm"]
grain = "{grain}"

[tools.saw]
kind = "table saw"
kerf = "3 mm"
kerf_range = ["2.6 mm", "3.2 mm"]

[tools.paper]
kind = "hand sanding"

[fits."a step"]
kind = "reveal"
between = ["long", "short"]
face = "top"
least = "-1 mm"

[fits.slides]
kind = "slide"
piece = "short"
along = ["0 mm", "-40 mm", "0 mm"]
past = ["long"]
least = "0.5 mm"
"""
SLOT_STEPS = """# Test

## Saw and sand

```mill
boards = ["plank"]
```

```slice
piece = "plank"
face = "right"
thickness = "100 mm"
blade = "saw"
makes = { short = "layer", long = "rest" }
```

```sand face
piece = "short"
faces = ["left"]
take = "0.3 mm"
tool = "paper"
```
"""


def test_kerf_and_sanding_add_up_at_the_worst_corner(design_of: Write, ring: tuple[str, str]) -> None:
    """A block beside what it was sawn from: the gap is the kerf and what is sanded off."""
    timeline = prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), SLOT_STEPS))
    proof = proof_of(timeline, "slides")
    assert timeline.fits[1].least == pytest.approx(3.3, abs=1e-6)
    assert proof.least.least == pytest.approx(2.6 + 0.2, abs=1e-6)
    assert set(proof.least_at) == {Setting("kerf", 2.6, "saw"), Setting("sanding", -0.1)}


def test_a_motion_says_where_and_against_what_it_is_narrowest(design_of: Write, ring: tuple[str, str]) -> None:
    found = prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), SLOT_STEPS)).fits[1]
    assert found.touches == "long"
    assert found.where is not None
    assert found.where[0] == pytest.approx(300.3 - 3.3 / 2, abs=1e-6)
    assert found.stage == "0 %"


def test_the_corner_found_is_the_worst_of_all_corners(design_of: Write, ring: tuple[str, str]) -> None:
    """Brute force: every combination of ends is built and measured."""
    design = design_of(SLOT.format(grain="z", humidity="[30, 70]"), SLOT_STEPS)
    proof = proof_of(prove(design), "slides")
    prover = Prover(design)
    ends = [[None, *(Setting(s.what, value, s.tool) for value in (s.least, s.most))] for s in prover.spreads()]
    measured = []
    for corner in product(*ends):
        found = prover.measured(tuple(each for each in corner if each), design.fits["slides"])
        assert found is not None
        assert found.least is not None
        measured.append(found.least)
    assert len(measured) == 27
    assert proof.least.least == min(measured)


def test_a_size_is_written_from_the_kerf_of_the_readers_own_blade(design_of: Write, ring: tuple[str, str]) -> None:
    toml = SLOT.format(grain="x", humidity="[45, 45]")
    steps = SLOT_STEPS.replace('thickness = "100 mm"', "thickness = \"2 * kerf of 'saw' + 10 mm\"")
    design = design_of(toml, steps)
    for kerf in (2.6, 3.2):
        done = finish(design, None, variation((Setting("kerf", kerf, "saw"),))).timeline
        assert done.pieces["short"].solid.extent[0] == pytest.approx(2 * kerf + 10 - 0.3, abs=1e-6)


def test_a_break_names_the_corner(design_of: Write, ring: tuple[str, str]) -> None:
    steps = SLOT_STEPS.replace('thickness = "100 mm"', 'thickness = "396.9 mm"')
    envelope = envelope_of(prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), steps)))
    assert [(each.corner, each.trouble.kind) for each in envelope.breaks] == [
        ((Setting("kerf", 3.2, "saw"),), "cut-misses")
    ]


def test_a_broken_design_has_no_envelope(design_of: Write, ring: tuple[str, str]) -> None:
    steps = SLOT_STEPS.replace('piece = "short"\nfaces', 'piece = "shrot"\nfaces')
    assert prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), steps)).envelope is None


def test_a_board_that_may_be_as_thin_as_nothing_is_a_break(design_of: Write, ring: tuple[str, str]) -> None:
    toml = SLOT.format(grain="x", humidity="[45, 45]").replace('thickness = "0 mm"', 'thickness = "25 mm"')
    envelope = envelope_of(prove(design_of(toml, SLOT_STEPS)))
    assert [(each.corner, each.trouble.kind) for each in envelope.breaks] == [
        ((Setting("thickness", -25.0),), "not-positive")
    ]


DRAWER = """title = "Test"
version = "1"
maker = "Saltmarsh Workshop"
units = "mm"

[varies]
thickness = "0 mm"
sanding = "0.1 mm"
humidity = [45, 45]

[stock.block]
wood = "black cherry"
size = ["100 mm", "60 mm", "60 mm"]
grain = "x"

[shapes.opening]
kind = "box"
at = ["10 mm", "10 mm"]
width = "80 mm"
height = "40 mm"

[shapes.way]
kind = "line"
from = ["50 mm", "-4 mm"]
to = ["50 mm", "10 mm"]

[stencils.plan]
title = "Plan"
face = "front"
lines = {{ opening = "opening", way = "way" }}
regions = {{ drawer = ["50 mm", "30 mm"] }}

[tools.saw]
kind = "band saw"
kerf = "{kerf} mm"
kerf_range = ["{least} mm", "{most} mm"]

[tools.paper]
kind = "hand sanding"

[fits.slides]
kind = "slide"
piece = "drawer"
along = ["0 mm", "-70 mm", "0 mm"]
least = "0 mm"

[fits.setback]
kind = "reveal"
between = ["case", "drawer"]
face = "front"
least = "-1 mm"
"""
DRAWER_STEPS = """# Test

## Saw

```mill
boards = ["block"]
```

```stick
piece = "block"
stencil = "plan"
```

```saw
piece = "block"
stencil = "plan"
blade = "saw"
lines = ["opening"]
entry = ["way"]
kerf_side = "inside"
makes = { drawer = "drawer", case = "outside" }
```

```sand face
piece = "drawer"
faces = ["left", "front"]
take = "0.4 mm"
tool = "paper"
```
"""


@settings(max_examples=6, deadline=None)
@given(st.integers(6, 20), st.integers(0, 5), st.integers(0, 5))
def test_a_drawer_sawn_from_its_own_opening_has_the_kerf_around_it(
    tmp_path_factory: pytest.TempPathFactory, kerf: int, less: int, more: int
) -> None:
    """The least gap is one kerf, and its front stands back by what is sanded off it."""
    folder = tmp_path_factory.mktemp("drawer")
    nominal, least, most = kerf / 10, (kerf - less) / 10, (kerf + more) / 10
    text = DRAWER.format(kerf=nominal, least=least, most=most)
    (folder / "design.toml").write_text(text, "utf-8")
    (folder / "steps.md").write_text(DRAWER_STEPS, "utf-8")
    design = read_design(folder).design
    assert design is not None
    timeline = prove(design)
    assert timeline.fits[0].least == pytest.approx(nominal, abs=1e-6)
    assert proof_of(timeline, "slides").least.least == pytest.approx(least, abs=1e-6)
    setback = proof_of(timeline, "setback")
    assert (setback.least.least, setback.most.most) == (pytest.approx(0.3, abs=1e-4), pytest.approx(0.5, abs=1e-4))


KERFLESS = """
[varies]
thickness = "0 mm"
[sizes]
kerf = "1.2 mm"
layer = "5 mm"
[stock.plank]
wood = "black cherry"
size = ["100 mm", "40 mm", "60 mm"]
grain = "x"
[tools.saw]
kind = "band saw"
kerf = "{kerf}"
"""


def test_a_build_without_kerf_and_formulas_that_take_it_makes_the_same_pieces(
    design_of: Write, ring: tuple[str, str]
) -> None:
    """One design sawn with a kerf; one with (nearly) none, whose formulas take it off, and a trim that loses it."""
    saw = '# Test\n\n## Saw\n\n```mill\nboards = ["plank"]\n```\n\n```slice\npiece = "plank"\nface = "front"\nthickness = "layer"\nblade = "saw"\nmakes = { skin = "layer", rest = "rest" }\n```\n'
    trim = '\n```trim\npiece = "rest"\nface = "front"\ntake = "kerf"\nblade = "saw"\n```\n'
    real = finish(design_of(KERFLESS.format(kerf="kerf"), saw)).timeline.object
    closed = finish(design_of(KERFLESS.format(kerf="0.0000001 mm"), saw + trim)).timeline.object
    for a, b in zip(real, sorted(closed, key=lambda piece: piece.name != "skin"), strict=True):
        assert a.name == b.name
        assert [*a.solid.bounds[0], *a.solid.bounds[1]] == pytest.approx(
            [*b.solid.bounds[0], *b.solid.bounds[1]], abs=1e-6
        )
