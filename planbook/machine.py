"""What on this machine has a say in how a page looks, beside the program and its libraries, and how it is used."""

import gc
import hashlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path

SETTINGS = (
    "FONTCONFIG_FILE",
    "FONTCONFIG_PATH",
    "FONTCONFIG_SYSROOT",
    "LANG",
    "LANGUAGE",
    "LC_ALL",
    "LC_CTYPE",
    "PANGO_LANGUAGE",
    "TZ",
)
"""Variables of the environment that the printing libraries read."""
LIBRARIES = ("/etc/ld.so.cache", "/opt/homebrew/lib", "/usr/local/lib")
"""These change whenever a system library such as Pango is installed or brought up to date."""
FONTS = (
    "/etc/fonts",
    "/usr/share/fonts",
    "/usr/local/share/fonts",
    "/Library/Fonts",
    "/System/Library/Fonts",
    "C:/Windows/Fonts",
    "~/.config/fontconfig",
    "~/.fonts",
    "~/.local/share/fonts",
    "~/Library/Fonts",
)
MOST_FOLDERS = 500
"""Folders of fonts looked at in each place."""
SELDOM = (50_000, 1_000, 1_000)
"""After so many new objects Python looks for those that only hold each other; a tenth of drawing by its own setting.

What outlives one look is not looked at again: that would take as long as a whole picture, and finds nothing.
"""


@contextmanager
def seldom_interrupted() -> Iterator[None]:
    """Meanwhile Python looks less often for objects that only hold each other, of which a build makes next to none."""
    before = gc.get_threshold()
    gc.set_threshold(*SELDOM)
    try:
        yield
    finally:
        gc.set_threshold(*before)


@cache
def surroundings() -> str:
    """A digest of the settings, the fonts and the system libraries of this machine.

    Folders count by the time at which something in them was last added, taken away or renamed.
    """
    told = [sys.platform, *(f"{name}={os.environ.get(name)!r}" for name in SETTINGS)]
    told += [_state(Path(path)) for path in LIBRARIES]
    for path in FONTS:
        told += [_state(folder) for folder in _folders(Path(os.path.expanduser(path)))]
    return hashlib.sha256("\0".join(told).encode("utf-8", "surrogateescape")).hexdigest()


def _folders(top: Path) -> Iterator[Path]:
    for count, (folder, inside, _) in enumerate(os.walk(top)):
        inside.sort()
        if count >= MOST_FOLDERS:
            return
        yield Path(folder)


def _state(path: Path) -> str:
    with suppress(OSError):
        facts = path.stat()
        return f"{path} {facts.st_mtime_ns} {facts.st_size}"
    return f"{path} -"
