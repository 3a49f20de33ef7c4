"""What a booklet says of buying and cutting up, ready to be set: lists, cut layouts, costs."""

from dataclasses import dataclass

from planbook.booklet.basics import Fact, Figure, Link

NARROW = 90.0
"""A picture of a board no wider than this, mm, has its cuts beside it."""
LOW = 60.0
"""A picture of a board no higher than this, mm, is kept on one page with its cuts."""


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """A tool or supply: its name, the setting or amount wanted, a note, and the steps that use it."""

    name: str
    amount: str
    note: str
    steps: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class BoardRow:
    """A board to buy or mill: how many, its name and wood, rough and finished size, volume; whether it is a sheet."""

    count: str
    name: str
    wood: str
    rough: str
    finished: str
    volume: str
    sheet: bool = False


@dataclass(frozen=True, slots=True)
class CostLine:
    """A purchase: what, how much of it, its price and its cost, or instead of those why it has none."""

    what: str
    times: str
    price: str
    cost: str
    steps: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class CostPage:
    """What it costs by the maker's own prices; `sums` are labels with sums, the last one the total."""

    rows: tuple[CostLine, ...]
    sums: tuple[Fact, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CutRow:
    """A cut in the order to saw: its number in the picture, which way, the fence or stop, and what it sets free."""

    number: str
    way: str
    fence: str
    frees: str


@dataclass(frozen=True, slots=True)
class CutSheet:
    """A board, bar or sheet to cut up: its pictures, its cuts, and the offcuts worth keeping."""

    title: str
    size: str
    figures: tuple[Figure, ...]
    cuts: tuple[CutRow, ...]
    offcuts: str
    short: str = ""
    """Which of its cuts no fence can lead."""

    @property
    def together(self) -> bool:
        """Whether its picture and its cuts stand on one page: a tall one would leave too much of a page empty."""
        return self.beside or (len(self.figures) == 1 and self.figures[0].height <= LOW)

    @property
    def beside(self) -> bool:
        """Whether the cuts stand beside its picture."""
        return len(self.figures) == 1 and self.figures[0].width <= NARROW


@dataclass(frozen=True, slots=True)
class CutSection:
    """The layout of one wood: how good it is proved to be, what the saw takes, and its sheets."""

    anchor: str
    title: str
    proof: str
    settings: str
    sheets: tuple[CutSheet, ...]


@dataclass(frozen=True, slots=True)
class ShoppingRow:
    """A line of the shopping list: what, in which size it is sold, how many, how much that is, and for which steps."""

    count: str
    name: str
    what: str
    amount: str
    steps: tuple[Link, ...]
