"""Writes whole files or nothing; it does not know what is in them."""

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path` in one move, so that an older file survives any failure on the way.

    Raises OSError when the folder cannot be written; nothing is left behind then.
    """
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:100]}.", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
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
