"""What can be bought to cut parts from: thicknesses, boards, bars and sheets as dealers have them."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planbook.handbook import board_sizes, lumber_sizes, sheet_sizes
from planbook.takeoff.layout import Stock
from planbook.takeoff.wanted import Wanted, WoodGroup
from planbook.units import MM_PER_INCH

System = Literal["in", "mm"]
SHEETS: dict[System, tuple[str, ...]] = {
    "in": ("4 x 8 ft", "4 x 4 ft", "2 x 4 ft"),
    "mm": ("1220 x 2440 mm", "1250 x 2500 mm", "610 x 1220 mm"),
}
SAME = Fraction(1)
"""Widths and thicknesses that differ by less than this, in mm, are sold as the same."""
_NOMINAL = " in nominal"
PER_PRICE = 100
"""Square millimetres in one unit of the price that stands for wood used up."""


@dataclass(frozen=True, slots=True)
class Thickness:
    """A thickness as sold: its name, what it measures in mm, and what planing leaves of it."""

    name: str
    size: Fraction
    planed: Fraction

    def serves(self, part: Wanted, *, dressed: bool) -> bool:
        """Whether a part can be made from it; `dressed` lumber is sold planed, other lumber rough."""
        if dressed or part.rough is None:
            return self.planed >= part.finished.thickness
        return self.size >= part.rough.thickness


def thicknesses(group: WoodGroup, system: System) -> tuple[Thickness, ...]:
    """The thicknesses in which lumber is sold, thinnest first; none for sheets, which are sold as designed."""
    if group == "sheet":
        return ()
    found = list(_quarters(group) if system == "in" else _metric(group))
    return tuple(sorted(found, key=lambda row: row.size))


def _quarters(group: WoodGroup) -> Iterator[Thickness]:
    for row in lumber_sizes().values():
        if row.kind == f"{group} thickness":
            name = row.name.removesuffix(" rough")
            name = f"{name} rough" if group == "hardwood" else f"{name.removesuffix(' thick')}{_NOMINAL}"
            yield Thickness(name, row.nominal_mm, row.dressed_mm)


def _metric(group: WoodGroup) -> Iterator[Thickness]:
    for row in board_sizes().values():
        if (row.kind, row.system) == (f"{group} thickness", "mm"):
            size, planed = row.size_mm, row.planed_mm or row.size_mm
            name = f"{_mm(size)} mm sawn" if group == "hardwood" else f"{_mm(planed)} mm planed"
            yield Thickness(name, size, planed)


def thickness_for(part: Wanted, system: System) -> Thickness | None:
    """The thinnest lumber sold from which a part can be made; a sheet is sold as thick as it is designed."""
    if part.group == "sheet":
        size = part.thickness(planed=True)
        return Thickness(_thick(size, system), size, size)
    dressed = part.group == "softwood"
    return next((row for row in thicknesses(part.group, system) if row.serves(part, dressed=dressed)), None)


def bar_width(part: Wanted, system: System) -> Fraction | None:
    """The dressed width of softwood that is just as wide as a part, or None."""
    if part.group != "softwood":
        return None
    width = (part.rough or part.finished).width
    return next((size for _, size in _softwood_widths(system) if abs(size - width) < SAME), None)


def boards_sold(group: WoodGroup, thick: Thickness, system: System) -> tuple[Stock, ...]:
    """The boards, or sheets, of one thickness; the price stands for the area, so that least wood is bought."""
    if group == "sheet":
        rows = [sheet_sizes()[name] for name in SHEETS[system]]
        return tuple(_stock(f"{thick.name}, {row.name}", row.width_mm, row.length_mm) for row in rows)
    widths = list(_softwood_widths(system)) if group == "softwood" else list(_sizes("hardwood width", system))
    return tuple(
        _stock(_named(thick, wide, long), width, length)
        for wide, width in widths
        for long, length in _sizes(f"{group} length", system)
    )


def whole_sheet(part: Wanted, system: System) -> Stock | None:
    """The sheet that a part is, where sheets just as large are sold: as large as the part, so that nothing is left."""
    thick = thickness_for(part, system)
    if part.group != "sheet" or thick is None:
        return None
    size = part.rough or part.finished
    rows = [sheet_sizes()[name] for name in SHEETS[system]]
    for row in rows:
        over = (row.width_mm - size.width, row.length_mm - size.length)
        if all(Fraction(0) <= far < SAME for far in over):
            return _stock(f"{thick.name}, {row.name}", size.width, size.length)
    return None


def bars_sold(thick: Thickness, width: Fraction, system: System) -> tuple[Stock, ...]:
    """The softwood of one thickness and width; the price stands for the length."""
    wide = next(name for name, size in _softwood_widths(system) if size == width)
    return tuple(
        Stock(_named(thick, wide, long), width, length, None, length)
        for long, length in _sizes("softwood length", system)
    )


def _named(thick: Thickness, wide: str, long: str) -> str:
    """What to ask for; softwood is asked for by its nominal thickness and width, as "2 x 4 in nominal"."""
    nominal = thick.name.removesuffix(_NOMINAL)
    if nominal != thick.name:
        return f"{nominal} x {wide} nominal, {long} long"
    return f"{thick.name}, {wide} wide, {long} long"


def _stock(name: str, width: Fraction, length: Fraction) -> Stock:
    return Stock(name, width, length, None, width * length / PER_PRICE)


def _softwood_widths(system: System) -> Iterator[tuple[str, Fraction]]:
    if system == "in":
        for row in lumber_sizes().values():
            if row.kind == "softwood width":
                yield f"{row.name.removesuffix(' wide')} in", row.dressed_mm
        return
    for size in board_sizes().values():
        if (size.kind, size.system) == ("softwood width", "mm"):
            planed = size.planed_mm or size.size_mm
            yield f"{_mm(planed)} mm", planed


def _sizes(kind: str, system: System) -> list[tuple[str, Fraction]]:
    rows = (row for row in board_sizes().values() if (row.kind, row.system) == (kind, system))
    return [(_said(row.size_mm, system), row.size_mm) for row in rows]


def _said(mm: Fraction, system: System) -> str:
    if system == "mm":
        return f"{_mm(mm)} mm"
    inches = mm / MM_PER_INCH
    return f"{inches / 12} ft" if inches >= 24 and inches % 12 == 0 else f"{inches} in"


def _thick(mm: Fraction, system: System) -> str:
    if system == "mm" or is_metric(mm):
        return f"{_mm(mm)} mm thick"
    whole, rest = divmod(mm / MM_PER_INCH, 1)
    return f"{' '.join(str(part) for part in (whole, rest) if part)} in thick"


def is_metric(mm: Fraction) -> bool:
    """Whether a sheet so thick is sold by millimetres alone: it is no 1/64 in."""
    return (mm / MM_PER_INCH * 64).denominator != 1


def _mm(value: Fraction) -> str:
    return f"{float(value):.2f}".rstrip("0").rstrip(".")
