"""Curved parts without bending: a blank of thin layers, glued up along any axis and sawn to a curve."""

import math
from pathlib import Path

import pytest

from planbook.reader import read_design
from planbook.workshop import Timeline
from planbook.workshop.pieces import member_solids
from planbook.workshop.run import build

CARD = 'title = "Bow"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
SIDES = {"x": 0, "y": 1, "z": 2}
VIEW = {"x": "front", "y": "top", "z": "front"}
"""A face from which the layers are seen on edge, so that the curve goes through all of them."""


def laminated(folder: Path, along: str, layers: int = 6, thick: int = 3) -> Timeline:
    """`layers` boards of 120 x 120 mm and `thick` mm, stacked along an axis, sawn to a ring seen on edge or flat."""
    size = ["120 mm"] * 3
    size[SIDES[along]] = f"{thick} mm"
    step = ["0 mm"] * 3
    step[SIDES[along]] = f"{thick} mm"
    grain = "y" if along == "x" else "x"
    (folder / "design.toml").write_text(
        CARD
        + f'[stock.layer]\nwood = "white ash"\nsize = {size}\ngrain = "{grain}"\ncount = {layers}\nstep = {step}\n'
        + '[shapes.bow]\nkind = "arc band"\nmiddle = ["60 mm", "-20 mm"]\ninner = "26 mm"\nouter = "32 mm"\n'
        + 'start = "20 deg"\nend = "160 deg"\n'
        + f'[stencils.bow]\ntitle = "Bow"\nface = "{VIEW[along]}"\norigin = "world"\nlines = {{ bow = "bow" }}\n'
        + '[tools.saw]\nkind = "scroll saw"\nkerf = "1 mm"\n[supplies.glue]\nkind = "glue"\nproduct = "PVA"\n'
    )
    (folder / "steps.md").write_text(
        '## Mill\n\nDo it.\n\n```mill\nboards = ["layer *"]\n```\n\n## Glue\n\nDo it.\n\n'
        f'```glue up\npieces = ["layer *"]\nglue = "glue"\nalong = "{along}"\nmakes = "blank"\n```\n\n'
        '```wait\ndry = ["blank"]\n```\n'
    )
    reading = read_design(folder)
    assert reading.design is not None, reading.findings
    return build(reading.design)


@pytest.mark.parametrize("along", ["x", "y", "z"])
def test_layers_are_glued_up_along_any_axis(tmp_path: Path, along: str) -> None:
    timeline = laminated(tmp_path, along)
    assert timeline.troubles == ()
    blank = timeline.events[-1].bench["blank"]
    assert blank.solid.volume == pytest.approx(120 * 120 * 18, rel=1e-6)
    assert [member.stock for member, _ in member_solids(blank)] == [f"layer {n}" for n in range(1, 7)]
    glue = next(use for event in timeline.events for use in event.uses if use.kind == "glue")
    assert glue.amount == pytest.approx(5 * 0.12 * 0.12, rel=1e-6)


def test_a_curve_sawn_from_stacked_layers_keeps_every_layer(tmp_path: Path) -> None:
    laminated(tmp_path, "z")
    text = (tmp_path / "design.toml").read_text()
    text = text.replace('middle = ["60 mm", "-20 mm"]', 'middle = ["60 mm", "-40 mm"]')
    text = text.replace('inner = "26 mm"', 'inner = "44 mm"').replace('outer = "32 mm"', 'outer = "54 mm"')
    text = text.replace('start = "20 deg"', 'start = "60 deg"').replace('end = "160 deg"', 'end = "120 deg"')
    (tmp_path / "design.toml").write_text(text)
    steps = (tmp_path / "steps.md").read_text()
    steps += (
        '\n## Saw\n\nDo it.\n\n```stick\npiece = "blank"\nstencil = "bow"\n```\n\n'
        '```saw\npiece = "blank"\nstencil = "bow"\nblade = "saw"\nmakes = { bow = "inside", waste = "outside" }\n```\n'
    )
    (tmp_path / "steps.md").write_text(steps)
    reading = read_design(tmp_path)
    assert reading.design is not None
    timeline = build(reading.design)
    assert timeline.troubles == ()
    bow = timeline.events[-1].bench["bow"]
    woods = {member.stock: solid.volume for member, solid in member_solids(bow)}
    assert sum(woods.values()) == pytest.approx(bow.solid.volume, rel=1e-6)
    # The band lies between two arcs about a point 40 mm below the blank: layer by layer it is found by integration.
    for layer, volume in woods.items():
        low = 3 * (int(layer[-1]) - 1)
        assert volume == pytest.approx(_band(low, low + 3) * 120, rel=0.02)


def _band(low: float, high: float, inner: float = 44, outer: float = 54, down: float = 40) -> float:
    """The area (mm2) of the sixth part of a ring between two levels, by thin strips."""
    strips, total = 3000, 0.0
    for k in range(strips):
        level = low + (high - low) * (k + 0.5) / strips + down
        half = math.sqrt(max(0.0, outer**2 - level**2)) - math.sqrt(max(0.0, inner**2 - level**2))
        reach = level * math.tan(math.radians(30))
        inside = math.sqrt(max(0.0, inner**2 - level**2))
        half = max(0.0, min(reach, inside + half) - inside)
        total += 2 * half * (high - low) / strips
    return total
