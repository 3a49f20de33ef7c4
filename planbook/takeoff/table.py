"""The lists as tables of plain text for a terminal; it prints nothing."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from planbook.takeoff.gather import Lists
from planbook.takeoff.plans import CutPlan
from planbook.takeoff.sheet import COLUMNS, rows_of
from planbook.units import LengthStyle

ORDER = (
    "shopping",
    "costs",
    "boards",
    "parts on boards",
    "saw cuts",
    "pieces",
    "leftovers",
    "tools",
    "supplies",
    "time",
)
WIDEST = 48
_RIGHT = ("number", "count", "length", "width", "thickness", "amount")
Row = Mapping[str, str]


def as_table(lists: Lists, style: LengthStyle, by_choice: Sequence[Sequence[str]] = ()) -> str:
    """Every list under its name, the shopping list first; columns that are empty are left out.

    `by_choice` are rows with a head that are set as they are: the costs of all choices of woods.
    """
    by_list: dict[str, list[Row]] = {}
    for row in rows_of(lists, style):
        by_list.setdefault(row["list"], []).append(row)
    made = f"{lists.title}, {lists.make} of them" if lists.make > 1 else lists.title
    blocks = [made]
    for name in ORDER:
        if name in by_list:
            about = list(_about(lists.plans)) if name == "parts on boards" else []
            blocks.append("\n".join((name.upper(), *about, *_table(by_list[name]))))
    if by_choice:
        blocks.append("\n".join(("COSTS BY CHOICE OF WOODS", *_set(by_choice, by_choice[0][1:]))))
    return "\n\n".join(blocks) + "\n"


def _about(plans: Iterable[CutPlan]) -> Iterator[str]:
    """How good each layout is, in one line."""
    for plan in plans:
        used, least = (f"{float(amount):.3f} {plan.unit}" for amount in (plan.used, plan.least))
        if plan.layout.proved:
            yield f"{plan.wood}: takes {used}, proved least"
        elif plan.layout.missing:
            missing = sum(count for _, count in plan.layout.missing)
            yield f"{plan.wood}: takes {used}; {missing} found no room here"
        else:
            share = float(Fraction(100) * (plan.used - plan.least) / plan.used)
            yield f"{plan.wood}: takes {used}, within {share:.1f} % of the least possible ({least})"


def _table(rows: Sequence[Row]) -> Iterator[str]:
    columns = [name for name in COLUMNS if name != "list" and any(row.get(name) for row in rows)]
    cells = [columns, *([_short(row.get(name, "")) for name in columns] for row in rows)]
    yield from _set(cells, _RIGHT)


def _set(cells: Sequence[Sequence[str]], to_the_right: Sequence[str]) -> Iterator[str]:
    """Lines of a table whose first row is its head; the columns named are set to the right."""
    widths = [max(len(line[n]) for line in cells) for n in range(len(cells[0]))]
    for line in cells:
        parts = (
            cell.rjust(width) if name in to_the_right else cell.ljust(width)
            for name, cell, width in zip(cells[0], line, widths, strict=True)
        )
        yield "  ".join(parts).rstrip()


def _short(text: str) -> str:
    return text if len(text) <= WIDEST else text[: WIDEST - 1] + "…"
