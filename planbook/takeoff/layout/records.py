"""What is to be cut, from what, and the layout that was found; lengths are exact millimetres (Fraction)."""

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

Kind = Literal["bars", "boards", "sheets"]
"""Lengths on bars (widths are not looked at), parts on boards (never turned), parts on sheets."""

Code = Literal[
    "bad-size",
    "bad-count",
    "bad-kerf",
    "bad-trim",
    "bad-price",
    "bad-defect",
    "no-parts",
    "no-stock",
    "too-many-parts",
    "duplicate-part",
    "duplicate-stock",
    "part-too-large",
    "grain-forbids-fit",
    "kerf-larger-than-part",
    "stock-not-enough",
    "group-too-large",
    "prices-missing",
]


@dataclass(frozen=True, slots=True)
class Part:
    """A part to cut: `length` runs along the grain of the stock, unless `may_turn`.

    Parts with the same word in `together` come from one board, for matching grain or colour.
    """

    name: str
    width: Fraction | None
    length: Fraction
    count: int = 1
    may_turn: bool = False
    together: str | None = None
    wood: str = ""
    thickness: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Defect:
    """A rectangle of a board that no part may touch; x across, y along the board, from its first corner."""

    x: Fraction
    y: Fraction
    width: Fraction
    length: Fraction


@dataclass(frozen=True, slots=True)
class Stock:
    """A size to cut from; `count` None is as many as wanted; `price` of one, in any one currency."""

    name: str
    width: Fraction | None
    length: Fraction
    count: int | None = None
    price: Fraction | None = None
    defects: tuple[Defect, ...] = ()
    wood: str = ""
    thickness: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem of cutting: `trim_edge` comes off each long edge of every stock, `trim_end` off each end.

    An offcut of at least `keep` (width, length) is worth keeping. `seconds` is a last resort: None, the usual
    case, limits the search by trials only, so that the same problem always gets the same layout.
    """

    kind: Kind
    parts: tuple[Part, ...]
    stock: tuple[Stock, ...]
    kerf: Fraction = Fraction(0)
    trim_edge: Fraction = Fraction(0)
    trim_end: Fraction = Fraction(0)
    keep: tuple[Fraction, Fraction] = (Fraction(50), Fraction(300))
    seconds: float | None = None


@dataclass(frozen=True, slots=True)
class Trouble:
    """A fact about input that cannot be cut as asked: `names` are parts or stock, `amounts` the measures.

    `amounts` holds, by name, lengths in millimetres or plain counts (`over_width`, `over_length`, `missing`).
    """

    code: Code
    names: tuple[str, ...]
    amounts: tuple[tuple[str, Fraction], ...] = ()


@dataclass(frozen=True, slots=True)
class Placement:
    """One part on its sheet: `copy` counts from 1; x and `width` across the stock, y, `length` along it."""

    part: str
    copy: int
    x: Fraction
    y: Fraction
    width: Fraction
    length: Fraction
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle left over when the last cut is made."""

    x: Fraction
    y: Fraction
    width: Fraction
    length: Fraction

    @property
    def area(self) -> Fraction:
        """Its area in square millimetres."""
        return self.width * self.length


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut right through a piece: `way` rip runs along the stock, crosscut across it.

    `at` is where the kerf begins, from the stock's first corner; the cut runs from `start` to `end`.
    `fence` is the size of what comes off on the near side: the setting of the fence or the stop.
    """

    number: int
    way: Literal["rip", "crosscut"]
    at: Fraction
    start: Fraction
    end: Fraction
    fence: Fraction


@dataclass(frozen=True, slots=True)
class Sheet:
    """One bar, board or sheet with what is cut from it, in the order to saw."""

    stock: str
    number: int
    width: Fraction
    length: Fraction
    placements: tuple[Placement, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """The answer: `cost` counts sheets where there are no prices, money where every stock has one.

    `bound` is proved: no layout costs less. `proved` says that this one costs just
    that, with every part in it.
    """

    sheets: tuple[Sheet, ...] = ()
    cost: Fraction = Fraction(0)
    bound: Fraction = Fraction(0)
    priced: bool = False
    proved: bool = False
    missing: tuple[tuple[str, int], ...] = ()
    troubles: tuple[Trouble, ...] = field(default=())

    @property
    def gap(self) -> Fraction:
        """How much more this layout costs than the bound."""
        return self.cost - self.bound

    @property
    def settings(self) -> int:
        """How often the fence is set, sheet after sheet."""
        return sum(_changes(sheet.cuts) for sheet in self.sheets)

    def kept(self, keep: tuple[Fraction, Fraction]) -> tuple[Offcut, ...]:
        """The offcuts at least as large as `keep` (width, length), the largest first."""
        found = (o for sheet in self.sheets for o in sheet.offcuts if o.width >= keep[0] and o.length >= keep[1])
        return tuple(sorted(found, key=lambda offcut: -offcut.area))


def _changes(cuts: tuple[Cut, ...]) -> int:
    settings = [(cut.way, cut.fence) for cut in cuts]
    return sum(one != other for one, other in zip([None, *settings], settings, strict=False))
