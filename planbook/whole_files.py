"""Writes whole files or nothing; it does not know what is in them."""

import os
import re
import tempfile
import time
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

_UNSAFE = re.compile(r"[^\w]+", re.ASCII)
_LONGEST = 80
_DEVICES = {"con", "prn", "aux", "nul", *(f"{name}{number}" for name in ("com", "lpt") for number in range(10))}
"""Names that one system keeps for devices, whatever the ending (Microsoft, "Naming Files, Paths, and Namespaces")."""
_PART = ".part"
_STALE_SECONDS = 3600.0


def file_name(words: str, taken: Iterable[str] = ()) -> str:
    """Words as the stem of a file name that every system takes: ASCII letters, digits and dashes, in lower case.

    It differs from the stems of the names in `taken` (by a number if need be).
    """
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    stem = _UNSAFE.sub("-", plain.replace("_", "-").lower()).strip("-")[:_LONGEST].rstrip("-") or "file"
    stem = f"{stem}-1" if stem in _DEVICES else stem
    stems = {name.rsplit(".", 1)[0] for name in taken}
    number, found = 2, stem
    while found in stems:
        found, number = f"{stem}-{number}", number + 1
    return found


def write_whole(path: Path, *data: bytes, wait: bool = True) -> None:
    """Put `data` at `path` in one move, so that an older file survives any failure on the way.

    Without `wait` the disk may still be busy with it: for files that can be made again should the power fail.
    Raises OSError when the folder cannot be written; nothing is left behind then.
    """
    _put({path: data}, wait)


def write_together(files: Mapping[Path, bytes]) -> None:
    """Put all files in their places once all of them are written, so that a failure leaves the older ones alone.

    Folders are made if they are not there. Raises OSError; what an earlier process left half written is swept away.
    """
    for folder in {path.parent for path in files}:
        folder.mkdir(parents=True, exist_ok=True)
    _put({path: (data,) for path, data in files.items()})
    for path in files:
        _sweep(path)


def _put(files: Mapping[Path, Sequence[bytes]], wait: bool = True) -> None:
    parts: list[tuple[str, Path]] = []
    try:
        for path, data in files.items():
            handle, name = tempfile.mkstemp(prefix=_prefix(path), suffix=_PART, dir=path.parent)
            parts.append((name, path))
            with os.fdopen(handle, "wb") as file:
                file.writelines(data)
                file.flush()
                if wait:
                    os.fsync(file.fileno())
            os.chmod(name, _usual_mode())
        while parts:
            os.replace(*parts[0])
            parts.pop(0)
    except BaseException:
        for name, _ in parts:
            with suppress(OSError):
                os.unlink(name)
        raise


def _sweep(path: Path) -> None:
    """Delete what a process that was killed left half written: it is old by now, or nobody would still write it."""
    with suppress(OSError):
        for part in path.parent.iterdir():
            if part.name.startswith(_prefix(path)) and part.name.endswith(_PART):
                with suppress(OSError):
                    if time.time() - part.stat().st_mtime > _STALE_SECONDS:
                        part.unlink()


def _prefix(path: Path) -> str:
    return f".{path.name[:100]}."


def _usual_mode() -> int:
    """Files of `mkstemp` are readable by their owner only; a booklet is an ordinary file."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
