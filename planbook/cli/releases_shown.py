"""Releases and comparisons as text for people and as JSON; what they say was decided before."""

import json
from dataclasses import asdict
from typing import TYPE_CHECKING

from planbook.archive.catalogue import Row

if TYPE_CHECKING:
    from planbook.archive.compare import Comparison
    from planbook.archive.manifest import Manifest

_MOST_WIDE = 48


def rows_text(rows: list[Row]) -> str:
    """A line for each release: name, day, size, title and woods."""
    lines = [
        (row.name, row.released[:10], _size(row.bytes), f"{_short(row.title)}  {_short(row.woods)}") for row in rows
    ]
    widths = [max((len(line[column]) for line in lines), default=0) for column in range(3)]
    return "".join(
        f"{name:<{widths[0]}}  {day:<{widths[1]}}  {size:>{widths[2]}}  {rest}".rstrip() + "\n"
        for name, day, size, rest in lines
    )


def rows_data(rows: list[Row]) -> str:
    """A JSON list of releases."""
    return json.dumps([asdict(row) for row in rows], ensure_ascii=False, indent=2) + "\n"


def shown_release(manifest: "Manifest") -> str:
    """Everything of a release, for people."""
    about, made = manifest.about, manifest.made
    facts = {
        "summary": about.summary,
        "maker": about.maker,
        "skill": about.skill,
        "licence": about.licence,
        "price": about.price,
        "woods": ", ".join(about.woods),
        "pieces": ", ".join(about.pieces),
        "stencils": ", ".join(about.stencils),
        "steps": str(len(about.steps)),
        "released": manifest.released,
        "made by": f"planbook {made.planbook}, Python {made.python}",
        "made with": "; ".join(made.commands),
        "seal": manifest.seal,
    }
    wide = max(map(len, facts))
    lines = [f"{manifest.name}  {about.title}", ""]
    lines += [f"{name:<{wide}}  {' '.join(text.split())}" for name, text in facts.items() if text]
    if manifest.changes:
        lines += ["", f"changed since {manifest.after}:", *(f"  {change}" for change in manifest.changes)]
    lines += ["", f"{len(manifest.files)} files, {_size(manifest.bytes)}:"]
    lines += [f"  {entry.sha256[:12]}  {_size(entry.size):>8}  {entry.path}" for entry in manifest.files]
    return "\n".join(lines)


def comparison_text(old: "Manifest", new: "Manifest", changes: "Comparison") -> str:
    """The page "what changed" in Markdown."""
    from planbook.archive.changes import what_changed

    return what_changed(new.about.title, old.version, new.version, changes)


def comparison_data(old: "Manifest", new: "Manifest", changes: "Comparison") -> str:
    """What has changed, as JSON."""
    found = {
        "old": old.name,
        "new": new.name,
        "asks_for": changes.level.name.lower(),
        "print_again": changes.print_again,
        "changes": [
            {"subject": change.subject, "text": change.text, "asks_for": change.level.name.lower()}
            for change in changes.changes
        ],
    }
    return json.dumps(found, ensure_ascii=False, indent=2) + "\n"


def _size(count: int) -> str:
    return f"{count / 1e6:.1f} MB" if count >= 1e5 else f"{count / 1e3:.1f} kB"


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _MOST_WIDE else f"{plain[: _MOST_WIDE - 1]}…"
