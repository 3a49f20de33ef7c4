"""Compares cut layouts with general-purpose solvers in one run, and prints a table. Run it by hand; it asserts nothing.

    pip install rectpack ortools
    python tests/benchmarks/bench_others.py [--every 3] [--seconds 10]

rectpack packs rectangles: the best of all its guillotine ways, orders and ways to fill bins is taken. ortools solves
models of constraints (CP-SAT, one thread): lengths on bars, and rectangles on sheets WITHOUT the need for cuts from
edge to edge, so that it may need fewer sheets than any saw can. Both are for comparison only; the product does not
need them. Every layout of sheets that is counted was verified here. Seconds are of the processor; the figures of rectpack are
for all its ways together. Sources stand in the data files in tests/takeoff/layout_data.
"""

import argparse
import itertools
import json
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any

import rectpack
from ortools.sat.python import cp_model

from planbook.takeoff.layout import Part, Problem, Stock, solve

DATA = Path(__file__).parent.parent / "takeoff" / "layout_data"
CHOICES = ("Baf", "Blsf", "Bssf")
SPLITS = ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
ORDERS = (
    rectpack.SORT_NONE,
    rectpack.SORT_AREA,
    rectpack.SORT_PERI,
    rectpack.SORT_DIFF,
    rectpack.SORT_SSIDE,
    rectpack.SORT_LSIDE,
    rectpack.SORT_RATIO,
)
FILLS = (rectpack.PackingBin.BNF, rectpack.PackingBin.BFF, rectpack.PackingBin.BBF, rectpack.PackingBin.Global)
SMALL = 20
Box = tuple[int, int, int, int]


@dataclass(frozen=True)
class Flat:
    """Parts (width, height) for one size of sheet, kerf already added to all of them."""

    name: str
    family: str
    sheet: tuple[int, int]
    parts: tuple[tuple[int, int], ...]
    turn: bool
    known: int


@dataclass
class Sum:
    """What one solver found over a family."""

    sheets: int = 0
    seconds: float = 0.0
    solved: int = 0
    proved: int = 0


@dataclass
class Line:
    """A line of the table."""

    count: int = 0
    known: int = 0
    by: dict[str, Sum] = field(default_factory=dict)

    def add(self, solver: str, sheets: int | None, seconds: float, proved: bool) -> None:
        """Count one answer; None is no verified layout at all."""
        total = self.by.setdefault(solver, Sum())
        total.seconds += seconds
        if sheets is not None:
            total.sheets += sheets
            total.solved += 1
            total.proved += proved


def records(name: str) -> list[dict[str, Any]]:
    """The instances of one file."""
    found: list[dict[str, Any]] = json.loads((DATA / name).read_text(encoding="utf-8"))["instances"]
    return found


def flats(every: int) -> list[Flat]:
    """Every so manieth instance with one size of sheet and one rule of turning."""
    found = []
    for row in [*records("sheets.json")[::every], *records("more_sheets.json")]:
        stock = row.get("stock") or [[*row["sheet"], 1, None]]
        if len(stock) > 1 or any(len(part) > 3 for part in row["parts"]):
            continue
        kerf, turn = row.get("kerf", 0), row.get("rotation", True) is True
        parts = tuple((p[0] + kerf, p[1] + kerf) for p in row["parts"] for _ in range(p[2]))
        family = row.get("family") or row["name"].rsplit("_", 2)[0]
        known = row.get("best_guillotine3_rotating") or row["best"]
        if row.get("objective", "sheets") in ("sheets", "bins", "count", "min_sheets"):
            found.append(Flat(row["name"], family, (stock[0][0] + kerf, stock[0][1] + kerf), parts, turn, known))
    return found


def ours(task: Flat) -> tuple[int | None, bool]:
    """The sheets of our own layout, and whether it is proved least."""
    parts = tuple(Part(f"p{n}", Fraction(w), Fraction(h), 1, task.turn) for n, (w, h) in enumerate(task.parts))
    layout = solve(Problem("sheets", parts, (Stock("s", Fraction(task.sheet[0]), Fraction(task.sheet[1])),)))
    boxes = [[(int(p.x), int(p.y), int(p.width), int(p.length)) for p in sheet.placements] for sheet in layout.sheets]
    return (len(layout.sheets) if sound(task, boxes, sawn=True) else None), layout.proved


def of_rectpack(task: Flat) -> tuple[int | None, bool]:
    """The fewest sheets of all guillotine ways of rectpack whose layout can be verified."""
    best: int | None = None
    ways = itertools.product(CHOICES, SPLITS, ORDERS, FILLS)
    for choice, split, order, fill in ways:
        algorithm = getattr(rectpack, f"Guillotine{choice}{split}")
        packer = rectpack.newPacker(rectpack.PackingMode.Offline, fill, algorithm, order, rotation=task.turn)
        for number, (w, h) in enumerate(task.parts):
            packer.add_rect(w, h, number)
        packer.add_bin(*task.sheet, count=len(task.parts))
        packer.pack()
        boxes = [[(r.x, r.y, r.width, r.height) for r in each] for each in packer if len(each)]
        if (best is None or len(boxes) < best) and sound(task, boxes, sawn=True):
            best = len(boxes)
    return best, False


def of_cpsat(task: Flat, seconds: float, most: int) -> tuple[int | None, bool]:
    """The fewest sheets of a model of constraints that knows nothing of sawing."""
    model, (wide, high) = cp_model.CpModel(), task.sheet
    across, along, boxes, where = [], [], [], []
    for n, (w, h) in enumerate(task.parts):
        turned = model.new_bool_var(f"t{n}") if task.turn and w != h else 0
        size_x, size_y = w + turned * (h - w), h + turned * (w - h)
        sheet = model.new_int_var(0, most - 1, f"s{n}")
        x, y = model.new_int_var(0, wide, f"x{n}"), model.new_int_var(0, high, f"y{n}")
        model.add(x + size_x <= wide)
        model.add(y + size_y <= high)
        left = model.new_int_var(0, most * wide, f"l{n}")
        model.add(left == x + sheet * wide)
        end_x, end_y = model.new_int_var(0, most * wide, ""), model.new_int_var(0, high, "")
        across.append(model.new_interval_var(left, size_x, end_x, f"a{n}"))
        along.append(model.new_interval_var(y, size_y, end_y, f"b{n}"))
        boxes.append((x, y, turned))
        where.append(sheet)
    model.add_no_overlap_2d(across, along)
    used = model.new_int_var(1, most, "used")
    model.add_max_equality(used, [sheet + 1 for sheet in where])
    model.add(used * wide * high >= sum(w * h for w, h in task.parts))
    model.minimize(used)
    solver = solver_for(seconds)
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, False
    piles: dict[int, list[Box]] = {}
    for (x, y, turned), sheet, (w, h) in zip(boxes, where, task.parts, strict=True):
        sides = (h, w) if not isinstance(turned, int) and solver.value(turned) else (w, h)
        piles.setdefault(solver.value(sheet), []).append((solver.value(x), solver.value(y), *sides))
    good = sound(task, list(piles.values()), sawn=False)
    return (len(piles) if good else None), status == cp_model.OPTIMAL


def bars_of_cpsat(bar: int, sizes: Sequence[int], seconds: float, most: int) -> tuple[int | None, bool]:
    """The fewest bars of a model that puts each length on a bar."""
    model = cp_model.CpModel()
    put = [[model.new_bool_var(f"{n}.{k}") for k in range(most)] for n in range(len(sizes))]
    open_ = [model.new_bool_var(f"o{k}") for k in range(most)]
    for row in put:
        model.add_exactly_one(row)
    for k in range(most):
        model.add(sum(size * row[k] for size, row in zip(sizes, put, strict=True)) <= bar * open_[k])
    for one, other in itertools.pairwise(open_):
        model.add_implication(other, one)
    model.minimize(sum(open_))
    solver = solver_for(seconds)
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None, False
    return round(solver.objective_value), status == cp_model.OPTIMAL


def solver_for(seconds: float) -> cp_model.CpSolver:
    """A solver on one thread with a limit of its own steady clock, so that a busy machine takes nothing from it."""
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = seconds
    solver.parameters.num_workers = 1
    return solver


def sound(task: Flat, piles: Sequence[Sequence[Box]], *, sawn: bool) -> bool:
    """Whether a layout holds every part once, inside its sheet, over no other, and comes apart with full cuts."""
    for pile in piles:
        if any(x < 0 or y < 0 or x + w > task.sheet[0] or y + h > task.sheet[1] for x, y, w, h in pile):
            return False
        for (x, y, w, h), (a, b, c, d) in itertools.combinations(pile, 2):
            if x < a + c and a < x + w and y < b + d and b < y + h:
                return False
        if sawn and not separable(pile):
            return False
    placed = [(w, h) for pile in piles for _, _, w, h in pile]
    if task.turn:
        return sorted(tuple(sorted(size)) for size in placed) == sorted(tuple(sorted(size)) for size in task.parts)
    return sorted(placed) == sorted(task.parts)


def separable(boxes: Sequence[Box]) -> bool:
    """Whether cuts from edge to edge part all boxes."""
    if len(boxes) < 2:
        return True
    for axis in (0, 1):
        for edge in {box[axis] + box[axis + 2] for box in boxes}:
            near = [box for box in boxes if box[axis] + box[axis + 2] <= edge]
            far = [box for box in boxes if box[axis] >= edge]
            if near and far and len(near) + len(far) == len(boxes):
                return separable(near) and separable(far)
    return False


def timed(work: Callable[[], tuple[int | None, bool]]) -> tuple[int | None, float, bool]:
    """An answer with the processor time it took."""
    start = time.process_time()
    found, proved = work()
    return found, time.process_time() - start, proved


def show(title: str, lines: dict[str, Line], solvers: Sequence[str]) -> None:
    """Print a table: sheets or bars in all, and seconds, by family and solver."""
    print(f"\n{title}")
    print(f"{'family':<16}{'count':>6}{'known':>7}" + "".join(f"{name:>30}" for name in solvers))
    whole = Line()
    for name, line in [*lines.items(), ("all", whole)]:
        cells = []
        for solver in solvers:
            total = line.by.get(solver, Sum())
            part = "" if total.solved == line.count else f" of {total.solved}"
            cells.append(f"{total.sheets}{part}, proved {total.proved}, {total.seconds:.1f} s")
            if line is not whole:
                rest = whole.by.setdefault(solver, Sum())
                for key in ("sheets", "seconds", "solved", "proved"):
                    setattr(rest, key, getattr(rest, key) + getattr(total, key))
        print(f"{name:<16}{line.count:>6}{line.known:>7}" + "".join(f"{cell:>30}" for cell in cells))
        whole.count, whole.known = whole.count + line.count, whole.known + line.known


def main() -> None:
    """Print the tables."""
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--every", type=int, default=3, help="take every so manieth instance of sheets.json")
    reader.add_argument(
        "--seconds", type=float, default=10.0, help="limit of ortools for each instance, on its own clock"
    )
    options = reader.parse_args()
    large: dict[str, Line] = {}
    small: dict[str, Line] = {}
    for task in flats(options.every):
        own = timed(lambda task=task: ours(task))
        packed = timed(lambda task=task: of_rectpack(task))
        tables = [large]
        if len(task.parts) <= SMALL:
            tables.append(small)
        for table in tables:
            line = table.setdefault(task.family, Line())
            line.count, line.known = line.count + 1, line.known + task.known
            line.add("planbook", *own)
            line.add("rectpack, best of 504", *packed)
        if len(task.parts) <= SMALL:
            most = (packed[0] or len(task.parts)) + 1
            model = timed(lambda task=task, most=most: of_cpsat(task, options.seconds, most))
            small[task.family].add("ortools, free layout", *model)
    show("Sheets, cut from edge to edge", large, ["planbook", "rectpack, best of 504"])
    show(f"Sheets of at most {SMALL} parts", small, ["planbook", "rectpack, best of 504", "ortools, free layout"])
    bars: dict[str, Line] = {}
    for row in records("more_lengths.json"):
        sizes = [p[0] + row["kerf"] for p in row["parts"] for _ in range(p[2])]
        if len(row["stock"]) > 1 or len(sizes) > 60 or row["stock"][0][3] is not None:
            continue
        bar = row["stock"][0][0] + row["kerf"]
        parts = tuple(Part(f"p{n}", None, Fraction(size)) for n, size in enumerate(sizes))
        task_bars = Problem("bars", parts, (Stock("bar", None, Fraction(bar)),))

        def solved(task: Problem = task_bars) -> tuple[int | None, bool]:
            layout = solve(task)
            return len(layout.sheets), layout.proved

        line = bars.setdefault(row["family"], Line())
        own = timed(solved)
        line.count, line.known = line.count + 1, line.known + -(-row["best"] // row["stock"][0][2])
        line.add("planbook", *own)
        most = (own[0] or len(sizes)) + 2
        line.add("ortools", *timed(lambda s=sizes, b=bar, m=most: bars_of_cpsat(b, s, options.seconds, m)))
    show("Bars of at most 60 lengths", bars, ["planbook", "ortools"])


if __name__ == "__main__":
    main()
