"""Takes the releases of an export into an archive, once every checksum of it has been found right."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from planbook.archive import kinds
from planbook.archive.archive import Archive
from planbook.archive.facts import read_facts
from planbook.archive.manifest import FACTS
from planbook.archive.packed import LIMITS, Limits, Packed, unpacked
from planbook.archive.policy import same_number
from planbook.archive.problem import Damaged
from planbook.archive.store import digest_of


@dataclass(frozen=True, slots=True)
class Imported:
    """The names of the releases that were taken, and of those that were there already."""

    new: tuple[str, ...]
    known: tuple[str, ...]


def import_releases(
    archive: Archive, path: Path, progress: Callable[[str], None] = lambda _: None, limits: Limits = LIMITS
) -> Imported:
    """Take in all releases of an export, or none.

    An object that the archive holds damaged is mended. Raises Refused for an export that is broken, too large, unsafe
    or at odds with the archive, ArchiveProblem where the archive cannot be used, and OSError.
    """
    with unpacked(path, limits) as packed, archive.store.writing():
        for manifest in packed.releases:
            found = same_number(archive, manifest.design, manifest.number, locked=True)
            if found is not None and found.contents != manifest.contents:
                text = f"the archive has another release with the number of `{manifest.name}`"
                raise packed.refuse(kinds.EXPORT_CONFLICT, text)
        progress("unpacking")
        parts = _unpack(archive, packed, limits)
        _facts(packed, parts)
        progress("writing")
        archive.store.adopt({sha256: part for sha256, part in parts.items() if not _sound(archive, sha256)})
        new = tuple(manifest.name for manifest in packed.releases if archive.admit(manifest))
    return Imported(new, tuple(m.name for m in packed.releases if m.name not in new))


def _unpack(archive: Archive, packed: Packed, limits: Limits) -> dict[str, Path]:
    """Every object beside its place, with its checksum found right. Raises Refused."""
    parts: dict[str, Path] = {}
    room = limits.bytes
    for sha256 in packed.objects:
        part = archive.store.part()
        parts[sha256] = part
        with part.open("xb") as out:
            for chunk in packed.chunks(sha256):
                room -= len(chunk)
                if room < 0:
                    raise packed.refuse(kinds.EXPORT_TOO_LARGE, f"it unpacks to more than {limits.bytes} bytes")
                out.write(chunk)
            out.flush()
            os.fsync(out.fileno())
    return parts


def _facts(packed: Packed, parts: Mapping[str, Path]) -> None:
    """The numbers of every release can be read, so that it can be compared."""
    for manifest in packed.releases:
        entry = manifest.entry(FACTS)
        try:
            read_facts(parts[entry.sha256].read_bytes() if entry else b"", manifest.name)
        except Damaged as problem:
            raise packed.refuse(kinds.EXPORT_DAMAGED, str(problem)) from None


def _sound(archive: Archive, sha256: str) -> bool:
    """Whether the archive has an object, and as it should be."""
    try:
        return digest_of(archive.store.object_path(sha256)) == sha256
    except OSError:
        return False
