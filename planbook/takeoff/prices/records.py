"""Frozen records of a price list; money is decimal and never rounded here."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planbook.takeoff.prices.sale import Sale
from planbook.text import Place

WORK, PAPER = "work", "paper"
"""Names that are not bought: an hour of the maker's work, a printed page."""
PENCE = {"JPY": 0, "KRW": 0, "ISK": 0, "CLP": 0, "VND": 0, "KWD": 3, "BHD": 3, "OMR": 3, "TND": 3, "JOD": 3}
"""Decimals of currencies that do not have two (ISO 4217, from memory)."""


@dataclass(frozen=True, slots=True)
class Price:
    """What something costs: of any thickness where that is None, else of that many mm.

    `name` is the handbook's where it knows the thing, else as `written`.
    """

    name: str
    written: str
    thickness: Fraction | None
    price: Decimal
    sale: Sale
    place: Place


@dataclass(frozen=True, slots=True)
class Prices:
    """A price list in one currency (three letters)."""

    currency: str
    rows: tuple[Price, ...]

    def of(self, name: str) -> tuple[Price, ...]:
        """The prices of a thing by its handbook name, in any case."""
        return tuple(row for row in self.rows if row.name.casefold() == name.casefold())

    @property
    def decimals(self) -> int:
        """Decimals of the currency."""
        return PENCE.get(self.currency, 2)
