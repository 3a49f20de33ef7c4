"""The sums in what steps make: a block that is sliced twice, sanded and glued again, built from its text."""

from fractions import Fraction
from pathlib import Path

from planbook.reader import read_design
from planbook.takeoff import stages_of
from planbook.workshop.run import build

DESIGN = """
title = "Whimbrel block"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"

[stock.block]
wood = "sugar maple"
size = ["200 mm", "80 mm", "30 mm"]
at = ["0 mm", "0 mm", "0 mm"]
grain = "x"

[tools.blade]
kind = "band saw"
kerf = "1.1 mm"

[tools.board]
kind = "hand sanding"

[supplies."wood glue"]
kind = "glue"
product = "PVA"
"""
STEPS = """
## Bring the block

Plane it.

```mill
boards = ["block"]
```

## Slice it

Saw a layer off the front, and one off the back.

```slice
piece = "block"
face = "front"
thickness = "9 mm"
blade = "blade"
makes = { front = "layer", rest = "rest" }
```

```slice
piece = "rest"
face = "back"
thickness = "8 mm"
blade = "blade"
makes = { back = "layer", middle = "rest" }
```

## Glue it

Glue the three together.

```glue
pieces = ["front", "middle", "back"]
along = "y"
glue = "wood glue"
makes = "box"
```

```wait
dry = ["box"]
```

## Sand it

Sand the front and the back, then trim the right end.

```sand face
piece = "box"
faces = ["front", "back"]
take = "0.3 mm"
tool = "board"
```

```trim
piece = "box"
face = "right"
to = "190 mm"
blade = "blade"
```
"""


def test_layers_kerfs_and_what_is_taken_off_come_to_what_was_there(tmp_path: Path) -> None:
    """By hand: 80 = 9 + 1.1 + 69.9 and 69.9 = 60.8 + 1.1 + 8; 9 + 60.8 + 8 = 77.8 = 77.2 + 2 x 0.3."""
    (tmp_path / "design.toml").write_text(DESIGN, encoding="utf-8")
    (tmp_path / "steps.md").write_text(STEPS, encoding="utf-8")
    design = read_design(tmp_path).design
    assert design is not None
    found = {(tuple(sorted(chain.parts)), chain.total) for chain in stages_of(build(design))}
    wanted = [
        (["1.1", "9", "69.9"], "80"),
        (["1.1", "8", "60.8"], "69.9"),
        (["1.1", "1.1", "8", "9", "60.8"], "80"),
        (["8", "9", "60.8"], "77.8"),
        (["0.6", "77.2"], "77.8"),
        (["10", "190"], "200"),
    ]
    assert found == {(tuple(map(Fraction, parts)), Fraction(total)) for parts, total in wanted}
