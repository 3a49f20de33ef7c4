"""What a rounding may take of the lengths that make a fit: a tongue in the groove of a base, built from its text."""

from fractions import Fraction
from pathlib import Path

import pytest

from planbook.reader import read_design
from planbook.takeoff import (
    diameters_of,
    leeways_of,
    metric_sheets,
    places_set,
    prints_of,
    repeats_of,
    rows_of,
    sides_of,
    thicknesses,
)
from planbook.workshop import Timeline
from planbook.workshop.run import build

DESIGN = """
title = "Whimbrel stand"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"

[sizes]
play = "0.5 mm"

[stock.base]
wood = "sugar maple"
size = ["200 mm", "80 mm", "30 mm"]
at = ["0 mm", "0 mm", "0 mm"]
grain = "x"

[stock.tongue]
wood = "birch plywood"
size = ["200 mm", "18 mm", "60 mm"]
at = ["0 mm", "31 mm", "20 mm"]
grain = "x"

[tools.cutter]
kind = "router"
diameter = "10 mm"

[tools.drill]
kind = "drill"
diameter = "10 mm"

[fits."tongue in its groove"]
kind = "gap"
between = ["tongue", "base"]
along = "ALONG"
least = "0.2 mm"
most = "0.3 mm"
"""
STEPS = """
## Bring the boards

Plane them.

```mill
boards = ["base", "tongue"]
```

## Rout the groove

Rout it in the middle.

```groove
piece = "base"
face = "top"
edge = "front"
at = "30.75 mm"
width = "18 mm + play"
depth = "10 mm"
tool = "cutter"
```
"""


def built(folder: Path, along: str, more: str = "", also: str = "") -> Timeline:
    (folder / "design.toml").write_text(DESIGN.replace("ALONG", along) + also)
    (folder / "steps.md").write_text(STEPS + more)
    design = read_design(folder).design
    assert design is not None
    timeline = build(design)
    assert timeline.troubles == ()
    return timeline


def test_the_place_and_the_width_of_a_groove_and_its_far_side_may_be_off_by_what_the_fit_leaves(tmp_path: Path) -> None:
    """By hand: a gap of 0.25 mm on each side is asked to be 0.2 to 0.3 mm; the depth has nothing to do with it."""
    ((lengths, left),) = leeways_of(built(tmp_path, "y"))
    assert lengths == (Fraction("30.75"), Fraction("18.5"), Fraction("49.25"))
    assert float(left) == pytest.approx(0.05, abs=1e-5)


def test_a_fit_that_is_not_as_it_is_asked_to_be_asks_for_nothing(tmp_path: Path) -> None:
    """Along z the tongue stands on the floor of the groove."""
    assert leeways_of(built(tmp_path, "z")) == ()


TRIMMED = """
## Bring the boards

Plane them.

```mill
boards = ["wall", "shelf"]
```

## Trim the shelf

Saw it to length.

```trim
piece = "shelf"
face = "right"
to = "95 mm"
blade = "saw"
```
"""


def test_the_length_of_a_piece_may_be_off_by_what_the_fit_at_its_other_end_leaves(tmp_path: Path) -> None:
    """A gap of 0.3 mm, asked to be 0.1 mm or more: 3 3/4 in (95.25 mm) for 95 mm would leave too little."""
    head, _ = DESIGN.split("[stock.base]")
    stock = """[stock.wall]
wood = "sugar maple"
size = ["20 mm", "60 mm", "60 mm"]
at = ["-20 mm", "0 mm", "0 mm"]
grain = "z"

[stock.shelf]
wood = "sugar maple"
size = ["110 mm", "60 mm", "20 mm"]
at = ["0.3 mm", "0 mm", "20 mm"]
grain = "x"

[tools.saw]
kind = "band saw"
kerf = "1 mm"

[fits."shelf at the wall"]
kind = "gap"
between = ["shelf", "wall"]
along = "x"
least = "0.1 mm"
"""
    (tmp_path / "design.toml").write_text(head + stock)
    (tmp_path / "steps.md").write_text(TRIMMED)
    design = read_design(tmp_path).design
    assert design is not None
    timeline = build(design)
    assert timeline.troubles == ()
    ((lengths, left),) = leeways_of(timeline)
    assert lengths == (Fraction(95),)
    assert float(left) == pytest.approx(0.2, abs=1e-5)


def test_a_sheet_that_is_no_fraction_of_an_inch_is_sold_by_the_millimetre(tmp_path: Path) -> None:
    assert metric_sheets(built(tmp_path, "y")) == (Fraction(18),)


def test_a_fit_has_two_sides_and_what_it_leaves(tmp_path: Path) -> None:
    ((first, second, left),) = sides_of(built(tmp_path, "y"))
    assert (first, second) == (("tongue",), ("base",))
    assert float(left) == pytest.approx(0.05, abs=1e-5)


ROW = """
## Bore the row

Bore four holes.

```bore
piece = "base"
face = "front"
at = [["20 mm", "10 mm"]]
depth = "15 mm"
repeat = { count = 4, by = ["32.1 mm", "0 mm"] }
drill = "drill"
```
"""


def test_the_last_place_of_a_row_may_be_off_by_half_of_a_sixty_fourth_of_an_inch(tmp_path: Path) -> None:
    """By hand: three times what each is further by; 1/128 in is 0.198 mm."""
    timeline = built(tmp_path, "y", ROW)
    assert repeats_of(timeline) == (((Fraction("32.1"),), Fraction("25.4") / 128 / 3),)
    assert repeats_of(built(tmp_path, "y")) == ()


def test_the_places_of_a_row_come_one_from_the_other(tmp_path: Path) -> None:
    """By hand: 20 mm and 32.1 mm three times; a row that goes back counts down."""
    by = Fraction("32.1")
    ahead, back = ROW, ROW.replace('"20 mm", "10', '"116.3 mm", "10').replace('by = ["', 'by = ["-')
    for row in (ahead, back):
        chains = rows_of(built(tmp_path, "y", row))
        assert {chain.total for chain in chains} == {20 + by * k for k in (1, 2, 3)}
        assert all(sum(chain.parts) == chain.total and by in chain.parts for chain in chains)
    assert rows_of(built(tmp_path, "y")) == ()


def test_points_in_line_that_stand_equally_far_apart_are_a_row(tmp_path: Path) -> None:
    """By hand: 20, 52.1 and 84.2 mm at one height; of places that stand unevenly there is none."""
    listed = ROW.replace('[["20 mm", "10 mm"]]', '[["84.2 mm", "10 mm"], ["20 mm", "10 mm"], ["52.1 mm", "10 mm"]]')
    listed = "\n".join(line for line in listed.splitlines() if not line.startswith("repeat"))
    timeline = built(tmp_path, "y", listed)
    assert repeats_of(timeline) == (((Fraction("32.1"),), Fraction("25.4") / 128 / 2),)
    assert [chain.total for chain in rows_of(timeline)] == [Fraction("52.1"), Fraction("84.2")]
    assert {Fraction("84.2"), Fraction(10)} <= places_set(timeline)
    assert rows_of(built(tmp_path, "y", listed.replace("52.1", "50"))) == ()


def test_bits_and_what_they_bore_are_known_by_their_diameters(tmp_path: Path) -> None:
    assert diameters_of(built(tmp_path, "y", ROW)) == {Fraction(10)}
    assert thicknesses(built(tmp_path, "y")) == (Fraction(18), Fraction(30))


SHEET = """
[shapes.mark]
kind = "circle"
at = ["100 mm", "15 mm"]
radius = "5 mm"

[stencils.front]
title = "Front"
face = "front"
lines = { mark = "mark" }
"""
ON_AND_OFF = """
## Stick on

It is {play} wide; the {tongue} waits.

```stick
piece = "base"
stencil = "front"
```

## Peel

Take it off.

```peel
piece = "base"
stencil = "front"
```
"""


def test_what_a_print_is_measured_by_may_be_off_by_half_of_a_sixty_fourth_of_an_inch(tmp_path: Path) -> None:
    assert prints_of(built(tmp_path, "y", ON_AND_OFF, SHEET)) == (((Fraction("0.5"),), Fraction("25.4") / 128),)
    assert prints_of(built(tmp_path, "y")) == ()
