"""Cut layouts for a build: the rack first, then what has to be bought; the search itself is in `layout`."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from planbook.handbook import Cutting, cutting
from planbook.model import Rack, RackRow
from planbook.takeoff.cut_findings import Said, apart, from_troubles, not_sold, unfit
from planbook.takeoff.layout import Defect, Kind, Layout, Part, Problem, Stock, solve
from planbook.takeoff.racked import fits_somewhere, serves, wood_of
from planbook.takeoff.settings import settings_of_tool
from planbook.takeoff.sold import PER_PRICE, System, bar_width, bars_sold, boards_sold, thickness_for, whole_sheet
from planbook.takeoff.wanted import Wanted, WoodGroup, wanted
from planbook.text import Finding, in_order
from planbook.units import Quantity
from planbook.workshop import Timeline

MM2_PER_M2 = 10**6
CUTS_UP = ("table saw",)
"""Kinds of tools that boards are cut up with: a blade for curves says nothing of that."""
Unit = Literal["m2", "m"]
_SETTING: Mapping[str, str] = {
    "kerf": "kerf_mm",
    "edge_trim": "edge_trim_mm",
    "end_trim": "end_trim_mm",
    "squaring_width": "squaring_width_mm",
    "squaring_length": "squaring_length_mm",
    "keep_width": "keep_width_mm",
    "keep_length": "keep_length_mm",
}


@dataclass(frozen=True, slots=True)
class CutPlan:
    """One layout: parts of one wood on stock of one thickness (mm), from the rack or to be bought.

    `used` and `least` are what the layout takes and what is proved that any layout must take, in `unit`: the
    area of boards and sheets, or the length of bars.
    """

    wood: str
    group: WoodGroup
    thickness: Fraction
    from_rack: bool
    problem: Problem
    layout: Layout
    steps: tuple[int, ...]

    @property
    def kind(self) -> Kind:
        """Lengths on bars, parts on boards, or parts on sheets."""
        return self.problem.kind

    @property
    def grain(self) -> bool:
        """Whether the stock has a grain that the parts follow."""
        return not all(part.may_turn for part in self.problem.parts)

    @property
    def unit(self) -> Unit:
        """What `used` and `least` count."""
        return "m" if self.kind == "bars" else "m2"

    @property
    def used(self) -> Fraction:
        """How much stock the layout takes."""
        return self.layout.cost * self._size

    @property
    def least(self) -> Fraction:
        """How much stock any layout must take."""
        return min(self.layout.bound, self.layout.cost) * self._size

    @property
    def _size(self) -> Fraction:
        return Fraction(1, 1000) if self.kind == "bars" else Fraction(PER_PRICE, MM2_PER_M2)


@dataclass(frozen=True, slots=True)
class CutPlans:
    """All layouts of a build, and what was found on the way."""

    plans: tuple[CutPlan, ...] = ()
    findings: tuple[Finding, ...] = ()


def cut_plans(timeline: Timeline, rack: Rack | None = None, system: System = "mm", make: int = 1) -> CutPlans:
    """Lay out the boards of a build, `make` times over, on the rack as far as that goes, the rest on stock sold."""
    parts = wanted(timeline)
    work = _Work(rack, system, max(1, make), _own_kerf(timeline))
    by_wood: dict[str, list[Wanted]] = {}
    for part in parts:
        by_wood.setdefault(part.wood, []).append(part)
    work.find_apart(parts)
    for some in by_wood.values():
        work.lay_out(some)
    if rack:
        known = [(row, [part for part in parts if part.wood == wood_of(row)]) for row in rack.rows]
        work.findings += [unfit(row, some, system) for row, some in known if some and not fits_somewhere(row, some)]
    return CutPlans(tuple(work.plans), in_order(work.findings))


class _Work:
    """The layouts of one build as they are found."""

    def __init__(self, rack: Rack | None, system: System, make: int, kerf: Fraction | None) -> None:
        self.rack, self.system, self.make, self.kerf = rack, system, make, kerf
        self.plans: list[CutPlan] = []
        self.findings: list[Finding] = []
        self.alone: set[str] = set()

    def find_apart(self, parts: Iterable[Wanted]) -> None:
        """Boards that shall match, but are of two woods or two thicknesses, are cut each on its own."""
        together: dict[str, list[Wanted]] = {}
        for part in parts:
            if part.match:
                together.setdefault(part.match, []).append(part)
        for word, some in together.items():
            if len({(part.wood, thickness_for(part, self.system)) for part in some}) > 1:
                self.alone.add(word)
                self.findings.append(apart(word, some))

    def lay_out(self, parts: Sequence[Wanted]) -> None:
        """The parts of one wood: rack first, thin boards before thick ones."""
        left = {part.name: self.make for part in parts}
        for rows in self._shelves(parts):
            some = [part for part in parts if left[part.name] and all(serves(row, part) for row in rows)]
            if some:
                left = {**left, **self._from_rack(some, rows, left)}
        for key, some in self._to_buy([part for part in parts if left[part.name]]).items():
            whole = [part for part in some if whole_sheet(part, self.system)]
            for part in whole:
                self._bought([part], key, left)
            if rest := [part for part in some if part not in whole]:
                self._bought(rest, key, left)

    def _shelves(self, parts: Sequence[Wanted]) -> Iterator[list[RackRow]]:
        """Rows of the rack that can be used together: alike in thickness, surface and kind."""
        shelves: dict[tuple[Fraction, bool, str, Fraction], list[RackRow]] = {}
        for row in self.rack.rows if self.rack else ():
            if wood_of(row) == parts[0].wood:
                wide = row.width if row.kind == "bar" else Fraction(0)
                kind = "bar" if row.kind == "bar" else "flat"
                shelves.setdefault((row.thickness, row.planed, kind, wide), []).append(row)
        yield from (shelves[key] for key in sorted(shelves))

    def _from_rack(self, parts: Sequence[Wanted], rows: Sequence[RackRow], left: Mapping[str, int]) -> dict[str, int]:
        """Lay out on the rack what fits there; how many of each part are left."""
        bar = rows[0].kind == "bar"
        allow = self._allow("bar" if bar else "sheet" if parts[0].group == "sheet" else "lumber")
        stock = [_stock(row) for row in rows]
        width = rows[0].width if bar else None
        problem, names = self._problem(parts, stock, left, allow, "bars" if bar else None, width)
        layout = solve(problem)
        self._troubles(layout, parts, names, problem, about_rack=True)
        if layout.sheets:
            self._add(parts, names, rows[0].thickness, layout, problem, from_rack=True)
        cut: dict[str, int] = {}
        for sheet in layout.sheets:
            for placement in sheet.placements:
                cut[names[placement.part]] = cut.get(names[placement.part], 0) + 1
        return {part.name: left[part.name] - cut.get(part.name, 0) for part in parts}

    def _to_buy(self, parts: Sequence[Wanted]) -> dict[tuple[str, Fraction | None], list[Wanted]]:
        """The parts by thickness sold, and by width where that is just the width of a bar."""
        found: dict[tuple[str, Fraction | None], list[Wanted]] = {}
        for part in parts:
            thick = thickness_for(part, self.system)
            if thick is None:
                self.findings.append(not_sold(part, self.system))
                continue
            width = None if part.match else bar_width(part, self.system)
            found.setdefault((thick.name, width), []).append(part)
        return found

    def _bought(self, parts: Sequence[Wanted], key: tuple[str, Fraction | None], left: Mapping[str, int]) -> None:
        thick, width = thickness_for(parts[0], self.system), key[1]
        if thick is None:
            return
        group = parts[0].group
        if width is not None:
            stock: Sequence[Stock] = bars_sold(thick, width, self.system)
            allow, kind = self._allow("bar"), "bars"
        else:
            whole = whole_sheet(parts[0], self.system)
            stock = (whole,) if whole else boards_sold(group, thick, self.system)
            allow, kind = self._allow("sheet" if group == "sheet" else "lumber"), None
            if whole:
                # Nothing is sawn of it, least of all its edges.
                allow = replace(allow, edge_trim_mm=Fraction(0), end_trim_mm=Fraction(0))
        problem, names = self._problem(parts, stock, left, allow, "bars" if kind else None, width)
        layout = solve(problem)
        self._troubles(layout, parts, names, problem, about_rack=False)
        if layout.sheets:
            size = thick.planed if group == "softwood" else thick.size
            self._add(parts, names, size, layout, problem, from_rack=False)

    def _problem(
        self,
        parts: Sequence[Wanted],
        stock: Sequence[Stock],
        left: Mapping[str, int],
        allow: Cutting,
        kind: Literal["bars"] | None,
        width: Fraction | None,
    ) -> tuple[Problem, dict[str, str]]:
        """The problem to solve, and which board of the design each of its parts is."""
        names: dict[str, str] = {}
        rows: list[Part] = []
        given = {part.name for part in parts}
        for part in parts:
            wide, long = part.size(allow)
            together = part.match if part.match and part.match not in self.alone else None
            whole = Part(part.name, width or wide, long, left[part.name], part.may_turn, together)
            if together and whole.count > 1:
                sets = range(self.make - whole.count + 1, self.make + 1)
                each = [replace(whole, name=f"{part.name} {n}", count=1, together=f"{part.match} {n}") for n in sets]
            else:
                each = [whole]
            for row in each:
                # A board of the design may be called "side 2" itself, beside the second copy of "side".
                name = row.name
                while name in names or (name != part.name and name in given):
                    name += " again"
                names[name] = part.name
                rows.append(replace(row, name=name))
        flat: Kind = "sheets" if parts[0].group == "sheet" else "boards"
        problem = Problem(
            kind=kind or flat,
            parts=tuple(rows),
            stock=tuple(row for row in stock if row.count is not None or _holds(row, rows, allow)) or tuple(stock),
            kerf=allow.kerf_mm,
            trim_edge=Fraction(0) if kind == "bars" else allow.edge_trim_mm,
            trim_end=allow.end_trim_mm,
            keep=(allow.keep_width_mm, allow.keep_length_mm),
        )
        return problem, names

    def _allow(self, stock: Literal["lumber", "bar", "sheet"]) -> Cutting:
        """The allowances of the handbook, but for the kerf of the design's own saw, and those that the rack sets."""
        saw = {"kerf": self.kerf} if self.kerf else {}
        own = {**saw, **(self.rack.settings if self.rack else {})}
        changed: dict[str, Any] = {_SETTING[key]: value for key, value in own.items()}
        allow = replace(cutting(stock, self.system), **changed)
        # A saw with a wider kerf than the usual trim takes its whole kerf at each trim.
        edge, end = (max(trim, allow.kerf_mm) if trim else trim for trim in (allow.edge_trim_mm, allow.end_trim_mm))
        return replace(allow, edge_trim_mm=edge, end_trim_mm=end)

    def _add(
        self,
        parts: Sequence[Wanted],
        names: Mapping[str, str],
        thickness: Fraction,
        layout: Layout,
        problem: Problem,
        *,
        from_rack: bool,
    ) -> None:
        placed = {names[placement.part] for sheet in layout.sheets for placement in sheet.placements}
        steps = {step for part in parts if part.name in placed for step in part.steps}
        self.plans.append(
            CutPlan(
                wood=parts[0].shown,
                group=parts[0].group,
                thickness=thickness,
                from_rack=from_rack,
                problem=problem,
                layout=layout,
                steps=tuple(sorted(steps)),
            )
        )

    def _troubles(
        self, layout: Layout, parts: Sequence[Wanted], names: Mapping[str, str], problem: Problem, *, about_rack: bool
    ) -> None:
        said = Said({part.name: part for part in parts}, names, problem, self.system, self.make)
        self.findings += from_troubles(layout.troubles, said, about_rack=about_rack)


def _own_kerf(timeline: Timeline) -> Fraction | None:
    """The widest kerf (mm) of the saws of a design that cut boards up; None where it states none."""
    saws = (tool for tool in timeline.design.tools.values() if tool.kind in CUTS_UP)
    stated = [each.value for saw in saws for each in settings_of_tool(saw, timeline) if each.key == "kerf"]
    return max((kerf.value for kerf in stated if isinstance(kerf, Quantity)), default=None)


def _holds(row: Stock, parts: Iterable[Part], allow: Cutting) -> bool:
    """Whether a stock has room for any of the parts; without the others the search is shorter and its bound better."""
    width = (row.width or Fraction(0)) - 2 * allow.edge_trim_mm
    length = row.length - 2 * allow.end_trim_mm
    ways = ((part.width or Fraction(0), part.length, part.may_turn) for part in parts)
    return any((w <= width and h <= length) or (turn and h <= width and w <= length) for w, h, turn in ways)


def _stock(row: RackRow) -> Stock:
    """A row of the rack as stock; the price stands for what is used up."""
    price = row.length if row.kind == "bar" else row.width * row.length / PER_PRICE
    defects = tuple(Defect(d.x, d.y, d.width, d.length) for d in row.defects)
    return Stock(row.name, row.width, row.length, row.count, price, defects)
