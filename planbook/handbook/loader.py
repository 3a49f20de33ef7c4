"""Reads the tables of the handbook from the data files of the package, once, when first asked for."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from fractions import Fraction
from functools import cache
from types import MappingProxyType
from typing import Any, Generic, TypeVar, get_args

from planbook.handbook.records import Row

R = TypeVar("R", bound=Row)


def plain(name: str) -> str:
    """A name as it is compared: lower case, hyphens and underscores as blanks, single blanks."""
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").split())


@dataclass(frozen=True, slots=True)
class Table(Generic[R]):
    """Rows in the order of their file, found by name or by any of their other names."""

    rows: Mapping[str, R]
    index: Mapping[str, str]

    def find(self, name: str) -> R | None:
        """The row of that name or alias, in any case, with hyphens or blanks; None when there is none."""
        key = self.index.get(plain(name))
        return None if key is None else self.rows[key]


def table_of(rows: Iterable[R]) -> Table[R]:
    """A table of rows; raises ValueError when two rows answer to the same name."""
    by_name: dict[str, R] = {}
    index: dict[str, str] = {}
    for row in rows:
        by_name[row.name] = row
        for name in (row.name, *row.aliases):
            if plain(name) in index:
                raise ValueError(f"two rows are called '{name}'")
            index[plain(name)] = row.name
    return Table(MappingProxyType(by_name), MappingProxyType(index))


def laid_over(below: Table[R], own: Iterable[R]) -> Table[R]:
    """A table with rows laid over it; a row takes the place of any that has its name, and that one's other names."""
    above = table_of(own)
    rows = {name: row for name, row in below.rows.items() if above.index.get(plain(name)) is None}
    kept = {alias: name if name in rows else above.index[plain(name)] for alias, name in below.index.items()}
    return Table(MappingProxyType({**rows, **above.rows}), MappingProxyType({**kept, **above.index}))


def rows_of(cls: type[R], file: str) -> tuple[R, ...]:
    """The rows of a data file as records; every `[[row]]` must fit the record."""
    kinds = {field.name: field.type for field in fields(cls)}
    return tuple(cls(**{key: _value(value, kinds[key]) for key, value in row.items()}) for row in _raw(file))


def _value(value: Any, kind: Any) -> Any:
    """A TOML value as the field wants it: lengths are written as strings so that they stay exact."""
    kinds = (kind, *get_args(kind))
    if Fraction in kinds:
        return Fraction(value)
    if float in kinds:
        return float(value)
    return tuple(value) if isinstance(value, list) else value


@cache
def _raw(file: str) -> tuple[dict[str, Any], ...]:
    """The rows of a file as plain dictionaries; what stands at the head of a file goes for all its rows."""
    import tomllib
    from importlib import resources

    data = tomllib.loads(resources.files("planbook.handbook").joinpath(file).read_text("utf-8"))
    rows = data.pop("row")
    return tuple({**data, **row} for row in rows)
