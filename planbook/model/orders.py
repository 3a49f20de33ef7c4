"""An order of a plan as a maker's list has it; what is done with it is told elsewhere."""

from dataclasses import dataclass

from planbook.text import Place


@dataclass(frozen=True, slots=True)
class Order:
    """Who bought a copy, under which number and licence; `contact` is kept in the register and never printed."""

    number: str
    name: str
    licence: str
    contact: str
    place: Place
    name_at: Place
