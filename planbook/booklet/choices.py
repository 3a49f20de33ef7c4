"""The choices of woods as the booklet sets them side by side; which one was taken was decided before."""

from collections.abc import Iterable

from planbook.booklet.common import row_said
from planbook.booklet.records import ChoiceColumn, ChoiceRow, Choices
from planbook.booklet.rows import capital
from planbook.model import Design, with_choice
from planbook.speech import called, told


def choices_of(design: Design) -> Choices | None:
    """The woods of every board as designed and in each choice; None for a design without choices."""
    if not design.choices:
        return None
    written = design.written or design
    designs = (written, *(with_choice(written, name) for name in written.choices))
    return Choices(
        title=design.choice.title if design.choice else "",
        summary=design.choice.summary if design.choice else "",
        columns=tuple(_column(each, design) for each in designs),
        rows=(*_woods(written, designs), *_products(written, designs)),
    )


def _column(each: Design, taken: Design) -> ChoiceColumn:
    choice = each.choice
    return ChoiceColumn(choice.title if choice else "", choice.summary if choice else "", choice == taken.choice)


def _woods(written: Design, designs: Iterable[Design]) -> tuple[ChoiceRow, ...]:
    """One row for all boards that are of the same wood in every choice."""
    rows: dict[tuple[str, ...], list[str]] = {}
    for name in written.stock:
        rows.setdefault(tuple(each.stock[name].wood for each in designs), []).append(name)
    return tuple(
        ChoiceRow(capital(", ".join(map(called, names))), tuple(map(row_said, cells))) for cells, names in rows.items()
    )


def _products(written: Design, designs: Iterable[Design]) -> tuple[ChoiceRow, ...]:
    """The supplies that some choice replaces."""
    replaced = {each.name for choice in written.choices.values() for each in choice.supplies}
    return tuple(
        ChoiceRow(capital(told(name)), tuple(row_said(each.supplies[name].product) for each in designs))
        for name in written.supplies
        if name in replaced
    )
