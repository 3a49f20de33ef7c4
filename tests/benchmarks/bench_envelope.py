"""Measures what proving a design costs beside one plain build, in the same run. Run it by hand; it asserts nothing.

python tests/benchmarks/bench_envelope.py [DESIGN] [--runs 5]
"""

import argparse
import resource
import time
from collections.abc import Callable
from pathlib import Path

from planbook.pipeline import check
from planbook.reader import read_design
from planbook.workshop.envelope import Prover
from planbook.workshop.run import build


def seconds(work: Callable[[], object]) -> tuple[float, float]:
    """Seconds on the clock and of the processor."""
    clock, processor = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - clock, time.process_time() - processor


def main() -> None:
    """Print the table; the least of several runs, since a shared machine only ever adds to it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("design", nargs="?", default="designs/curlew-box", type=Path)
    parser.add_argument("--runs", default=5, type=int)
    options = parser.parse_args()
    design = read_design(options.design).design
    assert design is not None, "the design does not read"
    build(design)
    plain, proved = [], []
    for _ in range(options.runs):
        plain.append(seconds(lambda: build(design)))
        proved.append(seconds(lambda: check(options.design)))
    prover = Prover(design)
    envelope = prover.proved().envelope
    assert envelope is not None, "the design cannot be built"
    one, all_of_it = (tuple(min(column) for column in zip(*rows, strict=True)) for rows in (plain, proved))
    print(f"one plain build       {one[0]:6.3f} s on the clock, {one[1]:6.3f} s of the processor")
    print(f"check with envelope   {all_of_it[0]:6.3f} s on the clock, {all_of_it[1]:6.3f} s of the processor")
    print(f"ratio                 {all_of_it[0] / one[0]:6.2f}                 {all_of_it[1] / one[1]:6.2f}")
    print(f"builds                {envelope.builds}, {prover.memory.recalled} operations and fits from memory")
    print(f"peak memory           {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main()
