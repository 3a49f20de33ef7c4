"""Writes releases of an archive into one file for somebody else: manifests and objects, and nothing of any buyer."""

import os
import tempfile
import zipfile
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

from planbook.archive.archive import Archive
from planbook.archive.manifest import written
from planbook.archive.store import FORM, MARK, OBJECTS, RELEASES

_DAY = (1980, 1, 1, 0, 0, 0)
"""The first day that a zip file knows, so that the same releases make the same file."""


def export(archive: Archive, names: Iterable[str], out: Path) -> tuple[str, ...]:
    """Write releases into the zip file `out`, whole, and return their full names.

    Raises ArchiveProblem where there is no such release, Damaged where one is not whole, and OSError.
    """
    manifests = {found.name: found for found in map(archive.release, names)}
    out.parent.mkdir(parents=True, exist_ok=True)
    handle, part = tempfile.mkstemp(prefix=f".{out.name[:100]}.", suffix=".part", dir=out.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, allowZip64=False) as packed:
                _put(packed, MARK, FORM.encode())
                for name in sorted(manifests):
                    _put(packed, f"{RELEASES}/{name}.json", written(manifests[name]))
                entries = {entry.sha256: entry for found in manifests.values() for entry in found.files}
                for sha256 in sorted(entries):
                    _put(packed, f"{OBJECTS}/{sha256[:2]}/{sha256[2:]}", archive.read(entries[sha256]))
            file.flush()
            os.fsync(file.fileno())
        os.chmod(part, 0o644)
        os.replace(part, out)
    except BaseException:
        with suppress(OSError):
            os.unlink(part)
        raise
    return tuple(sorted(manifests))


def _put(packed: zipfile.ZipFile, name: str, data: bytes) -> None:
    info = zipfile.ZipInfo(name, _DAY)
    info.compress_type, info.external_attr, info.create_system = zipfile.ZIP_DEFLATED, 0o644 << 16, 3
    packed.writestr(info, data)
