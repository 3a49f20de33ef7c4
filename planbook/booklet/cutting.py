"""Cut layouts as they are printed: pictures, cuts in the order to saw them, offcuts, and how good they are."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count

from planbook.booklet.bought_rows import CutRow, CutSection, CutSheet
from planbook.booklet.common import row_said
from planbook.booklet.editions import CUT_ROOM, SHORT_CUT_ROOM, WIDE, Edition
from planbook.booklet.gathered import figure
from planbook.booklet.rows import FT2, sold_as
from planbook.drawing.cut_board import CutBoard, CutLine, CutPart, cut_pictures
from planbook.drawing.ink import Ink
from planbook.handbook import limit
from planbook.speech import called, comma, labelled, say, say_many
from planbook.takeoff import CutPlan
from planbook.takeoff.layout import Cut, Defect, Offcut, Placement, Sheet

_NOUNS = {"bars": ("Bar", "Bars"), "boards": ("Board", "Boards"), "sheets": ("Sheet", "Sheets")}
_COUNTS = {
    "bars": ("{count} bar {source}", "{count} bars {source}"),
    "boards": ("{count} board {source}", "{count} boards {source}"),
    "sheets": ("{count} sheet {source}", "{count} sheets {source}"),
}
_PROVED = {
    "length": "Proved: with these cuts and allowances no layout takes less length sold in these sizes.",
    "wood": "Proved: with these cuts and allowances no layout takes less wood sold in these sizes.",
    "material": "Proved: with these cuts and allowances no layout takes less material sold in these sizes.",
}
_PROVED_IN_RACK = {
    "length": "Proved: with these cuts and allowances no layout takes less length in the rack.",
    "wood": "Proved: with these cuts and allowances no layout takes less wood in the rack.",
    "material": "Proved: with these cuts and allowances no layout takes less material in the rack.",
}
SHORT, FEW = 620.0, 10
"""A board no longer than this, mm, with no more cuts, is drawn so small that they stand beside it."""
_FT = Fraction(3048, 10**4)


@dataclass(frozen=True, slots=True)
class _Alike:
    """Sheets of a plan that are cut in just the same way."""

    sheet: Sheet
    numbers: tuple[int, ...]


def cut_sections(plans: Iterable[CutPlan], edition: Edition, ink: Ink = "colour") -> tuple[CutSection, ...]:
    """A section for every layout in which something is sawn; offcuts worth keeping are named A, B, C through all.

    Kerf and trims are said where they differ from those of the layout before.
    """
    names, said = _names(), ""
    sections = []
    sawn = [plan for plan in plans if any(sheet.cuts for sheet in plan.layout.sheets)]
    for number, plan in enumerate(sawn, start=1):
        settings = _settings(plan, edition)
        sections.append(_section(number, plan, "" if settings == said else settings, names, edition, ink))
        said = settings
    return tuple(sections)


def _section(number: int, plan: CutPlan, settings: str, names: Iterator[str], edition: Edition, ink: Ink) -> CutSection:
    alike = _alike(plan.layout.sheets)
    total = len(plan.layout.sheets)
    source = say("from your rack") if plan.from_rack else say("to buy")
    return CutSection(
        anchor=f"cut-{number}",
        title=labelled(_capital(row_said(plan.wood)), say_many(*_COUNTS[plan.kind], total, source=source)),
        proof=_proof(plan, edition),
        settings=settings,
        sheets=tuple(_sheet(plan, group, total, names, edition, ink) for group in alike),
    )


def _proof(plan: CutPlan, edition: Edition) -> str:
    used, least = _stock(plan.used, plan, edition), _stock(plan.least, plan, edition)
    takes = say("Takes {amount}.", amount=used)
    if plan.layout.proved:
        of = "length" if plan.kind == "bars" else "wood" if plan.group != "sheet" else "material"
        proved = _PROVED_IN_RACK[of] if plan.from_rack else _PROVED[of]
        return f"{takes} {say(proved)}"
    if plan.layout.missing:
        return f"{takes} {say('Not every part found room here; the others are in another layout.')}"
    over = plan.used - plan.least
    share = 100 * over / plan.used
    more = say("less than 1 %") if share < 1 else f"{round(share)} %"
    gap = _stock(over, plan, edition)
    near = "That is within {gap} ({more}) of the least possible: no layout takes less than {least}."
    return f"{takes} {say(near, gap=gap, more=more, least=least)}"


def _stock(amount: Fraction, plan: CutPlan, edition: Edition) -> str:
    if plan.kind == "bars":
        return f"{_figures(amount)} m" if edition.system == "mm" else f"{_figures(amount / _FT)} ft"
    return f"{_figures(amount)} m²" if edition.system == "mm" else f"{_figures(amount / FT2)} ft²"


def _figures(amount: Fraction) -> str:
    value = float(amount)
    places = 2 if value >= 1 else 3
    return comma(f"{value:.{places}f}".rstrip("0").rstrip(".") or "0")


def _settings(plan: CutPlan, edition: Edition) -> str:
    kerf = edition.length(plan.problem.kerf)
    said = ((plan.problem.trim_end, "{length} off each end"), (plan.problem.trim_edge, "{length} off each long edge"))
    trims = say(" and ").join(say(what, length=edition.length(trim)) for trim, what in said if trim)
    if not trims:
        return say("A kerf of {kerf} is taken at every cut.", kerf=kerf)
    return say("A kerf of {kerf} is taken at every cut, and {trims} to square up.", kerf=kerf, trims=trims)


def _alike(sheets: Sequence[Sheet]) -> list[_Alike]:
    groups: dict[object, list[Sheet]] = {}
    for sheet in sheets:
        spots = tuple((p.part, p.x, p.y, p.width, p.length) for p in sheet.placements)
        groups.setdefault((sheet.stock, spots), []).append(sheet)
    return [_Alike(some[0], tuple(sheet.number for sheet in some)) for some in groups.values()]


def _sheet(plan: CutPlan, group: _Alike, total: int, names: Iterator[str], edition: Edition, ink: Ink) -> CutSheet:
    sheet, nouns = group.sheet, _NOUNS[plan.kind]
    kept = [(next(names), offcut) for offcut in _kept(sheet, plan)]
    many = len(group.numbers)
    noun = say(nouns[0])
    first = say("{noun} {numbers} of {total}", noun=say(nouns[many > 1]), numbers=_run(group.numbers), total=total)
    title = labelled(first if total > 1 else noun, sold_as(sheet.stock)) + (say(", cut alike") if many > 1 else "")
    alt = say(
        "{noun} {stock}, {size}, with {parts} parts and {cuts} cuts.",
        noun=noun,
        stock=sold_as(sheet.stock),
        size=edition.box(sheet.length, sheet.width),
        parts=len(sheet.placements),
        cuts=len(sheet.cuts),
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
        grain=say("grain") if plan.grain else "",
        alt=alt,
    )
    short = board.length <= SHORT and len(board.cuts) <= FEW and edition.sheet.width <= WIDE
    return CutSheet(
        title=title,
        size=edition.box(sheet.length, sheet.width, plan.thickness),
        figures=tuple(
            figure(picture) for picture in cut_pictures(board, *(SHORT_CUT_ROOM if short else CUT_ROOM), ink)
        ),
        cuts=tuple(_row(cut, sheet, plan, edition) for cut in sheet.cuts),
        offcuts=_said([f"{name} {edition.box(o.length, o.width)}" for name, o in kept], many),
        short=_short(sheet.cuts),
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
    return _box(placement, called(placement.part), edition)


def _box(where: Placement | Offcut | Defect, name: str, edition: Edition) -> CutPart:
    size = edition.box(where.length, where.width) if name else ""
    return CutPart(float(where.y), float(where.x), float(where.length), float(where.width), name, size)


def _offcut(name: str, offcut: Offcut, edition: Edition) -> CutPart:
    return _box(offcut, say("offcut {name}", name=name), edition)


def _line(cut: Cut, plan: CutPlan) -> CutLine:
    middle = float(cut.at + plan.problem.kerf / 2)
    return CutLine(cut.number, cut.way, middle, float(cut.start), float(cut.end))


def _row(cut: Cut, sheet: Sheet, plan: CutPlan, edition: Edition) -> CutRow:
    way = say({"rip": "Rip", "crosscut": "Crosscut"}[cut.way])
    free = Counter(p.part for p in sheet.placements if _last(p, sheet, plan) == cut.number)
    freed = [called(name) if many == 1 else f"{many} × {called(name)}" for name, many in free.items()]
    trim = _trim(cut, plan)
    # Nobody sets a fence to the sliver that is trimmed off first: it is measured from the edge.
    fence = say("{length} off", length=edition.length(trim)) if trim else edition.length(cut.fence)
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
    each = say(", from each of the {count}", count=many) if many > 1 else ""
    return say("Worth keeping: {offcuts}.", offcuts="; ".join(offcuts) + each)


def _short(cuts: Iterable[Cut]) -> str:
    """Which cuts along the wood are too short for a fence, and how to saw them."""
    least = limit("rip length on a table saw")
    numbers = [str(cut.number) for cut in cuts if cut.way == "rip" and cut.end - cut.start < least]
    if not numbers:
        return ""
    return say_many(
        "Cut {numbers} is too short to be ripped along a fence: saw it on a band saw or by hand.",
        "Cuts {numbers} are too short to be ripped along a fence: saw them on a band saw or by hand.",
        len(numbers),
        numbers=say(" and ").join(filter(None, (", ".join(numbers[:-1]), numbers[-1]))),
    )


def _run(numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return str(numbers[0])
    if list(numbers) == list(range(numbers[0], numbers[-1] + 1)):
        return say("{first} to {last}", first=numbers[0], last=numbers[-1])
    return ", ".join(map(str, numbers))


def _names() -> Iterator[str]:
    """A to Z, then A2 to Z2 and so on."""
    for turn in count(1):
        for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ":
            yield letter if turn == 1 else f"{letter}{turn}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
