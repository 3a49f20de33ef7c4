"""Layouts are checked by an independent verifier: sizes, kerf, full-width cuts, stock, defects, groups, cuts."""

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from planbook.takeoff.layout import Defect, Layout, Part, Problem, Sheet, Stock, Trouble, solve

DATA = Path(__file__).parent / "layout_data"
Box = tuple[Fraction, Fraction, Fraction, Fraction]
F = Fraction


def separable(boxes: Sequence[Box], kerf: Fraction) -> bool:
    """Whether cuts from edge to edge, each taking one kerf, part all boxes."""
    if len(boxes) < 2:
        return True
    for axis in (0, 1):
        for edge in sorted({box[axis] + box[axis + 2] for box in boxes}):
            near = [box for box in boxes if box[axis] + box[axis + 2] <= edge]
            far = [box for box in boxes if box[axis] >= edge + kerf]
            if near and far and len(near) + len(far) == len(boxes):
                return separable(near, kerf) and separable(far, kerf)
    return False


def sawn(sheet: Sheet, problem: Problem) -> set[Box]:
    """Carry the cuts out in their order, each right through the one piece it is in; the pieces in the end."""
    width = sheet.width if problem.kind != "bars" else F(1)
    pieces: set[Box] = {(F(0), F(0), width, sheet.length)}
    for number, cut in enumerate(sheet.cuts, start=1):
        assert cut.number == number
        axis = 0 if cut.way == "rip" else 1
        ends = (cut.start, cut.end) if problem.kind != "bars" else (F(0), F(1))
        hit = [
            p
            for p in pieces
            if (p[1 - axis], p[1 - axis] + p[3 - axis]) == ends
            and p[axis] - problem.kerf <= cut.at <= p[axis] + p[axis + 2]
            and p[axis] + p[axis + 2] > cut.at - (problem.kerf == 0)
        ]
        hit = [p for p in hit if cut.at - p[axis] == cut.fence or (cut.fence == 0 and cut.at <= p[axis])]
        assert len(hit) == 1, (cut, pieces)
        piece = hit[0]
        pieces.remove(piece)
        after = cut.at + problem.kerf
        end = piece[axis] + piece[axis + 2]
        for low, high in ((piece[axis], cut.at), (after, end)):
            if high > low:
                new = list(piece)
                new[axis], new[axis + 2] = low, high - low
                pieces.add((new[0], new[1], new[2], new[3]))
    return pieces


def verify(problem: Problem, layout: Layout) -> None:
    """Assert everything a layout promises, from the records alone."""
    parts = {part.name: part for part in problem.parts}
    stock = {row.name: row for row in problem.stock}
    made: Counter[str] = Counter()
    where: dict[str, set[int]] = {}
    cost = F(0)
    for sheet in layout.sheets:
        row = stock[sheet.stock]
        cost += row.price if layout.priced and row.price is not None else 1
        edge = F(0) if problem.kind == "bars" else problem.trim_edge
        boxes: list[Box] = []
        for p in sheet.placements:
            part = parts[p.part]
            size = (p.width, p.length) if problem.kind != "bars" else (F(1), p.length)
            true = (part.width, part.length) if problem.kind != "bars" else (F(1), part.length)
            assert size == true or (part.may_turn and p.turned and problem.kind == "sheets" and size == true[::-1])
            width = row.width if problem.kind != "bars" else F(1)
            assert width is not None
            assert edge <= p.x
            assert p.x + size[0] <= width - edge
            assert problem.trim_end <= p.y
            assert p.y + size[1] <= row.length - problem.trim_end
            for d in row.defects:
                assert p.x >= d.x + d.width or p.x + size[0] <= d.x or p.y >= d.y + d.length or p.y + size[1] <= d.y
            k = problem.kerf
            for x, y, w, h in boxes:
                assert p.x >= x + w + k or x >= p.x + size[0] + k or p.y >= y + h + k or y >= p.y + size[1] + k
            boxes.append((p.x, p.y, *size))
            made[p.part] += 1
            if part.together:
                where.setdefault(part.together, set()).add(sheet.number)
        assert separable(boxes, problem.kerf)
        pieces = sawn(sheet, problem)
        assert set(boxes) <= pieces
        for o in sheet.offcuts:
            assert (o.x, o.y, o.width if problem.kind != "bars" else F(1), o.length) in pieces
    assert all(len(sheets) == 1 for sheets in where.values())
    missing = dict(layout.missing)
    for part in problem.parts:
        assert made[part.name] + missing.get(part.name, 0) == part.count
    for name, count in Counter(sheet.stock for sheet in layout.sheets).items():
        limit = stock[name].count
        assert limit is None or count <= limit
    assert layout.cost == cost
    assert layout.bound <= cost or layout.missing
    assert layout.proved == (not layout.missing and layout.bound == cost)


def rows(name: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((DATA / name).read_text(encoding="utf-8"))["instances"]
    return found


def flat(row: dict[str, Any]) -> Problem:
    """A record of more_sheets.json or sheets.json as a problem."""
    turn = row["rotation"] is True if "rotation" in row else True
    stock = row.get("stock") or [[*row["sheet"], 1, None]]
    return Problem(
        "sheets",
        tuple(Part(f"p{i}", F(p[0]), F(p[1]), p[2], p[3] if len(p) > 3 else turn) for i, p in enumerate(row["parts"])),
        tuple(Stock(f"s{i}", F(s[0]), F(s[1]), s[3], F(s[2])) for i, s in enumerate(stock)),
        F(row.get("kerf", 0)),
    )


def bars(lengths: dict[int, int], stock: Sequence[int], kerf: int = 0) -> Problem:
    return Problem(
        "bars",
        tuple(Part(f"p{i}", None, F(size), count) for i, (size, count) in enumerate(lengths.items())),
        tuple(Stock(f"s{i}", None, F(length)) for i, length in enumerate(stock)),
        F(kerf),
    )


WORKED = {
    # Chvatal, Linear Programming (1983), ch. 13, pp. 195-198.
    "chvatal": ({45: 97, 36: 610, 31: 395, 14: 211}, 100, 453),
    # AMPL book, ch. 15 (cut.dat).
    "ampl": ({20: 48, 45: 35, 50: 24, 55: 10, 75: 8}, 110, 47),
    # Paper rolls, encyclopaedia example; data in a public solver test.
    "rolls": (
        {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20}
        | {2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20},
        5600,
        73,
    ),
    # Winston, Operations Research (Woodco), from memory.
    "woodco": ({3: 25, 5: 20, 9: 15}, 17, 19),
}


@pytest.mark.parametrize("name", WORKED)
def test_published_bars_are_cut_from_the_fewest_and_that_is_proved(name: str) -> None:
    lengths, stock, best = WORKED[name]
    problem = bars(lengths, [stock])
    layout = solve(problem)
    verify(problem, layout)
    assert layout.cost == best
    assert layout.proved


def test_a_kerf_taken_off_parts_and_bar_changes_nothing() -> None:
    problem = bars({44: 97, 35: 610, 30: 395, 13: 211}, [99], kerf=1)
    layout = solve(problem)
    verify(problem, layout)
    assert (layout.cost, layout.proved) == (453, True)


@pytest.mark.parametrize("name", ["bar_multi_N1C2W2_G", "scholl_N1W1B1R9", "scholl_N2C3W4_Q", "bar_kerf3_N2C2W4_B"])
def test_academic_bars_reach_the_published_value(name: str) -> None:
    row = next(row for row in rows("more_lengths.json") if row["name"] == name)
    problem = Problem(
        "bars",
        tuple(Part(f"p{i}", None, F(p[0]), p[2]) for i, p in enumerate(row["parts"])),
        tuple(Stock(f"s{i}", None, F(s[0]), s[3], F(s[2])) for i, s in enumerate(row["stock"])),
        F(row["kerf"]),
    )
    layout = solve(problem)
    verify(problem, layout)
    assert layout.cost == row["best"]


@pytest.mark.parametrize(
    "name",
    [
        "csp_A5_fix",
        "csp_OF2_rot",
        "csp_ATP49_fix",
        "gcut02_bin_fix",
        "gcut07_bin_rot",
        "grain_c05_n020_3",
        "grain_c09_n060_4",
        "kerf3_c07_n060_4_fix",
    ],
)
def test_academic_sheets_reach_the_best_known_value(name: str) -> None:
    row = next(row for row in rows("more_sheets.json") if row["name"] == name)
    problem = flat(row)
    layout = solve(problem)
    verify(problem, layout)
    assert layout.cost == row["best"]
    assert layout.proved


def test_every_tenth_class_instance_is_within_the_published_value() -> None:
    for row in rows("sheets.json")[::10]:
        problem = flat(row)
        layout = solve(problem)
        verify(problem, layout)
        assert layout.bound <= row["best_rotating"]
        assert layout.cost <= row["best_guillotine3_rotating"]


def test_the_same_problem_gets_the_same_layout() -> None:
    problem = flat(rows("sheets.json")[6])
    assert solve(problem) == solve(problem)


def sheet_problem(*parts: Part, **changes: Any) -> Problem:
    stock = (Stock("ply", F(1220), F(2440), None, F(60)),)
    return replace(Problem("sheets", parts, stock, kerf=F(3), trim_edge=F(10), trim_end=F(10)), **changes)


def test_trim_and_kerf_are_taken_before_parts_and_in_inches_too() -> None:
    problem = sheet_problem(Part("side", F(1220 - 20 - 3) / 2, F(2420)), kerf=F(3))
    problem = replace(problem, parts=(replace(problem.parts[0], count=2),))
    layout = solve(problem)
    verify(problem, layout)
    assert len(layout.sheets) == 1
    inch = F(254, 10)
    fine = sheet_problem(Part("rail", 3 * inch / 4 + inch / 64, 20 * inch, 30), kerf=inch / 8)
    verify(fine, solve(fine))


def test_grain_keeps_a_part_from_turning() -> None:
    free = sheet_problem(Part("top", F(1300), F(600), may_turn=True))
    fixed = sheet_problem(Part("top", F(1300), F(600)))
    assert solve(free).sheets[0].placements[0].turned
    assert [t.code for t in solve(fixed).troubles] == ["grain-forbids-fit"]


def board_problem(*parts: Part) -> Problem:
    knot, split_end = Defect(F(60), F(900), F(30), F(40)), Defect(F(0), F(0), F(150), F(120))
    stock = (
        Stock("long", F(150), F(2400), 2, F(40), (knot, split_end)),
        Stock("short", F(180), F(1200), 3, F(25), (Defect(F(100), F(500), F(80), F(60)),)),
    )
    return Problem("boards", parts, stock, kerf=F(3), trim_edge=F(3), trim_end=F(12))


def test_parts_on_boards_avoid_defects() -> None:
    problem = board_problem(
        Part("rail", F(60), F(700), 4), Part("stile", F(50), F(500), 4), Part("slat", F(30), F(300), 6)
    )
    layout = solve(problem)
    verify(problem, layout)
    assert not layout.missing


def test_parts_that_go_together_come_from_one_board() -> None:
    problem = board_problem(
        Part("front", F(60), F(300), 3, together="fronts"),
        Part("end", F(60), F(250), 2, together="fronts"),
        Part("slat", F(40), F(600), 5),
    )
    layout = solve(problem)
    verify(problem, layout)
    assert not layout.missing


def test_together_on_bars() -> None:
    problem = replace(
        bars({700: 2, 300: 2, 900: 3}, [2400], kerf=3),
        parts=(Part("a", None, F(700), 2, together="t"), Part("b", None, F(900), 3)),
    )
    layout = solve(problem)
    verify(problem, layout)
    assert not layout.missing


def test_what_the_reader_has_is_used_before_anything_is_bought() -> None:
    stock = (
        Stock("offcut", F(400), F(700), 1, F(0)),
        Stock("ply", F(1220), F(2440), None, F(60)),
    )
    problem = sheet_problem(Part("shelf", F(300), F(600), 1), stock=stock)
    layout = solve(problem)
    verify(problem, layout)
    assert [sheet.stock for sheet in layout.sheets] == ["offcut"]
    assert (layout.cost, layout.proved) == (0, True)


def test_the_cheaper_mix_of_sizes_is_taken() -> None:
    stock = (Stock("big", F(1220), F(2440), None, F(60)), Stock("half", F(1220), F(1220), None, F(34)))
    problem = sheet_problem(Part("door", F(590), F(1150), 2), stock=stock)
    layout = solve(problem)
    verify(problem, layout)
    assert [sheet.stock for sheet in layout.sheets] == ["half"]


def test_waste_is_left_in_one_large_piece() -> None:
    problem = sheet_problem(Part("shelf", F(300), F(600), 4))
    layout = solve(problem)
    verify(problem, layout)
    largest = layout.kept((F(300), F(300)))[0]
    assert largest.area >= F(1200) * F(1200)


def test_stock_that_runs_out_says_how_many_parts_are_missing() -> None:
    stock = (Stock("ply", F(1220), F(2440), 1),)
    problem = sheet_problem(Part("panel", F(1000), F(2000), 3), stock=stock)
    layout = solve(problem)
    verify(problem, layout)
    assert layout.troubles == (Trouble("stock-not-enough", ("panel",), (("missing", F(2)),)),)
    assert layout.missing == (("panel", 2),)


def test_a_time_limit_still_gives_a_whole_layout_with_its_gap() -> None:
    row = next(row for row in rows("more_sheets.json") if row["name"] == "gcut02_bin_rot")
    problem = replace(flat(row), seconds=0.0)
    layout = solve(problem)
    verify(problem, layout)
    assert layout.gap == layout.cost - layout.bound > 0
    assert not layout.missing


def test_many_parts_are_laid_out_close_to_their_area() -> None:
    parts = tuple(Part(f"p{i}", F(60 + 37 * i % 300), F(90 + 53 * i % 500), 10, may_turn=True) for i in range(40))
    problem = sheet_problem(*parts)
    layout = solve(problem)
    verify(problem, layout)
    assert layout.cost <= layout.bound + 60 * 2
