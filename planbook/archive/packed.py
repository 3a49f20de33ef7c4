"""An export as it came from somebody else: what it says it holds, looked at before anything of it is unpacked."""

import hashlib
import re
import stat
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from planbook.archive import kinds
from planbook.archive.manifest import MOST_BYTES as LARGEST_MANIFEST
from planbook.archive.manifest import Manifest, read_manifest
from planbook.archive.names import counted, unsafe
from planbook.archive.problem import Damaged, Refused
from planbook.archive.store import FORM, MARK, OBJECTS, RELEASES
from planbook.text import Kind, Place

BROKEN = (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, ValueError, OSError, zlib.error)
"""What reading a broken zip file may raise: OSError where it points to places before its beginning."""
_CHUNK = 1 << 20
_OBJECT = re.compile(rf"{OBJECTS}/([0-9a-f]{{2}})/([0-9a-f]{{62}})")
_RELEASE = re.compile(rf"{RELEASES}/([^/]+)\.json")
_END, _END_BYTES, _LOCATOR = b"PK\x05\x06", 22, b"PK\x06\x07"
"""The end of a zip file without a comment, and what stands before it in one of 64 bits (APPNOTE 6.3.10, 4.3.15)."""
_ENTRY = 46 + 240
"""Bytes of one file in the list at the end, with the longest name."""


@dataclass(frozen=True, slots=True)
class Limits:
    """The most files, bytes in all and bytes of one file that an export may unpack to."""

    files: int = 20_000
    bytes: int = 2_000_000_000
    one: int = 500_000_000


LIMITS = Limits()


@dataclass(frozen=True, eq=False)
class Packed:
    """The releases of an export, and its objects by their SHA-256."""

    file: zipfile.ZipFile
    place: Place
    releases: tuple[Manifest, ...]
    objects: Mapping[str, zipfile.ZipInfo]

    def refuse(self, kind: Kind, headline: str) -> Refused:
        """The refusal of this export."""
        return Refused(kind.at(self.place, headline))

    def chunks(self, sha256: str) -> Iterator[bytes]:
        """An object, piece by piece. Raises Refused in the end where it does not have its checksum."""
        hashed = hashlib.sha256()
        try:
            with self.file.open(self.objects[sha256]) as stream:
                while chunk := stream.read(_CHUNK):
                    hashed.update(chunk)
                    yield chunk
        except BROKEN:
            raise self.refuse(kinds.EXPORT_DAMAGED, f"the object {sha256[:12]} cannot be unpacked") from None
        if hashed.hexdigest() != sha256:
            raise self.refuse(kinds.EXPORT_DAMAGED, f"the object {sha256[:12]} does not have its checksum")


@contextmanager
def unpacked(path: Path, limits: Limits = LIMITS) -> Iterator[Packed]:
    """An export, open, with its manifests read. Raises Refused for what planbook did not write, and OSError."""
    place = Place(path.as_posix().encode("utf-8", "replace").decode())
    if path.stat().st_size > limits.bytes:
        raise Refused(kinds.EXPORT_TOO_LARGE.at(place, f"it is larger than {limits.bytes} bytes"))
    _look_at_end(path, place, limits)
    try:
        file = zipfile.ZipFile(path)
    except BROKEN:
        raise Refused(kinds.NOT_AN_EXPORT.at(place, f"`{path.name}` is not a zip file, or is broken")) from None
    with file:
        infos = _listed(file, place, limits)
        releases = tuple(_manifests(file, infos, place))
        objects = {found[1] + found[2]: info for name, info in infos.items() if (found := _OBJECT.fullmatch(name))}
        packed = Packed(file, place, releases, objects)
        _whole(packed)
        yield packed


def _look_at_end(path: Path, place: Place, limits: Limits) -> None:
    """The list of files is read at once, so that its size is looked at first."""
    with path.open("rb") as file:
        file.seek(max(0, path.stat().st_size - _END_BYTES - 20))
        tail = file.read()
    end, before = tail[-_END_BYTES:], tail[:-_END_BYTES]
    if len(end) < _END_BYTES or not end.startswith(_END) or end[20:22] != b"\0\0" or before.startswith(_LOCATOR):
        headline = f"`{path.name}` is not a zip file as planbook writes it"
        raise Refused(kinds.NOT_AN_EXPORT.at(place, headline))
    if int.from_bytes(end[10:12], "little") > limits.files or int.from_bytes(end[12:16], "little") > (
        limits.files * _ENTRY
    ):
        raise Refused(kinds.EXPORT_TOO_LARGE.at(place, f"it holds more than {limits.files} files"))


def _listed(file: zipfile.ZipFile, place: Place, limits: Limits) -> dict[str, zipfile.ZipInfo]:
    """Every file of an export by its name."""
    found: dict[str, zipfile.ZipInfo] = {}
    total = 0
    if len(file.infolist()) > limits.files:
        raise Refused(kinds.EXPORT_TOO_LARGE.at(place, f"it holds more than {limits.files} files"))
    for info in file.infolist():
        why = _odd(info)
        if why or info.orig_filename in found:
            said = info.orig_filename[:100] if info.orig_filename.isprintable() else "one"
            headline = f"the file `{said}` in it {why or 'is there twice'}"
            raise Refused(kinds.EXPORT_NAME_UNSAFE.at(place, headline))
        total += info.file_size
        if info.file_size > limits.one or total > limits.bytes:
            raise Refused(kinds.EXPORT_TOO_LARGE.at(place, f"it unpacks to more than {limits.bytes} bytes"))
        found[info.orig_filename] = info
    return found


def _odd(info: zipfile.ZipInfo) -> str:
    """Why a file does not belong in an export, or ""."""
    name, mode = info.orig_filename, info.external_attr >> 16
    if unsafe(name):
        return unsafe(name)
    if stat.S_IFMT(mode) not in (0, stat.S_IFREG):
        return "is a link, or no plain file"
    if info.flag_bits & 0x1 or info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        return "is encrypted, or packed in a way that planbook does not use"
    return "" if name == MARK or _OBJECT.fullmatch(name) or _RELEASE.fullmatch(name) else "does not belong there"


def _manifests(file: zipfile.ZipFile, infos: Mapping[str, zipfile.ZipInfo], place: Place) -> Iterator[Manifest]:
    try:
        mark = file.read(infos[MARK]) if MARK in infos and infos[MARK].file_size <= len(FORM) else b""
        if mark != FORM.encode():
            raise Refused(kinds.NOT_AN_EXPORT.at(place, f"it has no `{MARK}` of this form of archive"))
        for name, info in infos.items():
            if found := _RELEASE.fullmatch(name):
                if info.file_size > LARGEST_MANIFEST:
                    raise Damaged(f"the manifest of `{found[1]}` is too large", found[1])
                yield read_manifest(file.read(info), found[1])
    except Damaged as problem:
        raise Refused(kinds.EXPORT_DAMAGED.at(place, str(problem))) from None
    except BROKEN:
        raise Refused(kinds.EXPORT_DAMAGED.at(place, "a manifest in it cannot be unpacked")) from None


def _whole(packed: Packed) -> None:
    """Every file that a release names is there, with its size, and nothing else."""
    if not packed.releases:
        raise packed.refuse(kinds.NOT_AN_EXPORT, "it holds no release")
    named: set[str] = set()
    for manifest in packed.releases:
        for entry in manifest.files:
            info = packed.objects.get(entry.sha256)
            if info is None:
                raise packed.refuse(kinds.EXPORT_DAMAGED, f"`{entry.path}` of `{manifest.name}` is missing in it")
            if info.file_size != entry.size:
                raise packed.refuse(kinds.EXPORT_DAMAGED, f"`{entry.path}` of `{manifest.name}` has another size")
            named.add(entry.sha256)
    if spare := packed.objects.keys() - named:
        raise packed.refuse(kinds.EXPORT_DAMAGED, f"no release in it names {counted(len(spare), 'object')}")
