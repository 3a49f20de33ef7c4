"""Finds the files of a design in its folder and reads them as text; it gives them no meaning."""

import stat
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from planbook.reader import kinds
from planbook.reader.words import did_you_mean
from planbook.text import Finding, Place, Source
from planbook.units import near

DESIGN, STEPS = "design.toml", "steps.md"
MOST_BYTES = 2_000_000
LONGEST_LINE = 4000
_SIGNS_OF_UTF16 = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class Loaded:
    """A file as far as it could be read: `usable` is False where its text must not be given a meaning."""

    source: Source | None
    findings: tuple[Finding, ...] = ()

    @property
    def usable(self) -> bool:
        """True if the text was read and nothing is wrong with it as a text."""
        return self.source is not None and not self.findings


def folder_fault(folder: Path) -> Finding | None:
    """A finding if there is no such folder."""
    try:
        if folder.is_dir():
            return None
        what = "is not a folder" if folder.exists() else "does not exist"
    except (OSError, ValueError):
        what = "cannot be opened"
    return kinds.FOLDER_MISSING.at(Place(shown(folder)), f"`{shown(folder)}` {what}")


def load(folder: Path, name: str) -> Loaded:
    """The text of a file of the folder: UTF-8, at most 2 MB, any line ends, a byte order mark dropped."""
    path, file = folder / name, shown(folder / name)
    try:
        finding = _refusal(folder, path, file)
        if finding:
            return Loaded(None, (finding,))
        with path.open("rb") as stream:
            raw = stream.read(MOST_BYTES + 1)
    except OSError as error:
        reason = error.strerror or type(error).__name__
        return Loaded(None, (kinds.FILE_UNREADABLE.at(Place(file), f"`{name}` cannot be read: {reason}"),))
    if len(raw) > MOST_BYTES:
        return Loaded(None, (kinds.FILE_TOO_LARGE.at(Place(file), _too_large(name)),))
    return _decoded(file, name, raw)


def load_drawing(folder: Path, name: str, asked: Place) -> tuple[bytes | None, Finding | None]:
    """The bytes of a drawing file of the folder, at most 2 MB, or why there are none; `asked` names the file."""
    return load_named(folder, name, asked, MOST_BYTES, (".svg", ".dxf"))


def load_named(
    folder: Path, name: str, asked: Place, most: int, suffixes: tuple[str, ...]
) -> tuple[bytes | None, Finding | None]:
    """The bytes of a file in the folder that `asked` names, at most `most`, or why there are none.

    Where there is none, files with one of the `suffixes` are looked at for near names.
    """
    said = f"`{name[:80]}`" if name.isprintable() else "this"
    if not name.isprintable() or Path(name).is_absolute() or ".." in Path(name).parts or "\\" in name or ":" in name:
        return None, kinds.FILE_OUTSIDE.at(asked, f"{said} is not the name of a file in the folder of the design")
    path = folder / name
    try:
        finding = _refusal(folder, path, "", most) or _other_case(path)
        if finding is None:
            with path.open("rb") as stream:
                raw = stream.read(most + 1)
            if len(raw) <= most:
                return raw, None
            return None, kinds.FILE_TOO_LARGE.at(asked, _too_large(name, most))
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else "no reason given"
        return None, kinds.FILE_UNREADABLE.at(asked, f"{said} cannot be read: {reason}")
    hint = finding.hint
    if finding.code == kinds.FILE_MISSING.code:
        hint = did_you_mean(near(name, _named(folder, suffixes)))
    return None, replace(finding, place=asked, hint=hint)


def _other_case(path: Path) -> Finding | None:
    """A finding where the file is found only because this system takes capital and small letters for the same."""
    if path.name in {each.name for each in path.parent.iterdir()}:
        return None
    return kinds.FILE_MISSING.at(Place(""), f"there is no `{path.name}` in `{shown(path.parent)}`")


def _named(folder: Path, suffixes: tuple[str, ...]) -> list[str]:
    """The names of the files in a folder that end so, as far as they can be listed."""
    return sorted(p.name for p in folder.iterdir() if p.suffix.lower() in suffixes)[:200]


def shown(path: Path) -> str:
    """A path as it is shown to people, the same on every system; characters no file can hold are replaced."""
    return path.as_posix().encode("utf-8", "replace").decode("utf-8")


def _too_large(name: str, most: int = MOST_BYTES) -> str:
    return f"`{name}` is larger than {most // 1_000_000} MB"


def _refusal(folder: Path, path: Path, file: str, most: int = MOST_BYTES) -> Finding | None:
    """Why a file may not be opened: missing, outside the folder, not a plain file, or too large."""
    if not path.is_symlink() and not path.exists():
        near_by = sorted(p.name for p in folder.iterdir() if p.name.lower() == path.name.lower())
        hint = f"rename `{near_by[0]}` to `{path.name}`" if near_by else ""
        return kinds.FILE_MISSING.at(Place(file), f"there is no `{path.name}` in `{shown(folder)}`", hint=hint)
    try:
        real = path.resolve(strict=True)
    except (OSError, RuntimeError):
        return kinds.FILE_MISSING.at(Place(file), f"`{path.name}` is a link that leads nowhere")
    if not real.is_relative_to(folder.resolve()):
        return kinds.FILE_OUTSIDE.at(Place(file), f"`{path.name}` is a link that leads out of the folder of the design")
    facts = real.stat()
    if not stat.S_ISREG(facts.st_mode):
        return kinds.FILE_UNREADABLE.at(Place(file), f"`{path.name}` is not a file")
    if facts.st_size > most:
        return kinds.FILE_TOO_LARGE.at(Place(file), _too_large(path.name, most))
    return None


def _decoded(file: str, name: str, raw: bytes) -> Loaded:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return _not_utf8(file, name, raw, error.start)
    source = Source(file, _one_line_end(text))
    return Loaded(source, tuple(_long_lines(source, name)))


def _one_line_end(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _not_utf8(file: str, name: str, raw: bytes, at: int) -> Loaded:
    source = Source(file, _one_line_end(raw.decode("utf-8", "replace")))
    hint = "save the file again as UTF-8"
    if raw.startswith(_SIGNS_OF_UTF16):
        headline = f"`{name}` is written in UTF-16, not in UTF-8"
        return Loaded(source, (kinds.NOT_UTF8.at(Place(file), headline, hint=hint),))
    before = _one_line_end(raw[:at].decode("utf-8", "replace"))
    place = source.at(len(before))
    headline = f"line {place.line} of `{name}` holds the byte {raw[at]:#04x}, which is not UTF-8"
    return Loaded(source, (kinds.NOT_UTF8.at(place, headline, hint=hint),))


def _long_lines(source: Source, name: str) -> Iterator[Finding]:
    for number, line in enumerate(source.lines, 1):
        if len(line) > LONGEST_LINE:
            place = Place(source.file, number, LONGEST_LINE + 1)
            headline = f"line {number} of `{name}` is {len(line)} characters long; {LONGEST_LINE} is the most"
            yield kinds.LINE_TOO_LONG.at(place, headline)
