"""How an archive grows: cost per release, list, search and verify, with a thousand generated releases.

    python tests/benchmarks/bench_archive.py [--releases 1000] [--kilobytes 60] [--folder DIR]

Costs are compared within one run: releases into an archive of about 100 and into one of about 1,000, in turns; verify with the time that
`sha256sum` of coreutils takes for the same files; a command with `planbook --version`.
"""

import argparse
import random
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from planbook.archive import Archive
from planbook.archive.facts import Facts, Measure, PieceFact, facts_json
from planbook.archive.manifest import About, Made, Manifest
from planbook.archive.verify import verify

WOODS = ("black cherry", "sugar maple", "white ash", "walnut", "white oak", "birch plywood")
THINGS = ("box", "shelf", "stool", "tray", "puzzle", "lamp", "bench", "rack", "chest", "frame")
BIRDS = ("curlew", "heron", "tern", "gull", "plover", "dunlin", "avocet", "petrel", "eider", "scoter")
WINDOW, SMALL = 60, 70
FILES = 24


def generated(number: int, kilobytes: int) -> tuple[Manifest, dict[str, bytes]]:
    """A release of one of a hundred designs, ten versions of each in a row."""
    chance = random.Random(number)
    design = f"{BIRDS[number // 10 % 10]}-{THINGS[number // 100 % 10]}"
    title, woods = design.replace("-", " ").capitalize(), tuple(chance.sample(WOODS, 2))
    sizes = {f"size {n}": Measure(float(chance.randrange(1000)), "length") for n in range(30)}
    pieces = {f"piece {n}": PieceFact((100.0, 50.0, 20.0), 1e5, woods, "part") for n in range(20)}
    facts = Facts(title, "mm", {"title": title}, sizes, pieces, (), {}, {}, {}, (), {})
    steps = tuple(f"{chance.choice(('Saw', 'Sand', 'Glue', 'Bore'))} the {chance.choice(THINGS)}" for _ in range(30))
    about = About(
        title, f"A {title}.", "Saltmarsh Workshop", "mm", "", "", "", woods, tuple(pieces), steps, (), ("band saw",), ()
    )
    made = Made("0.1.0", "0" * 64, "3.11", {"numpy": "2.0"})
    manifest = Manifest(design, f"1.{number % 10}", "2026-03-01T10:00:00Z", about, made, ())
    each = kilobytes * 1000 // FILES
    files = {f"booklets/part-{n}.pdf": chance.randbytes(each) for n in range(FILES - 1)}
    return manifest, {**files, "facts.json": facts_json(facts)}


def seconds(call, times: int = 7) -> float:
    """The median time of a call."""
    found = []
    for _ in range(times):
        begun = time.perf_counter()
        call()
        found.append(time.perf_counter() - begun)
    return statistics.median(found)


def command(*args: object) -> float:
    """The median time of a command line."""
    line = [sys.executable, "-m", "planbook.cli", *map(str, args)]
    return seconds(lambda: subprocess.run(line, check=True, capture_output=True))


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--releases", type=int, default=1000)
    options.add_argument("--kilobytes", type=int, default=60)
    options.add_argument("--folder", type=Path)
    asked = options.parse_args()
    root = Path(tempfile.mkdtemp(dir=asked.folder))
    try:
        measure(Archive(root / "archive"), asked.releases, asked.kilobytes)
    finally:
        shutil.rmtree(root)


def timed(archive: Archive, number: int, kilobytes: int) -> tuple[float, float]:
    """Seconds on the clock and of the processor for one release."""
    manifest, files = generated(number, kilobytes)
    begun = time.perf_counter(), time.process_time()
    assert archive.add(manifest, files)
    return time.perf_counter() - begun[0], time.process_time() - begun[1]


def grown(small: Archive, large: Archive, releases: int, kilobytes: int) -> None:
    """Releases into a small and a large archive in turns, so that other work on the machine slows both."""
    for number in range(SMALL):
        timed(small, number, kilobytes)
    for number in range(releases - WINDOW):
        timed(large, number, kilobytes)
    took = [
        (timed(small, SMALL + number, kilobytes), timed(large, releases - WINDOW + number, kilobytes))
        for number in range(WINDOW)
    ]
    for which, name in enumerate(("clock", "processor")):
        at = [statistics.median(pair[side][which] for pair in took) for side in (0, 1)]
        text = f"{1000 * at[0]:.1f} ms from {SMALL} releases on, {1000 * at[1]:.1f} ms up to {releases}"
        print(f"one release ({name}): {text}, ratio {at[1] / at[0]:.2f}", flush=True)


def measure(archive: Archive, releases: int, kilobytes: int) -> None:
    grown(Archive(archive.folder.with_name("small")), archive, releases, kilobytes)

    def listing() -> None:
        with archive.catalogue() as catalogue:
            assert len(catalogue.rows()) == releases

    def searching() -> None:
        with archive.catalogue() as catalogue:
            assert catalogue.search("curlew walnut")

    def one() -> None:
        archive.row("curlew-box")

    for name, call in (("list", listing), ("search", searching), ("find one", one)):
        print(f"{name}, in the process: {1000 * seconds(call):.1f} ms")
    bare = command("--version")
    for words in (("list",), ("search", "curlew", "walnut")):
        took = command("archive", *words, "--archive", archive.folder)
        print(f"planbook archive {words[0]}: {1000 * took:.0f} ms, {1000 * (took - bare):.0f} more than --version")
    objects = [path for path in (archive.folder / "objects").rglob("*") if path.is_file()]
    size = sum(path.stat().st_size for path in objects)
    names = "\0".join(map(str, objects)).encode()
    plain = seconds(
        lambda: subprocess.run(["xargs", "-0", "sha256sum"], input=names, check=True, capture_output=True), 3
    )
    whole = seconds(lambda: verify(archive), 3)
    print(f"verify: {whole:.2f} s for {len(objects)} objects, {size / 1e6:.0f} MB; sha256sum alone {plain:.2f} s")
    begun = time.perf_counter()
    (archive.folder / "catalogue.sqlite").unlink()
    listing()
    print(f"a lost catalogue made again: {time.perf_counter() - begun:.2f} s")


if __name__ == "__main__":
    main()
