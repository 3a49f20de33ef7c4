"""Looks at everything in an archive and says what is not as it was written; it mends nothing but the catalogue."""

import os
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from planbook.archive import kinds
from planbook.archive.archive import Archive
from planbook.archive.catalogue import as_it_lies, made_again
from planbook.archive.manifest import Manifest
from planbook.archive.names import counted
from planbook.archive.problem import ArchiveProblem, Damaged
from planbook.archive.store import CATALOGUE, INCOMING, LOCK, MARK, OBJECTS, QUEUE, RELEASES, SHA256, digest_of
from planbook.text import Finding, Kind, Place, in_order

MOST_NAMED = 4
BESIDE: tuple[str, ...] = ("buyers.sqlite", "buyers.sqlite-journal")
"""Files of planbook that may lie beside those of the archive, and belong to no release: the register of buyers."""


@dataclass(frozen=True, slots=True)
class Verified:
    """What was looked at, and what is wrong."""

    findings: tuple[Finding, ...]
    releases: int
    objects: int
    bytes: int


def verify(archive: Archive, progress: Callable[[str], None] = lambda _: None) -> Verified:
    """Read every file of an archive, and compare it with its checksum.

    Raises ArchiveProblem where there is no archive, and OSError.
    """
    archive.store.need()
    manifests: list[Manifest] = []
    findings: list[Finding] = []
    for name in archive.store.names():
        try:
            manifests.append(archive.manifest(name))
        except Damaged as problem:
            findings.append(_at(kinds.MANIFEST_UNREADABLE, archive, f"{RELEASES}/{name}.json", str(problem)))
    findings += _catalogue(archive, manifests)
    found: dict[str, int] = {}
    changed: set[str] = set()
    for number, (path, size) in enumerate(_objects(archive, findings)):
        if number % 100 == 0:
            progress(f"reading object {number + 1}")
        sha256 = path.parent.name + path.name
        found[sha256] = size
        if digest_of(path) != sha256:
            findings.append(_changed(archive, sha256, manifests))
            changed.add(sha256)
    findings += _missing(archive, manifests, found, changed)
    findings += _unused(archive, manifests, found)
    return Verified(in_order(findings), len(manifests), len(found), sum(found.values()))


def _changed(archive: Archive, sha256: str, manifests: list[Manifest]) -> Finding:
    users = [f"{m.name}: {entry.path}" for m in manifests for entry in m.files if entry.sha256 == sha256]
    return _at(
        kinds.OBJECT_CHANGED,
        archive,
        _object(sha256),
        f"the object {sha256[:12]} is not what was put there",
        tuple(f"it belongs to {_some(users)}" for _ in users[:1]),
    )


def _missing(
    archive: Archive, manifests: list[Manifest], found: dict[str, int], changed: set[str]
) -> Iterator[Finding]:
    lost: dict[str, list[str]] = {}
    for manifest in manifests:
        for entry in manifest.files:
            if entry.sha256 not in found:
                lost.setdefault(entry.sha256, []).append(f"{manifest.name}: {entry.path}")
            elif found[entry.sha256] != entry.size and entry.sha256 not in changed:
                text = f"`{manifest.name}` gives {entry.path} another size than it has"
                yield _at(kinds.MANIFEST_UNREADABLE, archive, f"{RELEASES}/{manifest.name}.json", text)
    for sha256, users in lost.items():
        text = f"the object {sha256[:12]} is missing"
        yield _at(kinds.OBJECT_MISSING, archive, _object(sha256), text, (f"it belongs to {_some(users)}",))


def _unused(archive: Archive, manifests: list[Manifest], found: dict[str, int]) -> Iterator[Finding]:
    spare = found.keys() - {entry.sha256 for manifest in manifests for entry in manifest.files}
    if spare:
        size = sum(found[sha256] for sha256 in spare)
        text = f"no release names {counted(len(spare), 'object')} ({counted(size, 'byte')})"
        yield _at(kinds.OBJECT_UNUSED, archive, OBJECTS, text)


def _objects(archive: Archive, findings: list[Finding]) -> Iterator[tuple[Path, int]]:
    """Every object with its size, in the order of their names; what is none is a finding."""
    allowed = {MARK, OBJECTS, RELEASES, INCOMING, LOCK, QUEUE, CATALOGUE, f"{CATALOGUE}-journal", *BESIDE}

    def strange(path: Path) -> None:
        name = path.relative_to(archive.folder).as_posix()
        findings.append(_at(kinds.STRANGE_FILE, archive, name, f"`{name}` is no part of an archive"))

    for path in _sorted(archive.folder):
        if path.name not in allowed or path.is_symlink():
            strange(path)
    for path in _sorted(archive.store.releases):
        if path.suffix != ".json" or not _plain(path):
            strange(path)
    root = archive.folder / OBJECTS
    for folder in _sorted(root) if root.is_dir() and not root.is_symlink() else ():
        if not folder.is_dir() or folder.is_symlink() or len(folder.name) != 2:
            strange(folder)
            continue
        for entry in sorted(os.scandir(folder), key=lambda entry: entry.name):
            if SHA256.fullmatch(folder.name + entry.name) and entry.is_file(follow_symlinks=False):
                yield Path(entry.path), entry.stat().st_size
            else:
                strange(Path(entry.path))


def _catalogue(archive: Archive, manifests: list[Manifest]) -> Iterator[Finding]:
    """A finding where the catalogue does not agree with the manifests, which has then been made again."""
    there = (archive.folder / CATALOGUE).is_file()
    rows = as_it_lies(archive.store) if there else None
    known = None if rows is None else {row.name: (row.seal, row.title, row.files, row.bytes) for row in rows}
    wanted = {m.name: (m.seal, m.about.title, len(m.files), m.bytes) for m in manifests}
    if known == wanted or not (there or wanted):
        return
    what = "did not agree with the releases" if known is not None else "was broken" if there else "was missing"
    try:
        made_again(archive.store)
        hint = ""
    except (OSError, ArchiveProblem):
        what, hint = f"{what}, and cannot be made again", "let planbook write in the folder"
    yield _at(kinds.CATALOGUE_WRONG, archive, CATALOGUE, f"the catalogue {what}", hint=hint)


def _sorted(folder: Path) -> list[Path]:
    return [folder / name for name in sorted(os.listdir(folder))]


def _plain(path: Path) -> bool:
    return stat.S_ISREG(path.lstat().st_mode)


def _object(sha256: str) -> str:
    return f"{OBJECTS}/{sha256[:2]}/{sha256[2:]}"


def _some(users: list[str]) -> str:
    more = f" and {len(users) - MOST_NAMED} more" if len(users) > MOST_NAMED else ""
    return "; ".join(users[:MOST_NAMED]) + more


def _at(kind: Kind, archive: Archive, name: str, headline: str, notes: tuple[str, ...] = (), hint: str = "") -> Finding:
    place = Place((archive.folder / name).as_posix().encode("utf-8", "replace").decode())
    return kind.at(place, headline, notes=notes, hint=hint)
