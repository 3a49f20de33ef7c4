"""The manifest of a release: what it holds, under which checksums, and how it was made. It opens no file.

A manifest is JSON in one exact form that ends in a seal, the SHA-256 of everything else in it; text that is not
byte for byte what would be written again is not a manifest.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field
from functools import cache
from typing import Any, Literal

from planbook.archive.names import Version, is_design, read_version, release_name, unsafe
from planbook.archive.problem import Damaged
from planbook.archive.store import SHA256

FORM = 1
MOST_BYTES = 8_000_000
MOST_FILES = 5_000
FACTS = "facts.json"
SOURCE, BOOKLETS, STENCILS, LISTS, OFFER = "source", "booklets", "stencils", "lists", "offer"
"""The folders of a release."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A file of a release: its path with `/`, the SHA-256 of its bytes, and how many they are."""

    path: str
    sha256: str
    size: int


@dataclass(frozen=True, slots=True)
class About:
    """What a release is about, as it is searched and shown."""

    title: str
    summary: str
    maker: str
    units: Literal["in", "mm"]
    skill: str
    licence: str
    price: str
    woods: tuple[str, ...]
    pieces: tuple[str, ...]
    steps: tuple[str, ...]
    stencils: tuple[str, ...]
    tools: tuple[str, ...]
    supplies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Made:
    """How a release was made: planbook and its files (a digest), what it runs on, and the command lines that make it.

    The same of all but the command lines makes the same bytes.
    """

    planbook: str
    program: str
    python: str
    libraries: Mapping[str, str]
    commands: tuple[str, ...] = ()

    @property
    def tool(self) -> tuple[Any, ...]:
        """What must be the same for the same bytes."""
        return self.planbook, self.program, self.python, tuple(sorted(self.libraries.items()))


@dataclass(frozen=True, slots=True)
class Manifest:
    """A release. `after` is the one it was compared with, `changes` what is new since then; `released` is UTC."""

    design: str
    version: str
    released: str
    about: About
    made: Made
    files: tuple[Entry, ...]
    after: str = ""
    changes: tuple[str, ...] = ()
    form: int = FORM
    seal: str = field(default="", compare=False)

    @property
    def number(self) -> Version:
        """The version as a number."""
        found = read_version(self.version)
        assert found is not None, "checked when it was read, and before it was made"
        return found

    @property
    def name(self) -> str:
        """What the release is called."""
        return release_name(self.design, self.number)

    @property
    def contents(self) -> tuple[tuple[str, str], ...]:
        """What it holds: two releases with the same contents are one."""
        return tuple(sorted((entry.path, entry.sha256) for entry in self.files))

    @property
    def bytes(self) -> int:
        """The size of all its files."""
        return sum(entry.size for entry in self.files)

    def entry(self, path: str) -> Entry | None:
        """The file at a path, or None."""
        return next((entry for entry in self.files if entry.path == path), None)

    def under(self, folder: str) -> tuple[Entry, ...]:
        """The files of one of the folders of a release."""
        return tuple(entry for entry in self.files if entry.path.startswith(f"{folder}/"))


def written(manifest: Manifest) -> bytes:
    """A manifest as it is kept, with its seal."""
    body = {key: value for key, value in asdict(manifest).items() if key != "seal"}
    text = json.dumps({**body, "seal": _seal(body)}, ensure_ascii=False, indent=1, sort_keys=True)
    return f"{text}\n".encode()


def read_manifest(data: bytes, name: str) -> Manifest:
    """The manifest of the release `name`. Raises Damaged for anything that planbook did not write."""
    try:
        if len(data) > MOST_BYTES:
            raise ValueError("too large")
        found: Manifest = _adapter().validate_json(data)
        whole = written(found) == data
    except (ValueError, RecursionError):
        raise Damaged(f"the manifest of `{name}` cannot be read", name) from None
    wrong = "was changed" if not whole else next(_faults(found), "")
    wrong = wrong or ("speaks of another release" if found.name != name else "")
    if wrong:
        raise Damaged(f"the manifest of `{name}` {wrong}", name)
    return found


def _seal(body: Mapping[str, Any]) -> str:
    text = json.dumps(body, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


@cache
def _adapter() -> Any:
    from pydantic import TypeAdapter

    return TypeAdapter(Manifest)


def _faults(manifest: Manifest) -> Iterator[str]:
    """What is wrong with a manifest that is well written."""
    if manifest.form != FORM:
        yield f"has form {manifest.form}, which another planbook wrote"
    if not is_design(manifest.design) or read_version(manifest.version) is None:
        yield "has no name or version that a release can have"
    if len(manifest.files) > MOST_FILES:
        yield f"names more than {MOST_FILES} files"
    seen: set[str] = set()
    for entry in manifest.files:
        if unsafe(entry.path):
            yield f"names a file that {unsafe(entry.path)}"
        if entry.path.casefold() in seen:
            yield "names a file twice"
        if not SHA256.fullmatch(entry.sha256) or entry.size < 0:
            yield "holds a checksum or size that is none"
        seen.add(entry.path.casefold())
