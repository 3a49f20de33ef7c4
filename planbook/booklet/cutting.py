"""Cut layouts as they are printed: pictures, cuts in the order to saw them, offcuts, and how good they are."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count

from planbook.booklet.editions import CUT_ROOM, Edition
from planbook.booklet.gathered import figure
from planbook.booklet.records import CutRow, CutSection, CutSheet
from planbook.drawing.cut_board import CutBoard, CutLine, CutPart, cut_pictures
from planbook.drawing.ink import Ink
from planbook.takeoff import CutPlan
from planbook.takeoff.layout import Cut, Defect, Offcut, Placement, Sheet

_NOUNS = {"bars": ("bar", "bars"), "boards": ("board", "boards"), "sheets": ("sheet", "sheets")}
_FT2 = Fraction(9290304, 10**8)
"""A square foot in square metres, exactly."""
_FT = Fraction(3048, 10**4)


@dataclass(frozen=True, slots=True)
class _Alike:
    """Sheets of a plan that are cut in just the same way."""

    sheet: Sheet
    numbers: tuple[int, ...]


def cut_sections(plans: Iterable[CutPlan], edition: Edition, ink: Ink = "colour") -> tuple[CutSection, ...]:
    """A section for every layout; offcuts worth keeping are named A, B, C through all of them.

    Kerf and trims are said where they differ from those of the layout before.
    """
    names, said = _names(), ""
    sections = []
    for number, plan in enumerate(plans, start=1):
        settings = _settings(plan, edition)
        sections.append(_section(number, plan, "" if settings == said else settings, names, edition, ink))
        said = settings
    return tuple(sections)


def _section(number: int, plan: CutPlan, settings: str, names: Iterator[str], edition: Edition, ink: Ink) -> CutSection:
    alike = _alike(plan.layout.sheets)
    one, many = _NOUNS[plan.kind]
    total = len(plan.layout.sheets)
    source = "from your rack" if plan.from_rack else "to buy"
    return CutSection(
        anchor=f"cut-{number}",
        title=f"{_capital(plan.wood)}: {total} {one if total == 1 else many} {source}",
        proof=_proof(plan, edition),
        settings=settings,
        sheets=tuple(_sheet(plan, group, total, names, edition, ink) for group in alike),
    )


def _proof(plan: CutPlan, edition: Edition) -> str:
    used, least = _stock(plan.used, plan, edition), _stock(plan.least, plan, edition)
    of = "length" if plan.kind == "bars" else "wood" if plan.group != "sheet" else "material"
    there = "in the rack" if plan.from_rack else "sold in these sizes"
    if plan.layout.proved:
        return f"Takes {used}. Proved: with these cuts and allowances no layout takes less {of} {there}."
    if plan.layout.missing:
        return f"Takes {used}. Not every part found room here; the others are in another layout."
    over = plan.used - plan.least
    share = 100 * over / plan.used
    more = "less than 1 %" if share < 1 else f"{round(share)} %"
    gap = _stock(over, plan, edition)
    return f"Takes {used}. That is within {gap} ({more}) of the least possible: no layout takes less than {least}."


def _stock(amount: Fraction, plan: CutPlan, edition: Edition) -> str:
    if plan.kind == "bars":
        return f"{_figures(amount)} m" if edition.units == "mm" else f"{_figures(amount / _FT)} ft"
    return f"{_figures(amount)} m²" if edition.units == "mm" else f"{_figures(amount / _FT2)} ft²"


def _figures(amount: Fraction) -> str:
    value = float(amount)
    places = 2 if value >= 1 else 3
    return f"{value:.{places}f}".rstrip("0").rstrip(".") or "0"


def _settings(plan: CutPlan, edition: Edition) -> str:
    kerf = f"A kerf of {edition.length(plan.problem.kerf)} is taken at every cut"
    trims = [
        f"{edition.length(trim)} off each {what}"
        for trim, what in ((plan.problem.trim_end, "end"), (plan.problem.trim_edge, "long edge"))
        if trim
    ]
    return f"{kerf}, and {' and '.join(trims)} to square up." if trims else f"{kerf}."


def _alike(sheets: Sequence[Sheet]) -> list[_Alike]:
    groups: dict[object, list[Sheet]] = {}
    for sheet in sheets:
        spots = tuple((p.part, p.x, p.y, p.width, p.length) for p in sheet.placements)
        groups.setdefault((sheet.stock, spots), []).append(sheet)
    return [_Alike(some[0], tuple(sheet.number for sheet in some)) for some in groups.values()]


def _sheet(plan: CutPlan, group: _Alike, total: int, names: Iterator[str], edition: Edition, ink: Ink) -> CutSheet:
    sheet, noun = group.sheet, _NOUNS[plan.kind][0]
    kept = [(next(names), offcut) for offcut in _kept(sheet, plan)]
    many = len(group.numbers)
    first = f"{_capital(noun)} {_run(group.numbers)} of {total}"
    if many > 1:
        first = f"{_capital(_NOUNS[plan.kind][1])} {_run(group.numbers)} of {total}"
    title = f"{first if total > 1 else _capital(noun)}: {sheet.stock}" + (", cut alike" if many > 1 else "")
    alt = (
        f"{_capital(noun)} {sheet.stock}, {edition.box(sheet.length, sheet.width)}, "
        f"with {len(sheet.placements)} parts and {len(sheet.cuts)} cuts."
    )
    board = CutBoard(
        length=float(sheet.length),
        width=float(sheet.width),
        wood=plan.wood,
        parts=tuple(_part(placement, edition) for placement in sheet.placements),
        cuts=tuple(_line(cut, plan) for cut in sheet.cuts),
        kept=tuple(_offcut(name, offcut, edition) for name, offcut in kept),
        defects=tuple(
            CutPart(float(d.y), float(d.x), float(d.length), float(d.width), "", "") for d in _defects(plan, sheet)
        ),
        grain="grain" if plan.grain else "",
        alt=alt,
    )
    return CutSheet(
        title=title,
        size=edition.box(sheet.length, sheet.width, plan.thickness),
        figures=tuple(figure(picture) for picture in cut_pictures(board, *CUT_ROOM, ink)),
        cuts=tuple(_row(cut, sheet, plan, edition) for cut in sheet.cuts),
        offcuts=_said([f"{name} {edition.box(o.length, o.width)}" for name, o in kept], many),
    )


def _kept(sheet: Sheet, plan: CutPlan) -> tuple[Offcut, ...]:
    """The offcuts worth keeping, the largest first; of a bar, those that are long enough."""
    width, length = plan.problem.keep
    wide = Fraction(0) if plan.kind == "bars" else width
    found = (offcut for offcut in sheet.offcuts if offcut.width >= wide and offcut.length >= length)
    return tuple(sorted(found, key=lambda offcut: -offcut.area))


def _defects(plan: CutPlan, sheet: Sheet) -> tuple[Defect, ...]:
    return next((row.defects for row in plan.problem.stock if row.name == sheet.stock), ())


def _part(placement: Placement, edition: Edition) -> CutPart:
    return _box(placement, placement.part, edition)


def _box(where: Placement | Offcut | Defect, name: str, edition: Edition) -> CutPart:
    size = edition.box(where.length, where.width) if name else ""
    return CutPart(float(where.y), float(where.x), float(where.length), float(where.width), name, size)


def _offcut(name: str, offcut: Offcut, edition: Edition) -> CutPart:
    return _box(offcut, f"offcut {name}", edition)


def _line(cut: Cut, plan: CutPlan) -> CutLine:
    middle = float(cut.at + plan.problem.kerf / 2)
    return CutLine(cut.number, cut.way, middle, float(cut.start), float(cut.end))


def _row(cut: Cut, sheet: Sheet, plan: CutPlan, edition: Edition) -> CutRow:
    way = {"rip": "Rip", "crosscut": "Crosscut"}[cut.way]
    free = Counter(p.part for p in sheet.placements if _last(p, sheet, plan) == cut.number)
    freed = [name if many == 1 else f"{many} × {name}" for name, many in free.items()]
    trim = _trim(cut, plan)
    # Nobody sets a fence to the sliver that is trimmed off first: it is measured from the edge.
    fence = f"{edition.length(trim)} off" if trim else edition.length(cut.fence)
    return CutRow(str(cut.number), way, fence, ", ".join(freed))


def _trim(cut: Cut, plan: CutPlan) -> Fraction:
    """How much the first cut along an edge or end takes off, kerf and all; 0 for every other cut."""
    trim = plan.problem.trim_edge if cut.way == "rip" else plan.problem.trim_end
    return trim if cut.at + plan.problem.kerf == trim else Fraction(0)


def _last(placement: Placement, sheet: Sheet, plan: CutPlan) -> int:
    """The number of the last cut along an edge of a part: that one sets it free."""
    return max((cut.number for cut in sheet.cuts if _borders(cut, placement, plan)), default=0)


def _borders(cut: Cut, part: Placement, plan: CutPlan) -> bool:
    kerf = plan.problem.kerf
    if cut.way == "rip":
        low, high = part.y, part.y + part.length
        ends = (part.x - kerf, part.x + part.width)
    else:
        low, high = part.x, part.x + part.width
        ends = (part.y - kerf, part.y + part.length)
    whole = plan.kind == "bars" or (cut.start <= low and high <= cut.end)
    return cut.at in ends and whole


def _said(offcuts: Sequence[str], many: int) -> str:
    if not offcuts:
        return ""
    each = f", from each of the {many}" if many > 1 else ""
    return f"Worth keeping: {'; '.join(offcuts)}{each}."


def _run(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return str(numbers[0])
    if list(numbers) == list(range(numbers[0], numbers[-1] + 1)):
        return f"{numbers[0]} to {numbers[-1]}"
    return ", ".join(map(str, numbers))


def _names() -> Iterator[str]:
    """A to Z, then A2 to Z2 and so on."""
    for turn in count(1):
        for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ":
            yield letter if turn == 1 else f"{letter}{turn}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
