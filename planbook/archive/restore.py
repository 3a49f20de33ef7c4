"""Writes the frozen files of a release into a folder of its own, whole or not at all."""

import os
import shutil
import tempfile
from pathlib import Path

from planbook.archive.archive import Archive
from planbook.archive.manifest import written
from planbook.archive.problem import ArchiveProblem

SUMS, MANIFEST = "SHA256SUMS", "release.json"
"""Beside the files: their checksums as `sha256sum --check` reads them, and the manifest."""


def restore(archive: Archive, name: str, out: Path) -> tuple[Path, tuple[Path, ...]]:
    """Write a release into `out/DESIGN-VERSION`, and return that folder and its files.

    Raises ArchiveProblem where there is no such release or something of that name is there already, Damaged where a
    file of it was changed, and OSError.
    """
    manifest = archive.release(name)
    folder = out / f"{manifest.design}-{manifest.number}"
    if folder.exists() or folder.is_symlink():
        raise ArchiveProblem(f"`{folder}` is there already; move it away, or name another folder")
    out.mkdir(parents=True, exist_ok=True)
    part = Path(tempfile.mkdtemp(prefix=".planbook-", dir=out))
    try:
        for entry in manifest.files:
            path = part / entry.path
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(archive.read(entry))
        sums = "".join(f"{entry.sha256}  {entry.path}\n" for entry in manifest.files)
        (part / SUMS).write_bytes(sums.encode())
        (part / MANIFEST).write_bytes(written(manifest))
        part.chmod(0o755)
        os.rename(part, folder)
    except BaseException:
        shutil.rmtree(part, ignore_errors=True)
        raise
    return folder, tuple(folder / path for path in (*(entry.path for entry in manifest.files), SUMS, MANIFEST))
