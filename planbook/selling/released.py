"""What copies and corrections are made from: the booklets of a release, from an archive or as one PDF by itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from planbook.archive import Archive
from planbook.buyers import Version
from planbook.text import Finding, Kind, Place

if TYPE_CHECKING:
    from planbook.archive.manifest import Manifest


@dataclass(frozen=True, slots=True)
class Master:
    """A released booklet: its edition such as `a4-mm`, what its file is called without its ending, and the PDF."""

    edition: str
    stem: str
    pdf: bytes
    place: Place

    def finding(self, kind: Kind, reason: str) -> Finding:
        """What cannot be done with it."""
        return kind.at(self.place, f"`{self.stem}.pdf` {reason}")


@dataclass(frozen=True, slots=True)
class Released:
    """A release: what the register calls it, its booklets, and its manifest if it lies in an archive."""

    version: Version
    masters: tuple[Master, ...]
    manifest: "Manifest | None" = None


class NotReleased(Exception):  # noqa: N818 - it carries the finding that is told
    """What was named is no released booklet."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.headline)
        self.finding = finding


def is_path(release: str) -> bool:
    """Whether a release is named by the path of its PDF."""
    return release.lower().endswith(".pdf") or Path(release).is_file()


def release_of(release: str, archive: Archive, editions: Sequence[str] = ()) -> Released:
    """The release of this name, `DESIGN@VERSION` or `DESIGN`, with its booklets; or a PDF, by its path.

    `editions` narrows it to those booklets. Raises NotReleased, ArchiveProblem and OSError.
    """
    from planbook.press import NOT_A_MASTER
    from planbook.reader.files import shown

    if is_path(release):
        return _by_itself(Path(release), editions)
    manifest = archive.release(release)
    place = Place(shown(archive.store.manifest_path(manifest.name)))
    found = {
        stem.removeprefix(f"{manifest.design}-"): (stem, pdf)
        for name, pdf in archive.booklets(manifest.name).items()
        for stem in (name.removesuffix(".pdf"),)
    }
    if not found:
        raise NotReleased(NOT_A_MASTER.at(place, f"`{manifest.name}` has no booklet"))
    _all_there(editions, tuple(found), place, manifest.name)
    masters = (
        Master(edition, f"{stem}-{manifest.number}", pdf, place)
        for edition, (stem, pdf) in found.items()
        if not editions or edition in editions
    )
    return Released(Version(manifest.design, str(manifest.number), manifest.seal), tuple(masters), manifest)


def _by_itself(path: Path, editions: Sequence[str]) -> Released:
    from planbook.press import MOST_BYTES, NOT_A_MASTER
    from planbook.reader.files import shown

    place = Place(shown(path))
    _all_there(editions, (), place, path.name)
    try:
        with path.open("rb") as file:
            pdf = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "it cannot be opened").lower()
        raise NotReleased(NOT_A_MASTER.at(place, f"`{path.name}`: {reason}")) from None
    if len(pdf) > MOST_BYTES:
        raise NotReleased(NOT_A_MASTER.at(place, f"`{path.name}` is larger than {MOST_BYTES // 1_000_000} MB"))
    digest = sha256(pdf).hexdigest()
    return Released(Version(path.stem, digest[:12], digest), (Master("", path.stem, pdf, place),))


def _all_there(asked: Sequence[str], there: Sequence[str], place: Place, name: str) -> None:
    """Raises NotReleased for an edition that is not there."""
    from planbook.press import NO_EDITION

    for edition in asked:
        if edition not in there:
            known = f"it has {', '.join(f'`{each}`' for each in there)}" if there else "it is one booklet by itself"
            headline = f"`{name}` has no edition `{edition[:40]}`"
            raise NotReleased(NO_EDITION.at(place, headline, notes=(known,)))
