"""Which version a change may have: it is higher than the release before it, by as much as has changed."""

from dataclasses import dataclass

from planbook.archive import kinds
from planbook.archive.archive import Archive
from planbook.archive.changes import sentences
from planbook.archive.compare import Comparison, Level, asked, compare
from planbook.archive.facts import Facts
from planbook.archive.manifest import Manifest
from planbook.archive.names import Ref, Version, read_version, release_name, unsafe
from planbook.archive.problem import ArchiveProblem, Refused
from planbook.text import Finding, Place

MOST_TOLD = 12
"""Of more changes, a finding only says how many there are."""
_WHY = {
    Level.MAJOR: "the object is another one",
    Level.MINOR: "something is cut or done in another way",
    Level.PATCH: "something has changed",
    Level.SAME: "it comes after it",
}


@dataclass(frozen=True, slots=True)
class Since:
    """The name of the release before, and what has changed since; nothing of either for a first release."""

    after: str = ""
    changes: Comparison | None = None


def read_number(text: str, place: Place) -> Version:
    """The version of a card as a number. Raises Refused."""
    number = read_version(text)
    if number is None:
        hint = 'write two or three whole numbers, such as "1.0"'
        raise Refused(kinds.VERSION_NOT_A_NUMBER.at(place, f"`{text}` is not a version to release", hint=hint))
    return number


def safe_names(names: "list[str]", place: Place) -> None:
    """Every system can hold files of these names. Raises Refused."""
    for name in names:
        if unsafe(name):
            raise Refused(kinds.FILE_NAME_UNSAFE.at(place, f"the name of the file `{name[:100]}` {unsafe(name)}"))


def same_number(archive: Archive, design: str, number: Version, locked: bool = False) -> Manifest | None:
    """The release that has this number already, however it is written; `locked` as for `Archive.catalogue`."""
    if not archive.store.releases.is_dir():
        return None
    with archive.catalogue(locked) as catalogue:
        row = catalogue.find(Ref(design, number))
    return archive.manifest(row.name) if row else None


def taken(name: str, number: Version, place: Place) -> Refused:
    """The refusal of a version that is released with something else in it."""
    finding = kinds.VERSION_TAKEN.at(
        place,
        f"`{name}` is released already, and holds something else",
        notes=("what was released stays as it is",),
        hint=f"give the new version a number of its own, such as {asked(number, Level.PATCH)}",
    )
    return Refused(finding)


def fits(archive: Archive, design: str, number: Version, facts: Facts, place: Place) -> Since:
    """What has changed since the release before. Raises Refused where the number does not say so."""
    if not archive.store.releases.is_dir():
        return Since()
    with archive.catalogue() as catalogue:
        before, every = catalogue.before(design, number), catalogue.rows(design)
    if before is None:
        if every and every[0].name != release_name(design, number):
            headline = f"{number} is lower than the first release of `{design}`, {every[0].version}"
            hint = f"take a number that is higher than {every[-1].version}"
            raise Refused(kinds.VERSION_OUT_OF_ORDER.at(place, headline, hint=hint))
        return Since()
    last = archive.manifest(before.name)
    changes = compare(archive.facts(last), facts)
    least = asked(last.number, changes.level)
    if number < least:
        raise Refused(_too_small(number, last.version, least, changes, place))
    return Since(before.name, changes)


def still_fits(archive: Archive, design: str, number: Version, since: Since) -> None:
    """Nobody has released in between what would make it another step; the lock is held. Raises ArchiveProblem."""
    with archive.catalogue(locked=True) as catalogue:
        before = catalogue.before(design, number)
    if before is not None and before.name != since.after:
        raise ArchiveProblem(f"`{before.name}` was released meanwhile; release `{design}` again")


def _too_small(number: Version, before: str, least: Version, changes: Comparison, place: Place) -> Finding:
    grave = Comparison(tuple(change for change in changes.changes if change.level is changes.level), ())
    told = sentences(grave)
    more = (f"and {len(told) - MOST_TOLD} more changes",) if len(told) > MOST_TOLD else ()
    return kinds.VERSION_TOO_SMALL.at(
        place,
        f"{number} is too small a step from {before}: {_WHY[changes.level]}",
        label=f"{least} or higher",
        notes=(*told[:MOST_TOLD], *more),
        hint=f'write version = "{least}"',
    )
