"""How to saw parts from bars, boards and sheets: a layout, its cuts and its proved bound (no drawing)."""

from planbook.takeoff.layout.records import (
    Code,
    Cut,
    Defect,
    Kind,
    Layout,
    Offcut,
    Part,
    Placement,
    Problem,
    Sheet,
    Stock,
    Trouble,
)
from planbook.takeoff.layout.solve import Group, solve, split

__all__ = [
    "Code",
    "Cut",
    "Defect",
    "Group",
    "Kind",
    "Layout",
    "Offcut",
    "Part",
    "Placement",
    "Problem",
    "Sheet",
    "Stock",
    "Trouble",
    "solve",
    "split",
]
