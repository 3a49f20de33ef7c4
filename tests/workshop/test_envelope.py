"""Fits over all that may vary, against closed forms, and against a build at every corner."""

from collections.abc import Callable
from itertools import product
from math import hypot
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.handbook import emc
from planbook.model import Design
from planbook.reader import read_design
from planbook.solids.solid import block, joined
from planbook.workshop import Envelope, Proof, Setting, Timeline
from planbook.workshop.envelope import Prover, prove, variation
from planbook.workshop.fitting import measure_fit
from planbook.workshop.memory import Memory
from planbook.workshop.run import finish
from planbook.workshop.seasons import Swelling, held_at
from planbook.workshop.varying import Variation, thickened

HEAD = 'title = "Test"\nversion = "1"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
SAMPLE = Path(__file__).parents[2] / "designs" / "curlew-box"
Write = Callable[[str, str], Design]


@pytest.fixture
def design_of(tmp_path: Path) -> Write:
    def write(toml: str, steps: str) -> Design:
        (tmp_path / "design.toml").write_text(HEAD + toml, "utf-8")
        (tmp_path / "steps.md").write_text(steps, "utf-8")
        reading = read_design(tmp_path)
        assert reading.findings == (), [finding.headline for finding in reading.findings]
        assert reading.design is not None
        return reading.design

    return write


def proof_of(timeline: Timeline, name: str) -> Proof:
    assert timeline.envelope is not None
    proof = timeline.envelope.proof(name)
    assert proof is not None
    return proof


def envelope_of(timeline: Timeline) -> Envelope:
    assert timeline.envelope is not None
    return timeline.envelope


RING = """
[varies]
thickness = "0 mm"
sanding = "0.1 mm"
humidity = [45, 45]

[stock.plate]
wood = "sugar maple"
size = ["100 mm", "12 mm", "100 mm"]
grain = "x"

[shapes.circle]
kind = "circle"
at = ["50 mm", "50 mm"]
radius = "30 mm"

[shapes.way]
kind = "line"
from = ["50 mm", "-4 mm"]
to = ["50 mm", "20 mm"]

[stencils.plan]
title = "Plan"
face = "front"
lines = { circle = "circle", way = "way" }
regions = { disc = ["50 mm", "50 mm"] }

[tools.saw]
kind = "band saw"
kerf = "1 mm"
kerf_range = ["0.8 mm", "1.4 mm"]

[fits.turns]
kind = "gap"
between = ["disc", "ring"]
least = "0.8 mm"
most = "1.4 mm"
"""
RING_STEPS = """# Test

## Saw

```mill
boards = ["plate"]
```

```stick
piece = "plate"
stencil = "plan"
```

```saw
piece = "plate"
stencil = "plan"
blade = "saw"
lines = ["circle"]
entry = ["way"]
kerf_side = "inside"
makes = { disc = "disc", ring = "outside" }
```
"""


def test_a_disc_sawn_from_a_ring_has_the_kerf_around_it(design_of: Write) -> None:
    """The gap is the kerf, whatever it is; a chord of the circle is at most 0.02 mm off."""
    proof = proof_of(prove(design_of(RING, RING_STEPS)), "turns")
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


def test_kerf_and_sanding_add_up_at_the_worst_corner(design_of: Write) -> None:
    """A block beside what it was sawn from: the gap is the kerf and what is sanded off."""
    timeline = prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), SLOT_STEPS))
    proof = proof_of(timeline, "slides")
    assert timeline.fits[1].least == pytest.approx(3.3, abs=1e-6)
    assert proof.least.least == pytest.approx(2.6 + 0.2, abs=1e-6)
    assert set(proof.least_at) == {Setting("kerf", 2.6, "saw"), Setting("sanding", -0.1)}


def test_a_motion_says_where_and_against_what_it_is_narrowest(design_of: Write) -> None:
    found = prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), SLOT_STEPS)).fits[1]
    assert found.touches == "long"
    assert found.where is not None
    assert found.where[0] == pytest.approx(300.3 - 3.3 / 2, abs=1e-6)
    assert found.stage == "0 %"


def test_the_corner_found_is_the_worst_of_all_corners(design_of: Write) -> None:
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


PANEL = """
[varies]
thickness = "0 mm"
humidity = [25, 65]
temperature = 20
built_at = 45

[stock.panel]
wood = "{wood}"
size = ["60 mm", "200 mm", "10 mm"]
grain = "{grain}"
at = ["0 mm", "1 mm", "0 mm"]

[stock.rail]
wood = "sugar maple"
size = ["60 mm", "20 mm", "10 mm"]
at = ["0 mm", "-20 mm", "0 mm"]
grain = "y"

[fits."has room"]
kind = "gap"
between = ["panel", "rail"]
least = "0.05 mm"
"""
PANEL_STEPS = '# Test\n\n## Mill\n\n```mill\nboards = ["panel", "rail"]\n```\n'


@pytest.mark.parametrize(
    ("wood", "coefficient"),
    [("black cherry", 0.00248), ("sugar maple", 0.00353), ("black walnut", 0.00274), ("red alder", 0.00256)],
)
def test_a_board_swells_through_the_year_as_the_wood_handbook_says(
    design_of: Write, wood: str, coefficient: float
) -> None:
    """Wood Handbook, USDA FPL-GTR-190 (2010), Eq. 13-2 with C_T of Table 13-5: half of the board on each side."""
    proof = proof_of(prove(design_of(PANEL.format(wood=wood, grain="x"), PANEL_STEPS)), "has room")
    damp, dry = (emc(humidity, 20) - emc(0.45, 20) for humidity in (0.65, 0.25))
    assert proof.least.least == pytest.approx(1 - 100 * coefficient * damp, abs=1e-6)
    assert proof.least_at == (Setting("humidity", 65.0),)
    assert proof.most.most == pytest.approx(1 - 100 * coefficient * dry, abs=1e-6)


def test_along_the_grain_nothing_moves(design_of: Write) -> None:
    timeline = prove(design_of(PANEL.format(wood="black cherry", grain="y"), PANEL_STEPS))
    assert proof_of(timeline, "has room").least.least == pytest.approx(1, abs=1e-6)


def test_a_wood_without_a_figure_does_not_move_and_is_named(design_of: Write) -> None:
    timeline = prove(design_of(PANEL.format(wood="wenge", grain="x"), PANEL_STEPS))
    assert proof_of(timeline, "has room").least.least == pytest.approx(1, abs=1e-6)
    assert envelope_of(timeline).unmoving == ("wenge",)


def test_each_wood_of_a_glued_piece_swells_by_its_own_coefficient(design_of: Write) -> None:
    """Two boards side by side, the wider of maple; they grow outwards from the middle of the whole."""
    toml = """
[varies]
thickness = "0 mm"

[stock.a]
wood = "black cherry"
size = ["60 mm", "40 mm", "10 mm"]
grain = "x"

[stock.b]
wood = "sugar maple"
size = ["60 mm", "60 mm", "10 mm"]
at = ["0 mm", "40 mm", "0 mm"]
grain = "x"

[supplies.glue]
kind = "glue"
product = "PVA"

[fits.thick]
kind = "wall"
piece = "panel"
least = "1 mm"
"""
    steps = '# Test\n\n## Glue\n\n```mill\nboards = ["a", "b"]\n```\n\n```glue up\npieces = ["a", "b"]\nglue = "glue"\nmakes = "panel"\n```\n'
    done = finish(design_of(toml, steps))
    (panel,) = done.timeline.object
    grown = Swelling(3.0).of(panel, panel.solid.middle)
    assert grown.extent[0] == pytest.approx(60)
    assert grown.extent[1] == pytest.approx(100 + 3 * (40 * 0.00248 + 60 * 0.00353), abs=1e-6)
    assert grown.bounds[0][1] == pytest.approx(-3 * (40 * 0.00248 + 10 * 0.00353), abs=1e-6)


def test_boards_that_touch_are_pushed_along_when_they_are_thicker() -> None:
    stack = [((0.0, y, 0.0), (100.0, y + 20.0, 50.0)) for y in (0.0, 20.0, 40.0)]
    for by in (0.1, -0.1):
        thick = thickened(stack, by)
        assert [hi[1] - lo[1] for lo, hi in thick] == pytest.approx([20 + by] * 3)
        assert [a[1][1] for a in thick[:-1]] == [b[0][1] for b in thick[1:]]
        assert thick[0][0][1] + thick[-1][1][1] == pytest.approx(60)


def test_a_board_between_two_others_is_not_squeezed() -> None:
    """Two sides and a shelf between them, which stands on a step of its own."""
    left, shelf, right = (
        ((0.0, 0.0, 0.0), (18.0, 200.0, 300.0)),
        ((18.0, 0.0, 100.0), (282.0, 200.0, 118.0)),
        ((282.0, 0.0, 0.0), (300.0, 200.0, 300.0)),
    )
    thick = thickened([left, shelf, right], 0.2)
    assert thick[0][1][0] == thick[1][0][0]
    assert thick[1][1][0] == thick[2][0][0]
    assert thick[1][1][0] - thick[1][0][0] == pytest.approx(264)
    assert thick[1][1][2] - thick[1][0][2] == pytest.approx(18.2)


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


def test_the_narrowest_place_of_a_swing_is_found_between_the_looks(design_of: Write) -> None:
    """A corner on an arc of radius 40 sqrt(2) passes 2 mm under a pin; nearest where it is below the pin's edge."""
    design = design_of(TAPER.format(x=8), '# Test\n\n## Mill\n\n```mill\nboards = ["lid", "pin"]\n```\n')
    found = finish(design).timeline.fits[0]
    assert found.least == pytest.approx(2.0, abs=1e-6)
    assert found.touches == "pin"


def test_a_corner_that_sweeps_past_a_post(design_of: Write) -> None:
    """The far corner of a square lid, 40 sqrt(2) from the axis, passes a post 56.7 mm away."""
    toml = TAPER.format(x=8).replace('at = ["8 mm", "-43.1 mm", "12 mm"]', 'at = ["56.7 mm", "-20 mm", "0 mm"]')
    toml = toml.replace('size = ["10 mm", "4 mm", "10 mm"]', 'size = ["10 mm", "41 mm", "10 mm"]')
    found = finish(design_of(toml, '# Test\n\n## Mill\n\n```mill\nboards = ["lid", "pin"]\n```\n')).timeline.fits[0]
    assert found.least == pytest.approx(56.7 - hypot(40, 40), abs=0.01)


def test_a_lid_is_lifted_out_between_its_neighbours(design_of: Write) -> None:
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


DRAWER = """
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
    text = HEAD + DRAWER.format(kerf=nominal, least=least, most=most)
    (folder / "design.toml").write_text(text, "utf-8")
    (folder / "steps.md").write_text(DRAWER_STEPS, "utf-8")
    design = read_design(folder).design
    assert design is not None
    timeline = prove(design)
    assert timeline.fits[0].least == pytest.approx(nominal, abs=1e-6)
    assert proof_of(timeline, "slides").least.least == pytest.approx(least, abs=1e-6)
    setback = proof_of(timeline, "setback")
    assert (setback.least.least, setback.most.most) == (pytest.approx(0.3, abs=1e-4), pytest.approx(0.5, abs=1e-4))


variations = st.builds(
    Variation,
    st.fixed_dictionaries(
        {}, optional={"narrow blade": st.sampled_from((0.9, 1.1, 1.3)), "resaw blade": st.sampled_from((0.9, 1.3))}
    ),
    st.fixed_dictionaries(
        {}, optional={"sanding": st.sampled_from((-0.1, 0.1)), "thickness": st.sampled_from((-0.1, 0.1))}
    ),
)


@settings(max_examples=5, deadline=None)
@given(st.lists(variations, min_size=1, max_size=3))
def test_what_is_remembered_is_what_would_be_built(varied: list[Variation]) -> None:
    """A build from memory and one without it measure the same, piece by piece and fit by fit."""
    design = read_design(SAMPLE).design
    assert design is not None
    memory = Memory()
    finish(design, None, memory=memory)
    for each in varied:
        remembered, anew = finish(design, None, each, memory).timeline, finish(design, None, each).timeline
        assert [t.kind for t in remembered.troubles] == [t.kind for t in anew.troubles]
        assert [f.least for f in remembered.fits] == pytest.approx([f.least for f in anew.fits], abs=1e-5)
        for a, b in zip(remembered.object, anew.object, strict=True):
            assert a.name == b.name
            assert a.solid.volume == pytest.approx(b.solid.volume, rel=1e-7)
            assert [*a.solid.bounds[0], *a.solid.bounds[1]] == pytest.approx(
                [*b.solid.bounds[0], *b.solid.bounds[1]], abs=1e-5
            )


def test_the_same_build_again_does_nothing_anew() -> None:
    design = read_design(SAMPLE).design
    assert design is not None
    memory = Memory()
    first = finish(design, None, memory=memory).timeline
    memory.recalled = 0
    again = finish(design, None, memory=memory).timeline
    assert memory.recalled >= len(design.operations)
    assert all(a is b for a, b in zip(first.object, again.object, strict=True))


def test_a_fit_on_the_same_solids_is_not_measured_again(design_of: Write) -> None:
    design = design_of(RING, RING_STEPS)
    memory = Memory()
    done = finish(design, None, memory=memory)
    fit = design.fits["turns"]
    assert measure_fit(fit, done.shop, Swelling(0.0), memory) is measure_fit(fit, done.shop, Swelling(0.0), memory)


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


def test_a_build_without_kerf_and_formulas_that_take_it_makes_the_same_pieces(design_of: Write) -> None:
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


def test_a_size_is_written_from_the_kerf_of_the_readers_own_blade(design_of: Write) -> None:
    toml = SLOT.format(grain="x", humidity="[45, 45]")
    steps = SLOT_STEPS.replace('thickness = "100 mm"', "thickness = \"2 * kerf of 'saw' + 10 mm\"")
    design = design_of(toml, steps)
    for kerf in (2.6, 3.2):
        done = finish(design, None, variation((Setting("kerf", kerf, "saw"),))).timeline
        assert done.pieces["short"].solid.extent[0] == pytest.approx(2 * kerf + 10 - 0.3, abs=1e-6)


def test_a_break_names_the_corner(design_of: Write) -> None:
    steps = SLOT_STEPS.replace('thickness = "100 mm"', 'thickness = "396.9 mm"')
    envelope = envelope_of(prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), steps)))
    assert [(each.corner, each.trouble.kind) for each in envelope.breaks] == [
        ((Setting("kerf", 3.2, "saw"),), "cut-misses")
    ]


def test_a_broken_design_has_no_envelope(design_of: Write) -> None:
    steps = SLOT_STEPS.replace('piece = "short"\nfaces', 'piece = "shrot"\nfaces')
    assert prove(design_of(SLOT.format(grain="x", humidity="[45, 45]"), steps)).envelope is None


def test_a_board_that_may_be_as_thin_as_nothing_is_a_break(design_of: Write) -> None:
    toml = SLOT.format(grain="x", humidity="[45, 45]").replace('thickness = "0 mm"', 'thickness = "25 mm"')
    envelope = envelope_of(prove(design_of(toml, SLOT_STEPS)))
    assert [(each.corner, each.trouble.kind) for each in envelope.breaks] == [
        ((Setting("thickness", -25.0),), "not-positive")
    ]


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


def test_a_tongue_is_measured_in_its_slot_just_before_it_is_glued(design_of: Write) -> None:
    """A tongue of 9.4 mm in the middle of a slot of 10 mm has 0.3 mm on each side."""
    timeline = prove(design_of(TONGUE.format(other="slotted"), TONGUE_STEPS))
    (found,) = timeline.fits
    assert found.least == pytest.approx(0.3, abs=1e-6)
    assert found.most == pytest.approx(0.3, abs=1e-6)
    assert found.before is not None
    assert found.before.place.line == timeline.design.operations[-1].place.line
    assert proof_of(timeline, "play").least.least == pytest.approx(0.3, abs=1e-6)


def test_pieces_that_never_lie_on_the_bench_together_cannot_be_measured(design_of: Write) -> None:
    timeline = finish(design_of(TONGUE.format(other="joint"), TONGUE_STEPS)).timeline
    assert timeline.fits == ()
    assert [trouble.kind for trouble in timeline.troubles] == ["piece-already-used"]


def test_a_piece_that_holds_another_takes_it_along_through_the_year() -> None:
    """A tab far from the middle of its piece stays where it is in its hollow; a panel grows into an open groove."""
    plate = block((0, 0, 0), (100, 100, 10))
    hollow = plate.minus(block((90, 40, -1), (101, 60, 11))).minus(block((80, 35, -1), (90, 65, 11)))
    tab = block((81, 36, 0), (89, 64, 10))
    neck = joined([tab, block((89, 41, 0), (140, 59, 10))])
    assert held_at(neck, hollow) == pytest.approx((90.5, 50, 5))
    groove = plate.minus(block((90, 40, -1), (101, 60, 11)))
    tongue = block((91, 41, 0), (140, 59, 10))
    assert held_at(tongue, groove) == pytest.approx((115.5, 50, 5))


LAYERS = """
[varies]
thickness = "0 mm"

[stock.low]
wood = "black walnut"
size = ["204 mm", "120 mm", "70 mm"]
grain = "x"

[stock.vein]
wood = "hard maple"
size = ["204 mm", "120 mm", "10 mm"]
at = ["0 mm", "0 mm", "70 mm"]
grain = "x"

[stock.high]
wood = "black walnut"
size = ["204 mm", "120 mm", "124 mm"]
at = ["0 mm", "0 mm", "80 mm"]
grain = "x"

[shapes.round]
kind = "circle"
at = ["102 mm", "102 mm"]
radius = "100 mm"

[shapes.way]
kind = "line"
from = ["102 mm", "-4 mm"]
to = ["102 mm", "4 mm"]

[stencils.round]
title = "Round"
face = "front"
lines = { round = "round", way = "way" }

[tools.saw]
kind = "band saw"
kerf = "1 mm"

[supplies.glue]
kind = "glue"
product = "PVA"

[fits.thick]
kind = "wall"
piece = "disc"
least = "1 mm"
"""
LAYERED = """# Test

## Glue and saw

```mill
boards = ["low", "vein", "high"]
```

```glue up
pieces = ["low", "vein", "high"]
along = "z"
glue = "glue"
makes = "block"
```

```wait
dry = ["block"]
```

```stick
piece = "block"
stencil = "round"
```

```saw
piece = "block"
stencil = "round"
blade = "saw"
lines = ["round"]
entry = ["way"]
makes = { disc = "inside", frame = "outside" }
```
"""


@pytest.mark.parametrize(("points", "coefficient"), [(-3.0, 0.00353), (0.0, 0.0), (3.0, 0.00274)])
def test_the_wall_of_a_lamination_moves_as_its_woods_do(design_of: Write, points: float, coefficient: float) -> None:
    """A disc 120 mm thick: thinnest in the maple vein when it shrinks, in the walnut when it swells.

    The changes for each point of moisture are those of the Wood Handbook 2010, Table 13-5.
    """
    design = design_of(LAYERS, LAYERED)
    found = measure_fit(design.fits["thick"], finish(design).shop, Swelling(points))
    assert found.least == pytest.approx(120 * (1 + coefficient * points), abs=0.01)
