"""Measures builds as they are run from the command line, and prints seconds and ratios. Run it by hand; it asserts nothing.

python tests/benchmarks/bench_many.py [nothing] [hundred] [sentence] [press] [editions] [processes] [--design DESIGN]

Each measure is a ratio within one run. On a machine that is shared, compare the seconds of the processor (of all
processes together), not those of the clock; only where several processes are meant to save time does the clock count.
"""

import argparse
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from planbook.cache import Folder
from planbook.pipeline import build
from planbook.pipeline.finished import Finished, Order, keep, key_of
from planbook.pipeline.wanted import Wanted

ROOT = Path(__file__).parents[2]
STARTER = ROOT / "planbook" / "cli" / "starter"
ALONE = """
import sys, weasyprint
from pathlib import Path
from planbook.press.fetch import Shelf
from planbook.press.press import _fetcher
html = Path(sys.argv[1]).read_text("utf-8")
weasyprint.HTML(string=html, url_fetcher=_fetcher(weasyprint, Shelf())).write_pdf(pdf_variant="pdf/ua-1", pdf_tags=True)
"""
"""WeasyPrint as it comes: no collector switched off, nothing read back; the fonts are handed to it as in a build."""


@dataclass(frozen=True)
class Took:
    """Seconds of the clock, and of the processor in all processes."""

    clock: float
    cpu: float

    def __str__(self) -> str:
        return f"{self.clock:7.2f} s clock {self.cpu:7.2f} s processor"


def run(*command: str, cache: Path | None = None) -> Took:
    """Run a command and all that it starts."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PLANBOOK_CACHE": str(cache or "none")}
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run([sys.executable, *command], env=environment, check=True, stdout=subprocess.DEVNULL)
    clock, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    return Took(clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)


def built(designs: Sequence[Path], out: Path, *options: str, cache: Path | None = None) -> Took:
    """One run of `planbook build`."""
    return run("-m", "planbook.cli", "build", *map(str, designs), "-q", "--out", str(out), *options, cache=cache)


def middle(work: Callable[[], Took], runs: int) -> Took:
    """The median of several runs."""
    took = [work() for _ in range(runs)]
    return Took(statistics.median(t.clock for t in took), statistics.median(t.cpu for t in took))


def copied(design: Path, to: Path) -> Path:
    """A copy of a design that may be changed."""
    return Path(shutil.copytree(design, to, ignore=shutil.ignore_patterns("__pycache__", "*.py")))


def nothing(design: Path, folder: Path) -> None:
    """Nothing changed since the last build."""
    cold = built([design], folder / "out", cache=folder / "cache")
    again = middle(lambda: built([design], folder / "out", cache=folder / "cache"), 7)
    missing = middle(lambda: built([design], Path(tempfile.mkdtemp(dir=folder)), cache=folder / "cache"), 7)
    print(f"cold                              {cold}")
    print(f"peak memory                       {resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024:7.0f} MB")
    print(f"nothing changed                   {again}   (below 0.4 s)")
    print(f"the same into an empty folder     {missing}")


def hundred(_: Path, folder: Path) -> None:
    """A hundred finished designs, of which nothing changed. One is built; the others are kept in its place."""
    store, wanted, designs = Folder(folder / "cache"), Wanted(), []
    for number in range(100):
        design = copied(STARTER, folder / f"block-{number}")
        toml = (design / "design.toml").read_text("utf-8")
        (design / "design.toml").write_text(toml.replace('title   = "', f'title   = "{number} '), "utf-8")
        designs.append(design)
    first = build(designs[0], wanted, folder / "out", cache=store)
    for number, design in enumerate(designs[1:], start=1):
        files = {path.name.replace("block-0", f"block-{number}"): path.read_bytes() for path in first.files}
        keep(store, key_of(Order(design, wanted)), Finished(first.findings, first.sources, files))
    built(designs, folder / "out", cache=folder / "cache")
    for jobs in ("1", "2"):
        again = middle(lambda jobs=jobs: built(designs, folder / "out", "--jobs", jobs, cache=folder / "cache"), 5)
        print(f"100 designs, nothing changed, {jobs} job  {again}   (below 2 s)")


def sentence(design: Path, folder: Path) -> None:
    """One sentence of the text changed."""
    copy, cache = copied(design, folder / design.name), folder / "cache"
    cold = built([copy], folder / "out", cache=cache)

    def changed() -> Took:
        steps = copy / "steps.md"
        lines = steps.read_text("utf-8").split("\n")
        place = max(n for n, line in enumerate(lines) if line.startswith("## ")) + 1
        steps.write_text("\n".join([*lines[:place], "", "One more sentence.", *lines[place:]]), "utf-8")
        return built([copy], folder / "out", cache=cache)

    warm = middle(changed, 2)
    print(f"cold                              {cold}")
    print(f"a sentence more                   {warm}")
    print(
        f"a sentence more / cold            {warm.clock / cold.clock:.2f} clock {warm.cpu / cold.cpu:.2f} (at most 0.5)"
    )


def press(design: Path, folder: Path) -> None:
    """A cold build beside WeasyPrint alone on its HTML."""
    from planbook.booklet import Edition
    from planbook.pipeline import check, compose_book

    timeline = check(design, nominal=False).timeline
    assert timeline is not None
    (folder / "book.html").write_text(compose_book(timeline, Edition("a4", "mm")), "utf-8")
    options = ("--paper", "a4", "--units", "mm")
    cold = middle(lambda: built([design], folder / "out", *options), 2)
    alone = middle(lambda: run("-c", ALONE, str(folder / "book.html")), 2)
    print(f"cold, one edition                 {cold}")
    print(f"WeasyPrint alone                  {alone}")
    print(
        f"cold / alone                      {cold.clock / alone.clock:.2f} clock {cold.cpu / alone.cpu:.2f} (at most 1.5)"
    )


def editions(design: Path, folder: Path) -> None:
    """Four editions beside one, on two processes."""
    one = built([design], folder / "one", "--paper", "a4", "--units", "mm", "--jobs", "2")
    options = ("--paper", "a4", "--paper", "letter", "--units", "mm", "--units", "in", "--jobs", "2")
    four = built([design], folder / "four", *options)
    print(f"one edition                       {one}")
    print(f"four editions, two processes      {four}")
    print(
        f"four / one                        {four.clock / one.clock:.2f} clock {four.cpu / one.cpu:.2f} (at most 2.6)"
    )


def processes(_: Path, folder: Path) -> None:
    """Ten designs on one process and on two, each with an empty cache."""
    designs = []
    for number in range(10):
        design = copied(STARTER, folder / f"block-{number}")
        toml = (design / "design.toml").read_text("utf-8")
        (design / "design.toml").write_text(toml.replace('"150 mm"', f'"{150 + number} mm"'), "utf-8")
        designs.append(design)
    took = [
        built(designs, folder / f"out{jobs}", "--jobs", str(jobs), cache=folder / f"cache{jobs}") for jobs in (1, 2)
    ]
    for jobs, each in enumerate(took, start=1):
        print(f"ten designs, {jobs} process            {each}")
    print(f"one / two                         {took[0].clock / took[1].clock:.2f} clock (at least 1.7)")


MEASURES = {each.__name__: each for each in (nothing, hundred, sentence, press, editions, processes)}


def main() -> None:
    """Print what was asked for, or everything."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("measures", nargs="*", metavar="MEASURE", help=", ".join(MEASURES))
    parser.add_argument("--design", default=ROOT / "designs" / "curlew-box", type=Path)
    options = parser.parse_args()
    for name in options.measures or MEASURES:
        with tempfile.TemporaryDirectory() as folder:
            MEASURES[name](options.design.resolve(), Path(folder))


if __name__ == "__main__":
    main()
