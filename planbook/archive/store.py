"""The folder of an archive: objects named by their SHA-256, manifests, a lock. Not what the files mean.

    archive.json                the form of the archive
    objects/AB/CDEF...          each file under its SHA-256 in hexadecimal
    releases/DESIGN@VERSION.json
    catalogue.sqlite            made again from the releases whenever it is lost
    incoming/                   what is being written, or was when the program was stopped
    lock                        held by the one process that writes

A file is written whole beside its place, brought to the disk, and moved there; the manifest of a release last.
"""

import hashlib
import os
import re
import secrets
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from planbook.archive.problem import ArchiveProblem, Damaged

FORM = '{"form": 1, "what": "planbook archive"}\n'
MARK, OBJECTS, RELEASES, CATALOGUE, INCOMING, LOCK = (
    *("archive.json", "objects", "releases", "catalogue.sqlite", "incoming", "lock"),
)
PATIENCE = 60.0
"""Seconds to wait for another process that writes in the archive."""
SHA256 = re.compile(r"[0-9a-f]{64}")
_CHUNK = 1 << 20


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

    def prepare(self) -> None:
        """Make the archive, if the folder is missing or empty. Raises ArchiveProblem for a folder of other things."""
        self.folder.mkdir(parents=True, exist_ok=True)
        ours = {MARK, OBJECTS, RELEASES, CATALOGUE, INCOMING, LOCK}
        if not self.releases.is_dir() and not ours.issuperset(os.listdir(self.folder)):
            raise ArchiveProblem(f"`{self.folder}` holds other files; name an empty folder for the archive")
        for name in (OBJECTS, INCOMING, RELEASES):
            (self.folder / name).mkdir(exist_ok=True)
        if not (self.folder / MARK).is_file():
            self._place(self._written(FORM.encode()), self.folder / MARK)

    @contextmanager
    def writing(self, patience: float = PATIENCE) -> Iterator[None]:
        """Hold the lock of the archive; what a stopped process left behind is cleared away.

        Raises ArchiveProblem where another process holds the lock for longer than `patience` seconds.
        """
        self.prepare()
        handle = os.open(self.folder / LOCK, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            end = time.monotonic() + patience
            while not _locked(handle):
                if time.monotonic() > end:
                    raise ArchiveProblem(f"another process is writing in the archive `{self.folder}`; try again later")
                time.sleep(0.05)
            for name in os.listdir(self.incoming):
                os.unlink(self.incoming / name)
            yield
        finally:
            os.close(handle)

    def put(self, data: bytes) -> str:
        """Keep an object and return its SHA-256. What lies there already is looked at, and mended if it is damaged."""
        sha256 = hashlib.sha256(data).hexdigest()
        path = self.object_path(sha256)
        with suppress(OSError):
            if path.read_bytes() == data:
                return sha256
        self.adopt(self._written(data), sha256)
        return sha256

    def adopt(self, part: Path, sha256: str) -> None:
        """Move a finished file of `incoming` to its place as an object."""
        path = self.object_path(sha256)
        if not path.parent.is_dir():
            path.parent.mkdir(exist_ok=True)
            _to_disk(path.parent.parent)
        self._place(part, path)

    def put_manifest(self, name: str, data: bytes) -> None:
        """Make a release visible: every object it names must be there by now."""
        self._place(self._written(data), self.manifest_path(name))

    def read(self, sha256: str) -> bytes:
        """The object with this SHA-256. Raises Damaged where it is missing or something else."""
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
        return self.incoming / f"{os.getpid()}-{secrets.token_hex(8)}"

    def _written(self, data: bytes) -> Path:
        """A file of `incoming` that holds the data, on the disk; nothing is left behind where that fails."""
        part = self.part()
        try:
            handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666)
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        except BaseException:
            with suppress(OSError):
                os.unlink(part)
            raise
        return part

    def _place(self, part: Path, path: Path) -> None:
        try:
            os.replace(part, path)
        except BaseException:
            with suppress(OSError):
                os.unlink(part)
            raise
        _to_disk(path.parent)


def digest_of(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal. Raises OSError."""
    with path.open("rb", buffering=0) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _to_disk(folder: Path) -> None:
    """Bring the names in a folder to the disk, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _locked(handle: int) -> bool:
    """Take the lock of an open file, if nobody else has it; it ends with the process."""
    import sys

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
