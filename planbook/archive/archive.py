"""An archive of releases: finding, reading and adding them; the folder and the catalogue are behind it.

What a list or a search does not need is imported where it is used.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.archive.catalogue import Catalogue, Row, opened
from planbook.archive.names import Ref, read_ref
from planbook.archive.problem import ArchiveProblem, Damaged
from planbook.archive.store import Store

if TYPE_CHECKING:
    from planbook.archive.compare import Comparison
    from planbook.archive.facts import Facts
    from planbook.archive.manifest import Entry, Manifest


@dataclass(frozen=True)
class Archive:
    """The archive in a folder. Reading raises ArchiveProblem where there is none, Damaged where a file was changed."""

    folder: Path

    @cached_property
    def store(self) -> Store:
        """Its files."""
        return Store(self.folder)

    @contextmanager
    def catalogue(self, locked: bool = False) -> Iterator[Catalogue]:
        """Its catalogue, open and up to date; `locked` says that the caller holds the lock."""
        with opened(self.store, locked) as catalogue:
            yield catalogue

    def row(self, name: str) -> Row:
        """What the catalogue says of a release, `DESIGN@VERSION` or `DESIGN` for the greatest version of it.

        Raises ArchiveProblem where there is no such release.
        """
        ref = read_ref(name)
        with self.catalogue() as catalogue:
            found = catalogue.find(ref)
            if found is not None:
                return found
            others = [row.name for row in catalogue.rows(ref.design)][::-1] or _near(ref.design, catalogue.designs())
        hint = f"; there is {', '.join(f'`{other}`' for other in others[:4])}" if others else ""
        raise ArchiveProblem(f"there is no release `{ref}` in `{self.folder}`{hint}")

    def release(self, name: str) -> "Manifest":
        """The manifest of a release, by its name as for `row`."""
        return self.manifest(self.row(name).name)

    def manifest(self, name: str) -> "Manifest":
        """The manifest of the release with exactly this name."""
        from planbook.archive.manifest import read_manifest

        path = self.store.manifest_path(name)
        try:
            return read_manifest(path.read_bytes(), name)
        except FileNotFoundError:
            raise Damaged(f"the manifest of `{name}` is missing", name) from None

    def read(self, entry: "Entry") -> bytes:
        """A file of a release, as it was frozen."""
        return self.store.read(entry.sha256)

    def booklets(self, name: str) -> dict[str, bytes]:
        """The booklets of a release as PDF, by their file names, such as `curlew-box-a4-mm.pdf`."""
        from planbook.archive.manifest import BOOKLETS

        found = self.release(name).under(BOOKLETS)
        return {entry.path.split("/")[-1]: self.read(entry) for entry in found if entry.path.endswith(".pdf")}

    def facts(self, manifest: "Manifest") -> "Facts":
        """The numbers of a release."""
        from planbook.archive.facts import read_facts
        from planbook.archive.manifest import FACTS

        entry = manifest.entry(FACTS)
        if entry is None:
            raise Damaged(f"the release `{manifest.name}` has no facts", manifest.name)
        return read_facts(self.read(entry), manifest.name)

    def compare(self, old: str, new: str) -> "Comparison":
        """What has changed between two releases, by their names."""
        from planbook.archive.compare import compare

        return compare(self.facts(self.release(old)), self.facts(self.release(new)))

    def add(self, manifest: "Manifest", files: Mapping[str, bytes], allow: Callable[[], None] = lambda: None) -> bool:
        """Keep a release with its files by their paths; the manifest's own list of them is made here.

        `allow` is asked once no other process can write, and raises where the release may not be taken. False where
        the same contents are there already. Raises Taken where the name holds others, and OSError; until the very last
        move nothing of it is seen.
        """
        from hashlib import sha256

        from planbook.archive.manifest import Entry

        with self.store.writing():
            self.store.put(files.values())
            entries = (Entry(path, sha256(data).hexdigest(), len(data)) for path, data in sorted(files.items()))
            return self.admit(replace(manifest, files=tuple(entries)), allow)

    def admit(self, manifest: "Manifest", allow: Callable[[], None] = lambda: None) -> bool:
        """Keep a manifest whose objects are there; the caller holds the lock. As `add`."""
        from planbook.archive.manifest import read_manifest, written

        with self.catalogue(locked=True) as catalogue:
            found = catalogue.find(Ref(manifest.design, manifest.number))
            if found is not None:
                if self.manifest(found.name).contents != manifest.contents:
                    raise Taken(found.name)
                return False
            allow()
            data = written(manifest)
            catalogue.expect(manifest.name)
            self.store.put_manifest(manifest.name, data)
            catalogue.record(read_manifest(data, manifest.name))
        return True


class Taken(ArchiveProblem):
    """A release of this name holds something else."""

    def __init__(self, name: str) -> None:
        super().__init__(f"`{name}` is released already, and holds something else")
        self.name = name


def _near(name: str, known: list[str]) -> tuple[str, ...]:
    from planbook.units import near

    return near(name, known)
