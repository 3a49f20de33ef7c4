"""A design with its own wood and glue: its weights, waits, tints and sources are those of its own rows."""

from pathlib import Path

import pytest

from planbook.booklet import Edition
from planbook.pipeline import check, compose_book

DESIGN = """title = "Whimbrel block"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock.one]
wood = "bog oak"
size = ["200 mm", "50 mm", "100 mm"]
grain = "x"
[stock.two]
wood = "bog oak"
size = ["200 mm", "50 mm", "100 mm"]
at = ["0 mm", "50 mm", "0 mm"]
grain = "x"
[supplies.glue]
kind = "glue"
product = "fish glue"
"""
STEPS = """## Mill

Bring both to size.

```mill
boards = ["one", "two"]
```

## Glue

Glue them face to face.

```glue up
pieces = ["one", "two"]
glue = "glue"
makes = "block"
```

## Wait

Let it dry.

```wait
dry = ["block"]
```

## Show it

Put it on the shelf.

```assemble
pieces = ["block"]
```
"""
ROWS = """[wood."bog oak"]
source = "three boards weighed at the creek"
group = "hardwood"
density = 690
tint = "#112233"
[glue."fish glue"]
source = "the label of the bottle"
kind = "hide"
open = "1 h"
clamp = "5 h"
cure = "1 d 12 h"
spread = 180
"""


@pytest.fixture
def printed(tmp_path: Path) -> str:
    """The booklet as HTML."""
    (tmp_path / "design.toml").write_text(DESIGN)
    (tmp_path / "steps.md").write_text(STEPS)
    (tmp_path / "handbook.toml").write_text(ROWS)
    checked = check(tmp_path)
    assert checked.findings == ()
    assert checked.timeline is not None
    return compose_book(checked.timeline, Edition("a4", "mm"))


def test_its_own_figures_and_sources_are_printed(printed: str) -> None:
    # 2 litres of 690 kg/m3.
    assert "1.38 kg" in printed
    # Five hours in the clamps, then what is left of the 36 hours until it may be worked.
    assert "5\N{NO-BREAK SPACE}h" in printed
    assert "1 day 7\N{NO-BREAK SPACE}h" in printed
    assert "three boards weighed at the creek" in printed
    assert "the label of the bottle" in printed


def test_its_own_tint_colours_the_pictures(printed: str, tmp_path: Path) -> None:
    (tmp_path / "handbook.toml").write_text(ROWS.replace('tint = "#112233"\n', 'tint = "#eedd11"\n'))
    timeline = check(tmp_path).timeline
    assert timeline is not None
    # Nothing else of it is printed, so that all that differs is in the pictures.
    assert compose_book(timeline, Edition("a4", "mm")) != printed
