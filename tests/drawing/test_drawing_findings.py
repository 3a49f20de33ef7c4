"""A stencil too large for any reasonable number of sheets is a finding with a place, and leaves no file behind."""

from pathlib import Path

from planbook.booklet import Edition
from planbook.pipeline import build

DESIGN = """title = "Round table"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock.top]
wood = "birch plywood"
size = ["3000 mm", "18 mm", "3000 mm"]
grain = "x"
[shapes.round]
kind = "circle"
at = ["1500 mm", "1500 mm"]
radius = "1400 mm"
[stencils.round]
face = "front"
title = "Round"
lines = { round = "round" }
"""
STEPS = """## Mill

Mill it.

```mill
boards = ["top"]
```

## Stick

Stick it.

```stick
piece = "top"
stencil = "round"
```
"""


def test_a_huge_stencil_is_a_finding(tmp_path: Path) -> None:
    folder = tmp_path / "round-table"
    folder.mkdir()
    (folder / "design.toml").write_text(DESIGN)
    (folder / "steps.md").write_text(STEPS)
    built = build(folder, Edition("a4", "mm", draft=True), tmp_path / "out")
    (found,) = [f for f in built.findings if f.code == "PRI01"]
    assert found.place.line == DESIGN.split("[stencils.round]")[0].count("\n") + 1
    assert "tiles" in found.headline
    assert built.files == ()
    assert not (tmp_path / "out").exists()
