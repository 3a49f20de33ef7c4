"""Writes whole files or nothing; it does not know what is in them."""

import os
import re
import tempfile
import unicodedata
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

_UNSAFE = re.compile(r"[^\w]+", re.ASCII)
_LONGEST = 80
_DEVICES = {"con", "prn", "aux", "nul", *(f"{name}{number}" for name in ("com", "lpt") for number in range(10))}
"""Names that one system keeps for devices, whatever the ending (Microsoft, "Naming Files, Paths, and Namespaces")."""


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
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:100]}.", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.writelines(data)
            file.flush()
            if wait:
                os.fsync(file.fileno())
        os.chmod(name, _usual_mode())
        os.replace(name, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise


def _usual_mode() -> int:
    """Files of `mkstemp` are readable by their owner only; a booklet is an ordinary file."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
