"""Measures cut layouts on published instances and workshop sizes, and prints tables. Run it by hand; it asserts nothing.

    python tests/benchmarks/bench_layout.py [--only bars|sheets|more|workshop]

Sources stand in the data files in tests/takeoff/layout_data. Seconds are processor time of one core. Nothing is
compared with other solvers here.
"""

import argparse
import json
import statistics
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

from planbook.takeoff.layout import Layout, Part, Problem, Stock, solve

DATA = Path(__file__).parent.parent / "takeoff" / "layout_data"


@dataclass(frozen=True)
class Row:
    """One instance measured: what was found, what is known, and the seconds it took."""

    name: str
    family: str
    layout: Layout
    known: int
    proved: bool
    seconds: float


def records(name: str) -> list[dict[str, Any]]:
    """The instances of one file."""
    found: list[dict[str, Any]] = json.loads((DATA / name).read_text(encoding="utf-8"))["instances"]
    return found


def problem(kind: str, row: dict[str, Any], turn: bool) -> Problem:
    """One record as a problem."""
    stock = row.get("stock") or ([[row["bar"], 1, 1, None]] if kind == "bars" else [[*row["sheet"], 1, None]])
    parts = [[p[0], 1, p[1]] for p in row["parts"]] if "bar" in row else row["parts"]
    return Problem(
        "bars" if kind == "bars" else "sheets",
        tuple(
            Part(f"p{i}", Fraction(p[1]), Fraction(p[0]), p[2])
            if kind == "bars"
            else Part(f"p{i}", Fraction(p[0]), Fraction(p[1]), p[2], p[3] if len(p) > 3 else turn)
            for i, p in enumerate(parts)
        ),
        tuple(
            Stock(f"s{i}", Fraction(s[1]), Fraction(s[0]), s[3], Fraction(s[2]))
            if kind == "bars"
            else Stock(f"s{i}", Fraction(s[0]), Fraction(s[1]), s[3], Fraction(s[2]))
            for i, s in enumerate(stock)
        ),
        Fraction(row.get("kerf", 0)),
    )


def measure(kind: str, row: dict[str, Any], known: int, turn: bool = True) -> Row:
    """Solve one record."""
    task = problem(kind, row, turn)
    start = time.process_time()
    layout = solve(task)
    seconds = time.process_time() - start
    return Row(row["name"], row.get("family", ""), layout, known, bool(row.get("proved", True)), seconds)


def table(title: str, rows: Sequence[Row]) -> None:
    """Print one line of figures, and the instances that miss the known value."""
    good = sum(row.layout.cost <= row.known for row in rows)
    own = sum(row.layout.proved for row in rows)
    wrong = sum(row.layout.bound > row.known for row in rows)
    times = sorted(row.seconds for row in rows)
    share = 100 / len(rows)
    print(
        f"{title:<42} {good:>3} of {len(rows):>3} ({good * share:5.1f} %)  proved {own * share:5.1f} %"
        f"  bounds too high {wrong}  median {statistics.median(times):.2f} s  most {times[-1]:.2f} s"
    )
    for row in rows:
        if row.layout.cost > row.known:
            print(
                f"    {row.name}: {row.layout.cost}, known {row.known}, bound {row.layout.bound}"
                f" (+{float(row.layout.cost / row.known - 1) * 100:.2f} %), {row.seconds:.2f} s"
            )


def bars() -> Iterable[tuple[str, list[Row]]]:
    """The two files of lengths."""
    yield "bars: lengths", [measure("bars", row, row["optimum"]) for row in records("lengths.json")]
    yield "bars: more_lengths", [measure("bars", row, row["best"]) for row in records("more_lengths.json")]


def sheets() -> Iterable[tuple[str, list[Row]]]:
    """Classes 1 to 10 with parts free to turn."""
    found = [measure("sheets", row, row["best_guillotine3_rotating"]) for row in records("sheets.json")]
    yield "sheets: classes 1 to 10, turning", found


def more() -> Iterable[tuple[str, list[Row]]]:
    """The mixed records: proved ones, all, and those with several sheet sizes."""
    found = [measure("sheets", row, row["best"], row["rotation"] is True) for row in records("more_sheets.json")]
    yield "more_sheets: proved records", [row for row in found if row.proved]
    yield "more_sheets: all records", found
    several = [row for row in found if row.family == "vsbpp"]
    yield "more_sheets: several sizes", several
    over = statistics.mean(float(row.layout.cost / row.known - 1) * 100 for row in several)
    print(f"    cost above the best known, mean: {over:.2f} %")


def workshop() -> None:
    """Sizes of the workshop: boards, and a thousand parts on sheets."""
    rnd = Random(3)
    parts = tuple(Part(f"p{i}", Fraction(rnd.randint(30, 110)), Fraction(rnd.randint(150, 900))) for i in range(40))
    boards = tuple(
        Stock(f"b{i}", Fraction(w), Fraction(h), 4, Fraction(w * h, 10_000))
        for i, (w, h) in enumerate([(150, 2400), (200, 2000), (180, 3000), (240, 1800), (125, 2700)])
    )
    many = tuple(
        Part(f"p{i}", Fraction(rnd.randint(50, 600)), Fraction(rnd.randint(50, 900)), 1, True) for i in range(1000)
    )
    ply = (Stock("ply", Fraction(1220), Fraction(2440)),)
    for name, task in (
        (
            "40 parts on 5 sizes of board",
            Problem("boards", parts, boards, Fraction(3), Fraction(3), Fraction(12)),
        ),
        ("1,000 parts on sheets, kerf 3", Problem("sheets", many, ply, Fraction(3))),
    ):
        start = time.process_time()
        layout = solve(task)
        seconds = time.process_time() - start
        over = float(layout.cost / layout.bound - 1) * 100 if layout.bound else 0.0
        print(f"{name:<42} cost {float(layout.cost):.2f}, {over:.2f} % above the bound, {seconds:.2f} s")


def main() -> None:
    """Print the tables asked for."""
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--only", choices=["bars", "sheets", "more", "workshop"])
    only = reader.parse_args().only
    for name, work in (("bars", bars), ("sheets", sheets), ("more", more)):
        if only in (None, name):
            for title, found in work():
                table(title, found)
    if only in (None, "workshop"):
        workshop()


if __name__ == "__main__":
    main()
