"""Looking things up in the handbook: one pair of functions per table, and the names each table answers to."""

from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar, cast

from planbook.handbook.loader import Table, rows_of, table_of
from planbook.handbook.records import (
    Abrasive,
    Blade,
    BoardSize,
    Cutting,
    Finish,
    Glue,
    Limit,
    Lining,
    LumberSize,
    Package,
    Paper,
    Rate,
    Row,
    SheetSize,
    Wood,
)

R = TypeVar("R", bound=Row)

_FILES: Mapping[type[Row], str] = {
    Wood: "woods.toml",
    Blade: "blades.toml",
    Glue: "glues.toml",
    Finish: "finishes.toml",
    Abrasive: "abrasives.toml",
    Paper: "papers.toml",
    Lining: "linings.toml",
    Rate: "rates.toml",
    LumberSize: "lumber.toml",
    SheetSize: "sheets.toml",
    Limit: "limits.toml",
    BoardSize: "boards.toml",
    Cutting: "cutting.toml",
    Package: "packages.toml",
}

RECORDS: tuple[type[Row], ...] = tuple(_FILES)
"""The record of every table that `names` can be asked about."""


@cache
def _load(cls: Any) -> Any:
    # The cache cannot carry the type of the rows; `table` puts it back.
    return table_of(rows_of(cls, _FILES[cls]))


def table(cls: type[R]) -> Table[R]:
    """The table of a record, read from its file when first asked for."""
    return cast("Table[R]", _load(cast(Any, cls)))


def names(cls: type[Row]) -> tuple[str, ...]:
    """Every name and alias of a table, sorted, for suggesting a near one: `names(Wood)`."""
    rows = table(cls).rows.values()
    return tuple(sorted(name for row in rows for name in (row.name, *row.aliases)))


def wood(name: str) -> Wood | None:
    """The wood or sheet material of that name or alias, or None."""
    return table(Wood).find(name)


def woods() -> Mapping[str, Wood]:
    """All woods and sheet materials by name."""
    return table(Wood).rows


def blade(name: str) -> Blade | None:
    """The kind of blade of that name or alias, or None."""
    return table(Blade).find(name)


def blades() -> Mapping[str, Blade]:
    """All kinds of blade by name."""
    return table(Blade).rows


def glue(name: str) -> Glue | None:
    """The glue of that name or alias, or None."""
    return table(Glue).find(name)


def glues() -> Mapping[str, Glue]:
    """All glues by name."""
    return table(Glue).rows


def finish(name: str) -> Finish | None:
    """The finish of that name or alias, or None."""
    return table(Finish).find(name)


def finishes() -> Mapping[str, Finish]:
    """All finishes by name."""
    return table(Finish).rows


def abrasive(name: str) -> Abrasive | None:
    """The abrasive of that grit, written `P120` or `120`, or None."""
    return table(Abrasive).find(name)


def abrasives() -> Mapping[str, Abrasive]:
    """All abrasives by name, coarse to fine."""
    return table(Abrasive).rows


def paper(name: str) -> Paper | None:
    """The paper size of that name or alias, or None."""
    return table(Paper).find(name)


def papers() -> Mapping[str, Paper]:
    """All paper sizes by name."""
    return table(Paper).rows


def lining(name: str) -> Lining | None:
    """The lining material of that name or alias, or None."""
    return table(Lining).find(name)


def linings() -> Mapping[str, Lining]:
    """All lining materials by name."""
    return table(Lining).rows


def rate(operation: str) -> Rate | None:
    """The hands-on time of that operation, or None."""
    return table(Rate).find(operation)


def rates() -> Mapping[str, Rate]:
    """All hands-on times by the name of the operation."""
    return table(Rate).rows


def lumber_size(name: str) -> LumberSize | None:
    """The lumber size of that name, such as `4/4`, `2 thick` or `6 wide`, or None."""
    return table(LumberSize).find(name)


def lumber_sizes() -> Mapping[str, LumberSize]:
    """All nominal and dressed lumber sizes by name."""
    return table(LumberSize).rows


def sheet_size(name: str) -> SheetSize | None:
    """The sheet size of that name, such as `4 x 8 ft`, or None."""
    return table(SheetSize).find(name)


def sheet_sizes() -> Mapping[str, SheetSize]:
    """All common sheet sizes by name."""
    return table(SheetSize).rows


def limit(name: str) -> float:
    """The value of a limit of the handbook, in millimetres or as a plain number; KeyError where there is none."""
    return table(Limit).rows[name].value


def limits() -> Mapping[str, Limit]:
    """All limits that the review goes by, by name."""
    return table(Limit).rows


def board_sizes() -> Mapping[str, BoardSize]:
    """All widths, lengths and metric thicknesses in which boards are sold, by name."""
    return table(BoardSize).rows


def cutting(stock: str, system: str) -> Cutting:
    """What is allowed for when `lumber`, a `bar` or a `sheet` is cut up, in `in` or `mm`. Raises KeyError."""
    rows = table(Cutting).rows.values()
    found = next((row for row in rows if (row.stock, row.system) == (stock, system)), None)
    if found is None:
        raise KeyError(f"{stock} in {system}")
    return found


def cuttings() -> Mapping[str, Cutting]:
    """All allowances for cutting, by name."""
    return table(Cutting).rows


def packages() -> Mapping[str, Package]:
    """All amounts in which supplies are sold, by name."""
    return table(Package).rows
