"""Results kept between runs under the digest of what they were made from; losing them costs time and nothing else."""

import hashlib
import os
import re
import sys
from collections.abc import Callable
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Protocol

MOST_BYTES = 500_000_000
"""When the kept files are larger than this, the ones not used for longest are deleted."""
LEFT = 0.8
"""Share of MOST_BYTES that is left then."""
LIBRARIES = (
    "brotli",
    "cssselect2",
    "ezdxf",
    "font-source-sans-pro",
    "font-source-serif-pro",
    "fontpkg-source-code-pro",
    "fonttools",
    "jinja2",
    "lark",
    "manifold3d",
    "markdown-it-py",
    "markupsafe",
    "numpy",
    "pikepdf",
    "pillow",
    "pydantic",
    "pydyf",
    "pyphen",
    "python-bidi",
    "segno",
    "shapely",
    "svgwrite",
    "tinycss2",
    "tinyhtml5",
    "tree-sitter",
    "tree-sitter-toml",
    "uharfbuzz",
    "weasyprint",
    "zopfli",
)
"""Those that decide what is made: another version, other results."""
FOLDER = "PLANBOOK_CACHE"
"""Set this in the environment to the folder to keep results in, or to `none` to keep nothing."""


class Cache(Protocol):
    """Where results are kept."""

    def get(self, key: str) -> bytes | None:
        """What was put there under a key, or None."""

    def put(self, key: str, data: bytes) -> None:
        """Keep something; never raises."""

    def tidy(self) -> None:
        """Throw away what was not used for longest, if there is too much; never raises."""


class Forgetful:
    """Keeps nothing."""

    def get(self, key: str) -> bytes | None:
        """None."""
        return None

    def put(self, key: str, data: bytes) -> None:
        """Nothing."""

    def tidy(self) -> None:
        """Nothing."""


class Remembering:
    """Keeps results in memory for as long as it lives, and in another cache."""

    def __init__(self, beyond: Cache) -> None:
        self.beyond = beyond
        self.known: dict[str, bytes] = {}

    def get(self, key: str) -> bytes | None:
        """What was kept under a key, or None."""
        found = self.known.get(key) or self.beyond.get(key)
        if found is not None:
            self.known[key] = found
        return found

    def put(self, key: str, data: bytes) -> None:
        """Keep something."""
        self.known[key] = data
        self.beyond.put(key, data)

    def tidy(self) -> None:
        """Throw away what the other cache has too much of."""
        self.beyond.tidy()


class Folder:
    """Keeps results as files in a folder; a file that is broken or cannot be read or written counts as not there."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def get(self, key: str) -> bytes | None:
        """What was kept under a key, or None."""
        path = self._path(key)
        try:
            check, data = path.read_bytes().split(b"\n", 1)
            os.utime(path)
        except (OSError, ValueError):
            return None
        return data if check == _check(data) else None

    def put(self, key: str, data: bytes) -> None:
        """Keep something, whole or not at all."""
        path = self._path(key)
        part = path.with_suffix(f".{os.getpid()}-{os.urandom(4).hex()}")
        with suppress(OSError):
            path.parent.mkdir(parents=True, exist_ok=True)
            part.write_bytes(_check(data) + b"\n" + data)
            os.replace(part, path)

    def tidy(self) -> None:
        """Delete what was not used for longest once there is too much."""
        found = []
        for path in self.folder.glob("*/*"):
            with suppress(OSError):
                state = path.stat()
                found.append((state.st_mtime, state.st_size, path))
        total = sum(size for _, size, _ in found)
        if total <= MOST_BYTES:
            return
        for _, size, path in sorted(found):
            with suppress(OSError):
                path.unlink()
            total -= size
            if total <= LEFT * MOST_BYTES:
                return

    def _path(self, key: str) -> Path:
        name = hashlib.sha256(f"{program()} {key}".encode()).hexdigest()
        return self.folder / name[:2] / name[2:34]


def _check(data: bytes) -> bytes:
    return hashlib.sha256(data).hexdigest().encode()


def usual() -> Cache:
    """The cache of this user: in the folder that the environment names, or where the system keeps such files."""
    told = os.environ.get(FOLDER, "")
    if told == "none":
        return Forgetful()
    if told:
        return Folder(Path(told))
    try:
        home = Path(os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or Path.home() / ".cache")
    except RuntimeError:  # a user without a home
        return Forgetful()
    return Folder(home / "planbook")


def kept(store: Cache, key: str, make: Callable[[], bytes]) -> bytes:
    """What is kept under a key; made and put there if it is not."""
    found = store.get(key)
    if found is None:
        found = make()
        store.put(key, found)
    return found


@cache
def program() -> str:
    """A digest of this program and of the libraries that decide what it makes: another one, other results."""
    hashed = hashlib.sha256(sys.version.encode())
    package = Path(__file__).parent
    layouts = next((p for p in (package / "layouts", package.parent / "layouts") if p.is_dir()), package)
    for root in (package, layouts):
        for path in sorted(root.rglob("*")):
            if path.suffix != ".pyc" and path.is_file():
                hashed.update(f"{path.relative_to(root)}\0".encode())
                hashed.update(path.read_bytes())
    hashed.update("\0".join(versions()).encode("utf-8", "surrogateescape"))
    return hashed.hexdigest()


def versions() -> list[str]:
    """The libraries with their versions, off the names of their folders (PyPA, "Recording installed projects").

    Loading `importlib.metadata` to read them takes longer than all else that a finished booklet needs.
    """
    found = []
    for folder in dict.fromkeys(sys.path):
        with suppress(OSError):
            for entry in os.listdir(folder or "."):
                name, _, version = entry.removesuffix(".dist-info").partition("-")
                if entry.endswith(".dist-info") and re.sub(r"[-_.]+", "-", name).lower() in LIBRARIES:
                    found.append(f"{name} {version}")
    return sorted(found)
