"""Square a blank and bring it to size."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.solids.solid import block
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import PieceName, ToolName, Triple
from planbook.workshop.pieces import reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Lost, Show, Shown, Treated, Use


@dataclass(frozen=True, kw_only=True)
class Square(Work):
    """Bring a piece to a size (x, y, z), taking the same from opposite sides, all faces square to one another."""

    KIND: ClassVar[str] = "square"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=180, old_edges=True)

    piece: PieceName
    to: Triple
    """The size it is brought to, along x, y and z."""
    tool: ToolName | None = None
    """The tool; by whatever you have if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        wanted = [float(x) for x in self.to]
        lo, hi = piece.solid.bounds
        for axis, have, want in zip("xyz", piece.solid.extent, wanted, strict=True):
            if want <= 0 or want > have + 1e-9:
                facts = {"piece": piece.name, "axis": axis, "have": have, "want": want}
                raise snag("stock-too-small", self.where("to"), shop.at.step, **facts)
        middle = [(a + b) / 2 for a, b in zip(lo, hi, strict=True)]
        low, high = ([m + s * w / 2 for m, w in zip(middle, wanted, strict=True)] for s in (-1, 1))
        solid = piece.solid.meet(block((low[0], low[1], low[2]), (high[0], high[1], high[2])))
        trimmed = piece.solid.minus(solid)
        sides = ("front", "back", "left", "right", "top", "bottom")
        done = tuple(Treated(face, "sawn", shop.at, 0.0) for face in sides)
        made = reshaped(piece, solid, shop, done)
        uses: tuple[Use, ...] = ()
        if self.tool:
            tool = shop.tool(self.tool, self.where("tool"))
            uses = (Use(tool.name, tool.kind, 1, "pieces"),)
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=() if trimmed.empty else (Lost("trim", trimmed, trimmed.volume),),
            uses=uses,
            show=Show("front", (Shown(made, "worked"),)),
            hands_on=shop.minutes(self.KIND, 1),
            settings=(("width", wanted[0]), ("depth", wanted[1]), ("height", wanted[2])),
        )
