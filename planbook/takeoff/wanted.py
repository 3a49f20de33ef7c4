"""The parts to cut for a build: one for every board of the design, with its rough or squared size; not how."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planbook.handbook import Cutting, wood
from planbook.model import Stock
from planbook.takeoff.boards import steps_to_bench
from planbook.takeoff.measure import along_grain, lengths
from planbook.takeoff.records import Dimensions
from planbook.text import Place
from planbook.workshop import Timeline

WoodGroup = Literal["hardwood", "softwood", "sheet"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A board that the design needs, sizes in mm; `wood` is what the handbook calls its wood, `shown` the design."""

    name: str
    wood: str
    shown: str
    group: WoodGroup
    finished: Dimensions
    rough: Dimensions | None
    may_turn: bool
    match: str
    steps: tuple[int, ...]
    place: Place

    def thickness(self, planed: bool) -> Fraction:
        """The least thickness to start from: the rough one, but the finished one of a board planed already."""
        return self.finished.thickness if planed or self.rough is None else self.rough.thickness

    def size(self, allow: Cutting) -> tuple[Fraction, Fraction]:
        """Width and length to cut out: the rough size, or the finished one with what squaring takes."""
        if self.rough is not None:
            return self.rough.width, self.rough.length
        return self.finished.width + allow.squaring_width_mm, self.finished.length + allow.squaring_length_mm


def wanted(timeline: Timeline) -> tuple[Wanted, ...]:
    """The boards of a design, in its order; one whose size has no value is left out (it has a finding)."""
    found = (_wanted(stock, timeline) for stock in timeline.design.stock.values())
    return tuple(each for each in found if each is not None)


def _wanted(stock: Stock, timeline: Timeline) -> Wanted | None:
    size = lengths(stock.size, timeline)
    rough = lengths(stock.rough, timeline) if stock.rough else None
    if size is None or min(size) <= 0 or (rough is not None and min(rough) <= 0):
        return None
    row = wood(stock.wood)
    return Wanted(
        name=stock.name,
        wood=row.name if row else stock.wood,
        shown=stock.wood,
        group=row.group if row else "hardwood",
        finished=along_grain(size, stock.grain),
        rough=along_grain(rough, stock.grain) if rough else None,
        # Fibreboard looks the same both ways; everything else has a grain.
        may_turn=row is not None and row.group == "sheet" and row.figure == "speckle",
        match=stock.match,
        steps=steps_to_bench((stock.name,), timeline),
        place=stock.place,
    )
