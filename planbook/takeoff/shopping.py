"""The shopping list's record: what to buy, in the sizes and amounts in which it is sold; not what it costs."""

from dataclasses import dataclass
from typing import Literal

BoughtKind = Literal["board", "bar", "sheet", "glue", "finish", "abrasive", "lining", "hardware", "other"]
SoldUnit = Literal["m3", "m2", "m", "l", "kg", "pieces", "sheets"]


@dataclass(frozen=True, slots=True)
class Bought:
    """One line of the shopping list.

    `name` is the wood or the product, `what` says in plain words what is sold, `count` how many of it; `amount`
    is all of them together, in `unit`. `size` is thickness, width and length in mm of boards, bars and sheets.
    What is `from_rack` is there already and need not be bought.
    """

    kind: BoughtKind
    name: str
    what: str
    count: int
    amount: float
    unit: SoldUnit
    size: tuple[float, float, float] | None
    steps: tuple[int, ...]
    from_rack: bool = False
