"""A handbook as one design sees it: the built-in tables with the maker's own rows laid over them; no global state."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, TypeVar, cast

from planbook.handbook.loader import Table, laid_over
from planbook.handbook.lookup import table
from planbook.handbook.records import (
    Abrasive,
    Blade,
    Finish,
    Glue,
    Lining,
    LumberSize,
    Rate,
    Row,
    SheetSize,
    Wood,
)

R = TypeVar("R", bound=Row)


@dataclass(frozen=True)
class Handbook:
    """The tables, with rows of the maker's own that come before built-in rows of the same name.

    It is a value: two designs in one process see their own rows and no others.
    """

    own: tuple[Row, ...] = ()

    @cached_property
    def _tables(self) -> Mapping[type[Row], Table[Any]]:
        """The tables that have rows of their own."""
        kinds = dict.fromkeys(type(row) for row in self.own)
        return {kind: laid_over(table(kind), [row for row in self.own if type(row) is kind]) for kind in kinds}

    def table(self, cls: type[R]) -> Table[R]:
        """The table of a record."""
        return cast("Table[R]", self._tables[cls]) if cls in self._tables else table(cls)

    def rows(self, cls: type[R]) -> Mapping[str, R]:
        """All rows of a record by name."""
        return self.table(cls).rows

    def names(self, cls: type[Row]) -> tuple[str, ...]:
        """Every name and alias of a table, sorted, for suggesting a near one."""
        rows: Iterable[Row] = self.rows(cls).values()
        return tuple(sorted({name for row in rows for name in (row.name, *row.aliases)}))

    def wood(self, name: str) -> Wood | None:
        """The wood or sheet material of that name or alias, or None."""
        return self.table(Wood).find(name)

    def glue(self, name: str) -> Glue | None:
        """The glue of that name or alias, or None."""
        return self.table(Glue).find(name)

    def finish(self, name: str) -> Finish | None:
        """The finish of that name or alias, or None."""
        return self.table(Finish).find(name)

    def lining(self, name: str) -> Lining | None:
        """The lining material of that name or alias, or None."""
        return self.table(Lining).find(name)

    def blade(self, name: str) -> Blade | None:
        """The kind of blade of that name or alias, or None."""
        return self.table(Blade).find(name)

    def abrasive(self, name: str) -> Abrasive | None:
        """The abrasive of that grit, written `P120` or `120`, or None."""
        return self.table(Abrasive).find(name)

    def rate(self, operation: str) -> Rate | None:
        """The hands-on time of that operation, or None."""
        return self.table(Rate).find(operation)

    def lumber_size(self, name: str) -> LumberSize | None:
        """The lumber size of that name, such as `4/4`, or None."""
        return self.table(LumberSize).find(name)

    def sheet_size(self, name: str) -> SheetSize | None:
        """The sheet size of that name, such as `4 x 8 ft`, or None."""
        return self.table(SheetSize).find(name)


BUILT_IN = Handbook()
"""The tables that come with the program, and nothing else."""
