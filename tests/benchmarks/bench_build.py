"""Measures one build of a design, phase by phase, and prints seconds of the processor and ratios. Run it by hand.

python tests/benchmarks/bench_build.py [DESIGN] [--paper a4] [--units mm] [--runs 3]
python tests/benchmarks/bench_build.py --pictures    # the step pictures of all designs, each drawn on its own
"""

import argparse
import resource
import statistics
import time
from collections.abc import Callable, Sequence
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

from planbook.booklet import STEP_ROOM, Edition
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_step
from planbook.drawing.svg import svg
from planbook.machine import seldom_interrupted
from planbook.pipeline import compose_book
from planbook.press import press
from planbook.reader import read_design
from planbook.review import review
from planbook.workshop import Timeline
from planbook.workshop.envelope import prove
from planbook.workshop.run import build

T = TypeVar("T")


def timed(seconds: dict[str, list[float]], name: str, work: Callable[[], T]) -> T:
    """Run something and note how long the processor took for it, in all threads."""
    start = time.process_time()
    found = work()
    seconds.setdefault(name, []).append(time.process_time() - start)
    return found


def pictures(timeline: Timeline) -> tuple[list[float], list[int]]:
    """Seconds and bytes of every step picture, each drawn on its own."""
    seconds, sizes = [], []
    for step in timeline.design.steps:
        event = drawn_step(timeline, step)
        if event is not None:
            start = time.process_time()
            picture = step_picture(timeline, event, *STEP_ROOM)
            seconds.append(time.process_time() - start)
            sizes.append(len(svg(picture)))
    return seconds, sizes


def told(name: str, drawn: Sequence[float], sizes: Sequence[int]) -> str:
    """A row of what step pictures took."""
    return (
        f"{name:21} {len(drawn)}, median {1000 * statistics.median(drawn):.0f} ms, "
        f"slowest {1000 * max(drawn):.0f} ms, median {statistics.median(sizes) / 1000:.1f} kB"
    )


def all_pictures(folder: Path) -> None:
    """Print what the step pictures of all designs in a folder take."""
    every: tuple[list[float], list[int]] = ([], [])
    for design in sorted(path for path in folder.iterdir() if (path / "design.toml").exists()):
        reading = read_design(design).design
        assert reading is not None, f"{design} does not read"
        found = pictures(build(reading))
        print(told(design.name, *found))
        for lot, more in zip(every, found, strict=True):
            lot.extend(more)
    print(told("all", *every))


@seldom_interrupted()
def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("design", nargs="?", default="designs/curlew-box", type=Path)
    parser.add_argument("--paper", default="a4")
    parser.add_argument("--units", default="mm")
    parser.add_argument("--runs", default=3, type=int)
    parser.add_argument("--pictures", action="store_true", help="only the step pictures, of all designs")
    options = parser.parse_args()
    if options.pictures:
        all_pictures(Path("designs"))
        return
    edition = Edition(options.paper, options.units)
    seconds: dict[str, list[float]] = {}
    for _ in range(options.runs):
        start = time.process_time()
        reading = timed(seconds, "read", lambda: read_design(options.design))
        design = reading.design
        assert design is not None, "the design does not read"
        timed(seconds, "build once", lambda design=design: build(design))
        timeline = timed(seconds, "prove", lambda design=design: prove(design))
        timed(seconds, "review", lambda timeline=timeline: review(timeline))
        marks: list[tuple[str, float]] = []
        html = compose_book(timeline, edition, lambda name, marks=marks: marks.append((name, time.process_time())))
        marks.append(("", time.process_time()))
        for (name, begun), (_, ended) in pairwise(marks):
            seconds.setdefault({"listing": "list", "drawing": "draw", "composing": "compose"}[name], []).append(
                ended - begun
            )
        timed(seconds, "press", lambda html=html: press(html, edition.paper_row))
        seconds.setdefault("total", []).append(time.process_time() - start - seconds["build once"][-1])
    middle = {name: statistics.median(values) for name, values in seconds.items()}
    for name, value in middle.items():
        print(f"{name:10} {value:7.3f} s")
    print(f"total / press alone   {middle['total'] / middle['press']:.2f}")
    # A fresh build, so that no picture is remembered from the runs above.
    drawn, sizes = pictures(build(timeline.design))
    print(told("step pictures", drawn, sizes))
    print(f"peak memory           {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
