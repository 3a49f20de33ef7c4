"""The folder of an archive: objects named by their SHA-256, manifests, a lock. Not what the files mean.

    archive.json                the form of the archive
    objects/AB/CDEF...          each file under its SHA-256 in hexadecimal
    releases/DESIGN@VERSION.json
    catalogue.sqlite            made again from the releases whenever it is lost
    incoming/                   what is being written, or was when the program was stopped
    lock                        held by the one process that writes
    queue                       held by the one that is next, so that none can shut out the others

A file is written whole beside its place, brought to the disk, and moved there; the manifest of a release last.
"""

import os
import re
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from planbook.archive.problem import ArchiveProblem, Damaged

FORM = '{"form": 1, "what": "planbook archive"}\n'
MARK, OBJECTS, RELEASES, CATALOGUE, INCOMING, LOCK, QUEUE = (
    *("archive.json", "objects", "releases", "catalogue.sqlite", "incoming", "lock", "queue"),
)
PATIENCE = 60.0
"""Seconds to wait for another process that writes in the archive."""
LOOKS = 0.01
"""Seconds between two looks at a lock."""
WRITERS = 8
"""Files brought to the disk at a time."""
SMALL = 4_000_000
"""Files up to this many bytes are read in one go."""
A = TypeVar("A")
R = TypeVar("R")
SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class Store:
    """The files of an archive in a folder. All methods raise OSError where the system does not let them."""

    folder: Path

    @cached_property
    def releases(self) -> Path:
        """The folder of the manifests."""
        return self.folder / RELEASES

    @cached_property
    def incoming(self) -> Path:
        """The folder of what is being written."""
        return self.folder / INCOMING

    def object_path(self, sha256: str) -> Path:
        """Where an object lies."""
        return self.folder / OBJECTS / sha256[:2] / sha256[2:]

    def manifest_path(self, name: str) -> Path:
        """Where the manifest of the release `name` lies."""
        return self.releases / f"{name}.json"

    def need(self) -> None:
        """Raises ArchiveProblem where the folder is no archive."""
        if not self.releases.is_dir():
            what = "is not an archive" if self.folder.exists() else "does not exist; `planbook release` makes it"
            raise ArchiveProblem(f"the archive `{self.folder}` {what}")

    def _claim(self) -> None:
        """Make the folder, if it is missing. Raises ArchiveProblem for a folder of other things."""
        self.folder.mkdir(parents=True, exist_ok=True)
        ours = {MARK, OBJECTS, RELEASES, CATALOGUE, INCOMING, LOCK, QUEUE}
        if not self.releases.is_dir() and not ours.issuperset(os.listdir(self.folder)):
            raise ArchiveProblem(f"`{self.folder}` holds other files; name an empty folder for the archive")

    def _prepare(self) -> None:
        """Make what an archive has, if it is new; the lock is held."""
        if (self.folder / MARK).is_file() and self.incoming.is_dir():
            return
        for name in (INCOMING, OBJECTS, *(f"{OBJECTS}/{first:02x}" for first in range(256)), RELEASES):
            (self.folder / name).mkdir(exist_ok=True)
        _to_disk(self.folder / OBJECTS)
        self._place(self._written(FORM.encode()), self.folder / MARK)

    @contextmanager
    def writing(self, patience: float = PATIENCE) -> Iterator[None]:
        """Hold the lock of the archive; what a stopped process left behind is cleared away.

        Raises ArchiveProblem where another process holds the lock for longer than `patience` seconds.
        """
        self._claim()
        end = time.monotonic() + patience
        queue = self._taken(QUEUE, end)
        try:
            handle = self._taken(LOCK, end)
        finally:
            os.close(queue)
        try:
            self._prepare()
            self._clear()
            try:
                yield
            finally:
                self._clear()
        finally:
            os.close(handle)

    def _taken(self, name: str, end: float) -> int:
        """The handle of a lock that is ours until it is closed. Raises ArchiveProblem where that takes too long."""
        handle = os.open(self.folder / name, os.O_RDWR | os.O_CREAT, 0o666)
        while not _locked(handle):
            if time.monotonic() > end:
                os.close(handle)
                raise ArchiveProblem(f"another process is writing in the archive `{self.folder}`; try again later")
            time.sleep(LOOKS)
        return handle

    def _clear(self) -> None:
        """Nothing of `incoming` is wanted once it is in its place, or never will be."""
        for name in os.listdir(self.incoming):
            with suppress(OSError):
                os.unlink(self.incoming / name)

    def put(self, blobs: Iterable[bytes]) -> None:
        """Keep objects; the caller holds the lock. What lies there already is looked at, and mended if damaged."""
        import hashlib

        wanted = {hashlib.sha256(data).hexdigest(): data for data in blobs}
        parts = dict(zip(wanted, _at_once(self._part_of, wanted.items()), strict=True))
        self.adopt({sha256: part for sha256, part in parts.items() if part is not None})

    def adopt(self, parts: Mapping[str, Path]) -> None:
        """Move finished files of `incoming` to their places as objects; the caller holds the lock."""
        for sha256, part in parts.items():
            os.replace(part, self.object_path(sha256))
        _at_once(_to_disk, {self.object_path(sha256).parent for sha256 in parts})

    def put_manifest(self, name: str, data: bytes) -> None:
        """Make a release visible: every object it names must be there by now."""
        self._place(self._written(data), self.manifest_path(name))

    def read(self, sha256: str) -> bytes:
        """The object with this SHA-256. Raises Damaged where it is missing or something else."""
        import hashlib

        path = self.object_path(sha256)
        try:
            data = path.read_bytes()
        except FileNotFoundError:
            raise Damaged(f"the object {sha256} is missing", sha256) from None
        if hashlib.sha256(data).hexdigest() != sha256:
            raise Damaged(f"the object {sha256} was changed", sha256)
        return data

    def names(self) -> list[str]:
        """The names of all releases, as their manifests are named."""
        return sorted(name.removesuffix(".json") for name in os.listdir(self.releases) if name.endswith(".json"))

    def part(self) -> Path:
        """A new name in `incoming`."""
        return self.incoming / f"{os.getpid()}-{os.urandom(8).hex()}"

    def _part_of(self, wanted: tuple[str, bytes]) -> Path | None:
        sha256, data = wanted
        with suppress(OSError):
            if self.object_path(sha256).read_bytes() == data:
                return None
        return self._written(data)

    def _written(self, data: bytes) -> Path:
        """A file of `incoming` that holds the data, on the disk."""
        part = self.part()
        with part.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        return part

    def _place(self, part: Path, path: Path) -> None:
        os.replace(part, path)
        _to_disk(path.parent)


def _at_once(call: Callable[[A], R], values: Iterable[A]) -> list[R]:
    """What a call gives for each value; most of it is waiting for the disk, which takes several in one go."""
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(WRITERS) as pool:
        return list(pool.map(call, values))


def digest_of(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal. Raises OSError."""
    import hashlib

    with path.open("rb", buffering=0) as file:
        if os.fstat(file.fileno()).st_size <= SMALL:
            return hashlib.sha256(file.readall()).hexdigest()
        return hashlib.file_digest(file, "sha256").hexdigest()


def _to_disk(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    if sys.platform == "win32":  # there it is done with the file
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _locked(handle: int) -> bool:
    """Take the lock of an open file, if nobody else has it; it ends with the process."""
    try:
        if sys.platform == "win32":
            import msvcrt

            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True
