"""Names in an archive: releases, their version numbers, and files that every system can hold. It opens no file."""

import re
import unicodedata
from dataclasses import dataclass

from planbook.archive.problem import ArchiveProblem

LONGEST_DESIGN = 80
LONGEST_PART, LONGEST_PATH, DEEPEST = 120, 240, 8
_VERSION = re.compile(r"(0|[1-9][0-9]{0,5})\.(0|[1-9][0-9]{0,5})(?:\.(0|[1-9][0-9]{0,5}))?")
_DESIGN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_FORBIDDEN = set('<>:"\\|?*')
_RESERVED = {
    *("con", "prn", "aux", "nul", "conin$", "conout$"),
    *(f"{port}{number}" for port in ("com", "lpt") for number in "123456789¹²³"),
}
"""Names of devices (Microsoft, Naming Files, Paths, and Namespaces)."""


@dataclass(frozen=True, slots=True, order=True)
class Version:
    """A version number: `1.2` is the same number as `1.2.0`, and comes before `1.10`."""

    major: int
    minor: int
    patch: int = 0

    def __str__(self) -> str:
        return f"{self.major}.{self.minor}" + (f".{self.patch}" if self.patch else "")


@dataclass(frozen=True, slots=True)
class Ref:
    """A release as people name it, `curlew-box@1.0`; without a version it is the greatest one."""

    design: str
    version: Version | None = None

    def __str__(self) -> str:
        return self.design if self.version is None else release_name(self.design, self.version)


def release_name(design: str, version: Version) -> str:
    """What a release is called: `curlew-box@1.0`."""
    return f"{design}@{version}"


def read_version(text: str) -> Version | None:
    """A version of two or three whole numbers with dots, or None."""
    found = _VERSION.fullmatch(text)
    return Version(*(int(number or 0) for number in found.groups())) if found else None


def read_ref(text: str) -> Ref:
    """`DESIGN@VERSION` or `DESIGN`. Raises ArchiveProblem."""
    design, at, number = text.partition("@")
    version = read_version(number) if at else None
    if not is_design(design) or (at and version is None):
        raise ArchiveProblem(f"`{text[:100]}` is not the name of a release, such as `curlew-box@1.0`")
    return Ref(design, version)


def is_design(name: str) -> bool:
    """Whether a design may have this name in an archive: small letters, digits and dashes."""
    return len(name) <= LONGEST_DESIGN and bool(_DESIGN.fullmatch(name)) and name not in _RESERVED


def design_name(stem: str) -> str:
    """The stem of a file name as the name of a design; one that is reserved for a device gets a word more."""
    return stem if is_design(stem) else f"{stem}-plan"


def counted(number: int, thing: str) -> str:
    """So many things: `1 object`, `2 objects`."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def unsafe(path: str) -> str:
    """Why some system cannot hold a file of this name (parts with `/`), or "" where all can."""
    parts = path.split("/")
    if len(path) > LONGEST_PATH or len(parts) > DEEPEST:
        return "is too long"
    return next(filter(None, map(_unsafe_part, parts)), "")


def _unsafe_part(part: str) -> str:
    if part in ("", ".", ".."):
        return "leads out of its folder"
    if not part.isprintable() or _FORBIDDEN & set(part):
        return "holds signs that no file name on every system can hold"
    if len(part.encode("utf-8", "replace")) > LONGEST_PART or part[-1] in ". " or part[0] in ". ":
        return "is too long, or begins or ends with a dot or a space"
    if unicodedata.normalize("NFC", part) != part:
        return "holds letters that some systems would write in another way"
    if part.split(".")[0].rstrip().lower() in _RESERVED:
        return "is the name of a device on some systems"
    return ""
