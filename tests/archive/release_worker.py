"""Releases one version after another into an archive, and says so, until it is stopped; run as a process of its own.

`release_worker.py ARCHIVE DESIGN [EXPORT]`: with an EXPORT, its releases are taken in instead, once.
"""

import json
import sys
from dataclasses import replace
from pathlib import Path

from planbook.archive import Archive
from planbook.archive.importing import import_releases
from planbook.archive.manifest import About, Made, Manifest

ABOUT = About("Tern box", "", "Saltmarsh Workshop", "mm", "", "", "", ("ash",), (), (), (), (), ())
MADE = Made("0.1.0", "0", "3.11", {})
FILES = 12


def say(word: str) -> None:
    print(word, flush=True)


def main(folder: str, design: str, export: str = "") -> None:
    archive = Archive(Path(folder))
    say("ready")
    if export:
        for name in import_releases(archive, Path(export)).new:
            say(name)
        return
    first = Manifest(design, "1.0", "2026-03-01T10:00:00Z", ABOUT, MADE, ())
    for number in range(1000):
        manifest = replace(first, version=f"1.{number}")
        files = {f"source/part-{n}": json.dumps([design, number, n]).encode() * 200 for n in range(FILES)}
        archive.add(manifest, files)
        say(manifest.name)


if __name__ == "__main__":
    main(*sys.argv[1:])
