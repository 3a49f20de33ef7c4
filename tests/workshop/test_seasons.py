"""Wood that swells and shrinks through the year, against the coefficients of the Wood Handbook."""

from collections.abc import Callable

import pytest

from planbook.handbook import emc
from planbook.model import Design
from planbook.solids.solid import block, joined
from planbook.workshop import Proof, Setting, Timeline
from planbook.workshop.envelope import prove
from planbook.workshop.fitting import measure_fit
from planbook.workshop.run import finish
from planbook.workshop.seasons import Swelling, held_at

Write = Callable[[str, str], Design]


def proof_of(timeline: Timeline, name: str) -> Proof:
    assert timeline.envelope is not None
    proof = timeline.envelope.proof(name)
    assert proof is not None
    return proof


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


def test_along_the_grain_nothing_moves(design_of: Write, ring: tuple[str, str]) -> None:
    timeline = prove(design_of(PANEL.format(wood="black cherry", grain="y"), PANEL_STEPS))
    assert proof_of(timeline, "has room").least.least == pytest.approx(1, abs=1e-6)


def test_a_wood_without_a_figure_does_not_move_and_is_named(design_of: Write, ring: tuple[str, str]) -> None:
    timeline = prove(design_of(PANEL.format(wood="wenge", grain="x"), PANEL_STEPS))
    assert proof_of(timeline, "has room").least.least == pytest.approx(1, abs=1e-6)
    assert timeline.envelope is not None
    assert timeline.envelope.unmoving == ("wenge",)


def test_each_wood_of_a_glued_piece_swells_by_its_own_coefficient(design_of: Write, ring: tuple[str, str]) -> None:
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
