"""Measures builds as they are run from the command line, and prints seconds and ratios. Run it by hand; it asserts nothing.

python tests/benchmarks/bench_many.py [MEASURE ...] [--design DESIGN]

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
"""WeasyPrint as it comes; the fonts are handed to it as in a build."""
PRESS = """
import sys
from pathlib import Path
from planbook.handbook import paper
from planbook.press import press
press(Path(sys.argv[1]).read_text("utf-8"), paper("a4"))
"""
TURNS = 3


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
    return _median([work() for _ in range(runs)])


def _median(took: Sequence[Took]) -> Took:
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
    book = folder / "book.html"
    book.write_text(compose_book(timeline, Edition("a4", "mm")), "utf-8")
    options = ("--paper", "a4", "--units", "mm")
    ways: dict[str, Callable[[], Took]] = {
        "WeasyPrint alone": lambda: run("-c", ALONE, str(book)),
        "press": lambda: run("-c", PRESS, str(book)),
        "cold, one process": lambda: built([design], folder / "out", *options, "--jobs", "1"),
        "cold, two processes": lambda: built([design], folder / "out", *options, "--jobs", "2"),
    }
    turns = [{name: way() for name, way in ways.items()} for _ in range(TURNS)]
    alone = _median([turn["WeasyPrint alone"] for turn in turns])
    for name in ways:
        took = _median([turn[name] for turn in turns])
        print(f"{name:33} {took}   {took.clock / alone.clock:5.2f} clock {took.cpu / alone.cpu:5.2f} of alone")
    print("cold / alone                      at most 1.5")


def memory(design: Path, folder: Path) -> None:
    """The most memory that a cold build holds, in all of its processes together."""
    for jobs in ("1", "2"):
        command = (
            "build",
            str(design),
            "-q",
            "--out",
            str(folder / jobs),
            "--paper",
            "a4",
            "--units",
            "mm",
            "-j",
            jobs,
        )
        print(
            f"peak of {jobs} process(es) together    {_peak('-m', 'planbook.cli', *command):7.0f} MB   (below 500 MB)"
        )


def _peak(*command: str) -> float:
    """The most MB resident in a process and all that it starts, looked at 50 times a second (Linux alone)."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PLANBOOK_CACHE": "none"}
    process, most = subprocess.Popen([sys.executable, *command], env=environment), 0
    while process.poll() is None:
        # A process that is about to become another program still has the memory and the name of its parent.
        most = max(most, sum({_name(each): _resident(each) for each in _family(process.pid)}.values()))
        time.sleep(0.02)
    assert process.returncode == 0
    return most / 2**20


def _family(process: int) -> list[int]:
    try:
        children = Path(f"/proc/{process}/task/{process}/children").read_text().split()
    except OSError:
        return []
    return [process, *(each for child in children for each in _family(int(child)))]


def _name(process: int) -> bytes:
    try:
        return Path(f"/proc/{process}/cmdline").read_bytes()
    except OSError:
        return b""


def _resident(process: int) -> int:
    try:
        return int(Path(f"/proc/{process}/statm").read_text().split()[1]) * resource.getpagesize()
    except (OSError, IndexError):
        return 0


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


MEASURES = {each.__name__: each for each in (nothing, hundred, sentence, press, memory, editions, processes)}


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
