"""A build that is killed at any moment leaves every file whole, the older one or the new one, and its cache sound."""

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planbook.cache import Folder
from planbook.pipeline import build
from planbook.pipeline.wanted import Wanted

STARTER = Path(__file__).parents[2] / "planbook" / "cli" / "starter"
LOOP = """
import sys
from itertools import cycle
from pathlib import Path
from planbook.cache import Folder
from planbook.pipeline import build
from planbook.pipeline.wanted import Wanted
*designs, out, cache = map(Path, sys.argv[1:])
if not cache.exists():  # what is loaded now need not be while the clock runs
    import planbook.booklet, planbook.press, planbook.takeoff, planbook.workshop.envelope
print("ready", flush=True)
for design in cycle(designs):
    build(design, Wanted(), out, cache=Folder(cache))
"""
QUICK, SLOW = 40, 6
"""Kills while finished booklets are put in place, one after the other; and while they are really built."""


def _killed(designs: list[Path], out: Path, cache: Path, after: float) -> None:
    command = [sys.executable, "-c", LOOP, *map(str, designs), str(out), str(cache)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE)
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == b"ready\n"
        time.sleep(after)
    finally:
        process.send_signal(signal.SIGKILL)
        process.communicate()


@pytest.mark.slow
def test_a_build_that_is_killed_leaves_whole_files(tmp_path: Path) -> None:
    rng, out, cache = random.Random(20), tmp_path / "out", tmp_path / "cache"
    versions: dict[Path, dict[str, bytes]] = {}
    for number in (1, 2):
        design = tmp_path / str(number) / "box"
        shutil.copytree(STARTER, design, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
        toml = design / "design.toml"
        toml.write_text(toml.read_text("utf-8").replace('version = "1.0"', f'version = "1.{number}"'), "utf-8")
        built = build(design, Wanted(), tmp_path / f"whole{number}", cache=Folder(cache))
        versions[design] = {path.name: path.read_bytes() for path in built.files}
    seen = set()
    for count in range(QUICK + SLOW):
        quick = count < QUICK
        _killed(list(versions), out, cache if quick else tmp_path / f"cold{count}", rng.uniform(0, 0.3 if quick else 5))
        for path in out.glob("[!.]*"):
            owner = [number for number, files in enumerate(versions.values()) if files[path.name] == path.read_bytes()]
            assert owner, f"{path.name} is neither the older nor the new one after kill {count}"
            seen.add((path.suffix, *owner))
    assert {(".pdf", 0), (".pdf", 1)} <= seen, "both versions were being written"
    for design, files in versions.items():
        for store in (cache, tmp_path / f"cold{QUICK}"):
            build(design, Wanted(), out, cache=Folder(store))
            assert {path.name: path.read_bytes() for path in out.glob("[!.]*")} == files


def test_what_was_left_half_written_is_swept_away_later(tmp_path: Path) -> None:
    from planbook.whole_files import write_together

    old, fresh, other = (tmp_path / name for name in (".box.pdf.a1.part", ".box.pdf.b2.part", ".else.pdf.c3.part"))
    for part in (old, fresh, other):
        part.write_bytes(b"ha")
    for part in (old, other):
        os.utime(part, (1, 1))
    write_together({tmp_path / "box.pdf": b"whole", tmp_path / "sub" / "box.csv": b"list"})
    assert {path.name for path in tmp_path.iterdir()} == {"box.pdf", "sub", fresh.name, other.name}


def test_nothing_is_put_in_place_if_one_of_the_files_cannot_be_written(tmp_path: Path) -> None:
    from planbook.whole_files import write_together

    (tmp_path / "box.pdf").write_bytes(b"old")
    (tmp_path / "sub").write_bytes(b"a file, not a folder")
    with pytest.raises(OSError):
        write_together({tmp_path / "box.pdf": b"new", tmp_path / "sub" / "box.csv": b"list"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {
        "box.pdf": b"old",
        "sub": b"a file, not a folder",
    }
