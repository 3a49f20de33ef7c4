"""Bring boards to the bench, milled to their finished size."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.model import Stock
from planbook.solids import AXES
from planbook.solids.solid import block
from planbook.units import near
from planbook.workshop.cutting import laid_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import StockNames
from planbook.workshop.patterns import ANY, matching, patterns_of
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Member, Piece, Show, Use
from planbook.workshop.varying import Corners, thickened


@dataclass(frozen=True, kw_only=True)
class Mill(Work):
    """Plane and saw boards of the stock to their finished sizes; each becomes a piece of the same name."""

    KIND: ClassVar[str] = "mill"
    DRAWN: ClassVar[Drawn] = Drawn(weight=60)

    boards: StockNames
    """Boards of the stock, by name; `leg *` means all whose name begins so."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        stock = shop.design.stock
        names = dict.fromkeys(name for board in self.boards for name in matching(board, stock) or (board,))
        made = tuple(self._board(name, shop) for name in names)
        spread = max(range(3), key=lambda i: len({round(p.solid.middle[i], 3) for p in made}))
        metres = sum(max(p.solid.extent) for p in made) / 1000
        return Outcome(
            made=made,
            uses=tuple(Use(p.name, "stock", 1, "board") for p in made),
            show=Show("front", laid_apart([(p, "new") for p in made], "xyz"[spread])),
            hands_on=shop.minutes(self.KIND, metres),
        )

    def _board(self, name: str, shop: Shop) -> Piece:
        stock = shop.design.stock.get(name)
        if stock is None:
            known = tuple(shop.design.stock)
            batch = any(board.batch == name for board in shop.design.stock.values())
            close = (f"{name} {ANY}",) if batch else near(name, patterns_of(known) if ANY in name else known)
            facts = {"stock": name, "near": close, "known": known}
            raise snag("stock-unknown", self.where("boards"), shop.at.step, **facts)
        return self._solid(stock, shop)

    def _solid(self, stock: Stock, shop: Shop) -> Piece:
        lo, hi = self._stands(stock, shop)
        size = [b - a for a, b in zip(lo, hi, strict=True)]
        if min(size) <= 0:
            place = stock.size[size.index(min(size))].place
            raise snag("not-positive", place, shop.at.step, value=min(size), field="size")
        solid = block(lo, hi)
        return Piece(
            stock.name, solid, (Member(stock.name, stock.wood, AXES[stock.grain], solid, solid.bounds),), shop.at
        )

    def _stands(self, stock: Stock, shop: Shop) -> Corners:
        """Lower and upper corner of a board; where boards come out thicker, they push one another along."""
        by = shop.allowance("thickness")
        if not by:
            return _corners(stock, shop)
        boards = list(shop.design.stock)
        return thickened([_corners(each, shop) for each in shop.design.stock.values()], by)[boards.index(stock.name)]


def _corners(stock: Stock, shop: Shop) -> Corners:
    size = [shop.number(e.formula, e.place) for e in stock.size]
    lo = [shop.number(e.formula, e.place) for e in stock.at]
    if stock.step is not None:
        lo = [a + stock.nth * shop.number(e.formula, e.place) for a, e in zip(lo, stock.step, strict=True)]
    return (lo[0], lo[1], lo[2]), (lo[0] + size[0], lo[1] + size[1], lo[2] + size[2])
