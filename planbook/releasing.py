"""The making of a release: a design is checked, compared with the last one, printed, and frozen. Prints nothing."""

import re
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from planbook.archive import Archive, Refused, Taken, Version, design_name, kinds, release_name
from planbook.archive.changes import sentences
from planbook.archive.compare import Comparison
from planbook.archive.manifest import BOOKLETS, FACTS, LISTS, OFFER, SOURCE, STENCILS, About, Entry, Made, Manifest
from planbook.archive.policy import Since, fits, read_number, safe_names, same_number, still_fits, taken
from planbook.archive.tool import made_by
from planbook.cache import Cache
from planbook.offering import offer
from planbook.pipeline import FORGETFUL, Progress, build_all, check, source_files
from planbook.pipeline.finished import Order
from planbook.text import Aside, Finding, Place, Sources, in_order

if TYPE_CHECKING:
    from planbook.archive.facts import Facts
    from planbook.booklet import Edition
    from planbook.model import Design
    from planbook.workshop import Timeline

Outcome = Literal["released", "nothing to do", "refused"]


@dataclass(frozen=True, eq=False)
class Released:
    """What came of a release: its name, and what has changed since the one before, `after`."""

    findings: tuple[Finding, ...]
    sources: Sources
    outcome: Outcome = "refused"
    name: str = ""
    after: str = ""
    changes: Comparison | None = None
    files: int = 0


@dataclass(frozen=True, eq=False)
class _Candidate:
    """A checked design on its way into an archive: what it is called, what it is, and where its version is written."""

    design: str
    version: str
    number: Version
    place: Place
    source: Mapping[str, bytes]
    facts: "Facts"
    about: About
    made: Made

    @property
    def name(self) -> str:
        return release_name(self.design, self.number)


def editions() -> "tuple[Edition, ...]":
    """The editions that every release holds; the stencils for other tools are written with the second."""
    from planbook.booklet import Edition

    return Edition("letter", "in"), Edition("a4", "mm", tool_files=True)


def release(
    folder: Path,
    archive: Archive,
    progress: Progress = lambda _: None,
    *,
    cache: Cache = FORGETFUL,
    now: datetime | None = None,
) -> Released:
    """Check a design and freeze it as the version that its card gives, in all editions, with all that belongs to it.

    What stops a booklet, or a version that is taken or does not fit the change, comes back as findings, and nothing
    is written. Raises ArchiveProblem, MissingLibrary, LayoutProblem, PaperTooSmall and OSError.
    """
    checked = check(folder, progress)
    timeline = checked.timeline
    if timeline is None or checked.stops:
        return Released(checked.findings, checked.sources)
    result = Released(checked.findings, checked.sources)
    try:
        candidate = _candidate(folder, timeline)
        result = replace(result, name=candidate.name)
        if _same_again(candidate, archive):
            return replace(result, outcome="nothing to do")
        since = fits(archive, candidate.design, candidate.number, candidate.facts, candidate.place)
        with archive.store.writing():  # what cannot be written is said before the long work
            pass
        files, found = printed(candidate.design, candidate.source, progress, cache)
        findings = in_order((*checked.findings, *(_moved(finding, folder) for finding in found)))
        if any(finding.stops for finding in findings):
            return replace(result, findings=findings)
        progress("writing")
        new = _kept(candidate, archive, since, files, now or datetime.now(UTC))
    except Refused as problem:
        return replace(result, findings=in_order((*checked.findings, *problem.findings)))
    return Released(
        findings,
        checked.sources,
        "released" if new else "nothing to do",
        candidate.name,
        since.after,
        since.changes,
        len(files) + 1,
    )


def _candidate(folder: Path, timeline: "Timeline") -> _Candidate:
    """Raises Refused where the version is no number, or a file has a name that some system cannot hold."""
    from planbook.archive.gather import about, facts_of
    from planbook.takeoff import lists
    from planbook.whole_files import file_name

    design = timeline.design
    name, place, source = design_name(file_name(folder.resolve().name)), _version_place(design), source_files(design)
    number = read_number(design.card.version, place)
    safe_names(list(source), place)
    taken_off = lists(timeline, system=design.card.units)
    facts, words = facts_of(timeline, taken_off), about(timeline, taken_off)
    return _Candidate(name, design.card.version, number, place, source, facts, words, made_by(_commands(name)))


def _same_again(candidate: _Candidate, archive: Archive) -> bool:
    """Whether it is released with the same source, by the same planbook. Raises Refused for another source."""
    found = same_number(archive, candidate.design, candidate.number)
    if found is None:
        return False
    if found.version != candidate.version or _source_of(archive, found) != candidate.source:
        raise taken(found.name, candidate.number, candidate.place)
    return found.made.tool == candidate.made.tool


def _kept(candidate: _Candidate, archive: Archive, since: Since, files: Mapping[str, bytes], now: datetime) -> bool:
    """Freeze it; False where the same is there already. Raises Refused."""
    from planbook.archive.facts import facts_json

    manifest = Manifest(
        design=candidate.design,
        version=candidate.version,
        released=now.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"),
        about=candidate.about,
        made=candidate.made,
        files=(),
        after=since.after,
        changes=sentences(since.changes) if since.changes else (),
    )

    def allow() -> None:
        still_fits(archive, candidate.design, candidate.number, since)

    try:
        return archive.add(manifest, {**files, FACTS: facts_json(candidate.facts)}, allow)
    except Taken as problem:
        raise taken(problem.name, candidate.number, candidate.place) from None


def printed(
    design: str, source: Mapping[str, bytes], progress: Progress = lambda _: None, cache: Cache = FORGETFUL
) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """Every file of a release but its facts, by its path, made from just this source; and what was found meanwhile.

    The places of findings lie in a folder that is gone by then.
    """
    with tempfile.TemporaryDirectory(prefix="planbook-") as scratch:
        copy, out = Path(scratch) / design, Path(scratch) / "out"
        for name, data in source.items():
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            (copy / name).write_bytes(data)
        orders = [Order(copy, edition) for edition in editions()]
        built = [build_all(orders, out, progress, cache=cache)]
        built.append(offer(copy, out, progress=_titled(progress, "offer"), cache=cache))
        files = {f"{SOURCE}/{design}/{name}": data for name, data in source.items()}
        for path in (path for one in built for path in one.files):
            files[_path_of(path.relative_to(out).as_posix(), design)] = path.read_bytes()
        without_room = tuple(_marked(files, Place((copy / "design.toml").as_posix())))
    return files, (*(finding for one in built for finding in one.findings), *without_room)


def _marked(files: dict[str, bytes], place: Place) -> Iterator[Finding]:
    """Give each booklet the empty mark of a buyer's copy, so that copies need no more work; what takes none is told."""
    from planbook.press import NO_ROOM, NOT_A_MASTER, NoMaster, with_mark

    for path in (path for path in files if path.startswith(f"{BOOKLETS}/")):
        try:
            files[path] = with_mark(files[path])
        except NoMaster as problem:
            kind = NO_ROOM if problem.page else NOT_A_MASTER
            yield kind.at(place, f"`{path}` takes no buyer's name: {problem}")


def printed_again(
    archive: Archive, name: str, progress: Progress = lambda _: None, cache: Cache = FORGETFUL
) -> tuple[Finding, ...]:
    """Print a release again from its frozen source, and say which files do not come out as they were.

    Raises ArchiveProblem where there is no such release, Damaged where a file of it was changed, and what `release`
    raises.
    """
    manifest = archive.release(name)
    files, found = printed(manifest.design, _source_of(archive, manifest), progress, cache)
    place = Place(archive.store.manifest_path(manifest.name).as_posix())
    same = made_by(()).tool == manifest.made.tool
    hint = "" if same else f"it was made by another planbook ({manifest.made.planbook}) or with other libraries"
    return tuple(
        kinds.PRINT_DIFFERS.at(place, f"`{entry.path}` of `{manifest.name}` {odd}", notes=(hint,) if hint else ())
        for entry in manifest.files
        if entry.path != FACTS and (odd := _odd(entry, files.get(entry.path)))
    ) or tuple(finding for finding in found if finding.stops)


def _source_of(archive: Archive, manifest: Manifest) -> dict[str, bytes]:
    """The source of a release by the names that its files have in the folder of the design."""
    folder = f"{SOURCE}/{manifest.design}"
    return {entry.path.removeprefix(f"{folder}/"): archive.read(entry) for entry in manifest.under(folder)}


def _odd(entry: Entry, data: bytes | None) -> str:
    """How a file that was printed again differs from the frozen one, or ""."""
    if data is None:
        return "is not printed any more"
    return "" if sha256(data).hexdigest() == entry.sha256 else "does not come out as it was"


def _commands(name: str) -> tuple[str, ...]:
    """The command lines that make the files of a release."""
    made = [
        f"planbook build {name} --paper {edition.paper} --units {edition.units}"
        + (" --cut-files" if edition.tool_files else "")
        for edition in editions()
    ]
    return (*made, f"planbook offer {name}")


def _titled(progress: Progress, title: str) -> Progress:
    return lambda doing: progress(f"{title}: {doing}")


def _path_of(path: str, design: str) -> str:
    """Where a file that was written belongs in a release."""
    top, _, rest = path.partition("/")
    folders = {f"{design}-files": STENCILS, f"{design}-offer": OFFER}
    if rest and top in folders:
        return f"{folders[top]}/{rest}"
    return f"{BOOKLETS if path.endswith('.pdf') else LISTS}/{path}"


def _version_place(design: "Design") -> Place:
    """Where the version is written."""
    for name, source in design.sources.items():
        found = re.search(r"""^version\s*=\s*(["'].*?["'])""", source.text, re.MULTILINE)
        if name.endswith("design.toml") and found:
            return source.at(found.start(1), len(found[1]))
    return design.card.place


def _moved(finding: Finding, folder: Path) -> Finding:
    """A finding about the copy of a design, as one about the design."""
    from planbook.reader.files import shown

    def place(at: Place) -> Place:
        return replace(at, file=shown(folder / Path(at.file).name))

    also = tuple(Aside(place(aside.place), aside.text) for aside in finding.also)
    return replace(finding, place=place(finding.place), also=also)
