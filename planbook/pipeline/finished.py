"""Finished builds kept between runs: where nothing changed, findings and files are those of the last time."""

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, is_dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planbook.cache import Cache, Forgetful
from planbook.machine import surroundings
from planbook.pipeline.inputs import TooMuch, files_digest
from planbook.pipeline.records import Built
from planbook.text import Finding, Sources
from planbook.text.stored import restored_findings, restored_sources, stored_findings, stored_sources
from planbook.whole_files import write_together

if TYPE_CHECKING:
    from planbook.booklet import Edition
    from planbook.model import Card


@dataclass(frozen=True, slots=True)
class Order:
    """A build as it is asked for: a design, its edition, and what is brought along."""

    folder: Path
    wanted: "Edition | Callable[[Card], Edition]"
    choice: str | None = None
    prices: Path | None = None
    rack: Path | None = None
    nominal: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class Finished:
    """An edition that was made: what was found, the texts that speaks of, and its files by their names in `out`."""

    findings: tuple[Finding, ...]
    sources: Sources
    files: Mapping[str, bytes] = field(default_factory=dict)


def key_of(order: Order) -> str | None:
    """The key of all that the build depends on, or None where it cannot be told; the program itself is in no key.

    Findings name files as they were asked for, so these names belong to it too.
    """
    if not is_dataclass(order.wanted):
        return None
    layout = Path(getattr(order.wanted, "layout", ""))
    brought = (path for path in (order.prices, order.rack) if path is not None)
    try:
        read = files_digest(order.folder, *brought, *((layout,) if layout.is_dir() and layout.name else ()))
        return f"finished {order!r} {order.folder.resolve().name!r} {surroundings()} {read}"
    except (TooMuch, OSError, ValueError, RuntimeError):
        return None


def find(cache: Cache, key: str | None, out: Path) -> Built | None:
    """What was kept under a key, with its files in `out`: those that are there already are left alone.

    None where anything is missing, and nothing is written then. Raises OSError where `out` cannot be written.
    """
    data = cache.get(key) if key is not None else None
    if data is None:
        return None
    try:
        told = json.loads(data)
        findings, sources = restored_findings(told["findings"]), restored_sources(told["sources"])
        files = {out / str(name): str(digest) for name, digest in told["files"]}
    except (KeyError, TypeError, ValueError):
        return None
    lost: dict[Path, bytes] = {}
    for path, digest in files.items():
        if not _is_there(path, digest):
            content = cache.get(f"file {digest}")
            if content is None:
                return None
            lost[path] = content
    write_together(lost)
    return Built(findings, sources, tuple(files))


def keep(cache: Cache, key: str | None, made: Finished) -> None:
    """Keep what was made under its key."""
    if key is None or isinstance(cache, Forgetful):
        return
    told: dict[str, Any] = {
        "findings": stored_findings(made.findings),
        "sources": stored_sources(made.sources),
        "files": [(name, _digest(data)) for name, data in made.files.items()],
    }
    for data in made.files.values():
        cache.put(f"file {_digest(data)}", data)
    cache.put(key, json.dumps(told).encode())


def _is_there(path: Path, digest: str) -> bool:
    try:
        return _digest(path.read_bytes()) == digest
    except OSError:
        return False


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
