"""A design in another choice of woods and finishes; not whether the choice makes sense."""

from collections.abc import Iterable
from dataclasses import replace

from planbook.handbook import wood
from planbook.model.design import Choice, Design, Named, Stock, Supply
from planbook.units import near


class UnknownChoice(LookupError):  # noqa: N818 - it reports what was asked for, not a failure of the program
    """A design has no choice of that name; the words are a sentence for the reader."""


def with_choice(design: Design, name: str) -> Design:
    """The design with the woods and products of one of its choices; it starts from the design as written.

    A board of its own goes before a wood, and a wood answers to each of its names in the handbook. Raises
    UnknownChoice.
    """
    written = design.written or design
    choice = written.choices.get(name)
    if choice is None:
        raise UnknownChoice(_unknown(name, written.choices))
    return replace(
        written,
        stock={key: _board(stock, choice) for key, stock in written.stock.items()},
        supplies={key: _supply(supply, choice) for key, supply in written.supplies.items()},
        choice=choice,
        written=written,
    )


def wood_called(name: str) -> str:
    """The handbook's own name of a wood, or the name itself where the handbook does not have it."""
    row = wood(name)
    return row.name if row else name


def slug(name: str) -> str:
    """A name as a part of a file's name: letters and digits in lower case, joined by hyphens; may be empty."""
    return "-".join("".join(char if char.isalnum() else " " for char in name.lower()).split())


def _board(stock: Stock, choice: Choice) -> Stock:
    own = next((each for each in choice.stock if each.name == stock.name), None)
    found = own or next((each for each in choice.woods if _same(each, stock.wood)), None)
    return replace(stock, wood=found.by, wood_place=found.by_place) if found else stock


def _same(each: Named, name: str) -> bool:
    return wood_called(each.name) == wood_called(name)


def _supply(supply: Supply, choice: Choice) -> Supply:
    found = next((each for each in choice.supplies if each.name == supply.name), None)
    return replace(supply, product=found.by) if found else supply


def _unknown(name: str, known: Iterable[str]) -> str:
    names = tuple(known)
    if not names:
        return f"there is no choice called `{name}`: the design has no choices of woods"
    close = near(name, names)
    if close:
        return f"there is no choice called `{name}`; did you mean {' or '.join(f'`{each}`' for each in close)}?"
    return f"there is no choice called `{name}`; there are {', '.join(f'`{each}`' for each in names)}"
