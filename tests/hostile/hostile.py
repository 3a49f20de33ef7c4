"""Puts a hostile file where the program meets it, and says what the program answers; it judges nothing."""

import shutil
from collections.abc import Callable
from pathlib import Path

from planbook.pipeline import check
from planbook.reader import read_design
from planbook.reader.orders_csv import read_orders
from planbook.reader.rack import read_rack
from planbook.takeoff.prices import read_price_list
from planbook.text import Finding

HERE = Path(__file__).parent
DRAWN = '\n[shapes.odd]\nkind = "drawing"\nfile = "{name}"\n{which} = "x"\n\n[stencils.odd]\ntitle = "Odd"\nface = "top"\nlines = {{ odd = "odd" }}\n'
IDLE = ("SUP01", "FLO10")
"""The small design has a drill, and a stencil where one is asked for, that most cases do not use."""
Answer = tuple[Finding, ...]


def design_with(folder: Path) -> Path:
    """A small design that is sound, in a folder of its own."""
    made = folder / "design"
    shutil.copytree(HERE / "base", made)
    return made


def _design(case: Path, folder: Path) -> Answer:
    made = design_with(folder)
    shutil.copy(case, made / ("design.toml" if case.suffix == ".toml" else "steps.md"))
    return check(made, nominal=True).findings


def _drawing(case: Path, folder: Path) -> Answer:
    made = design_with(folder)
    shutil.copy(case, made / case.name)
    with (made / "design.toml").open("a", encoding="utf-8") as file:
        file.write(DRAWN.format(name=case.name, which="id"))
    return check(made, nominal=True).findings


def _handbook(case: Path, folder: Path) -> Answer:
    made = design_with(folder)
    shutil.copy(case, made / "handbook.toml")
    return read_design(made).findings


READERS: dict[str, Callable[[Path, Path], Answer]] = {
    "toml": _design,
    "steps": _design,
    "svg": _drawing,
    "dxf": _drawing,
    "handbook": _handbook,
    "rack": lambda case, _: tuple(read_rack(case).findings),
    "prices": lambda case, _: tuple(read_price_list(case, ()).findings),
    "orders": lambda case, _: read_orders(case).findings,
}


def answer(case: Path, folder: Path) -> Answer:
    """All findings about a hostile file, which is put into a design below `folder` if it belongs to one."""
    return tuple(finding for finding in READERS[case.parent.name](case, folder) if finding.code not in IDLE)


def cases() -> list[Path]:
    """Every hostile file that one of the readers meets."""
    return sorted(path for name in READERS for path in (HERE / name).iterdir())
