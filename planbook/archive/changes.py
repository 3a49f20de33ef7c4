"""What has changed between two releases, as sentences and as a page in Markdown."""

import re

from planbook.archive.compare import SUBJECTS, Comparison, Level

TITLES = {
    "pieces": "Pieces",
    "sizes": "Sizes",
    "steps": "Steps",
    "stencils": "Stencils",
    "lumber": "Lumber",
    "fits": "Fits",
    "tools and supplies": "Tools and supplies",
    "words": "Words",
}
_MEANING = {
    Level.SAME: "Nothing has changed.",
    Level.PATCH: "Nothing is cut in another way: a printed copy of the old version can be used on.",
    Level.MINOR: "Something is cut or done in another way: use only pages and stencils of one version.",
    Level.MAJOR: "It is another object: do not use parts of the old version for it.",
}
_SIGNS = re.compile(r"([\\`*_\[\]<>#|&])")


def sentences(changes: Comparison) -> tuple[str, ...]:
    """Each change as one line, those of one kind together."""
    return tuple(f"{subject}: {change.text}" for subject in SUBJECTS for change in changes.of(subject))


def what_changed(title: str, old: str, new: str, changes: Comparison) -> str:
    """The page for those who have the old version: what has changed, and which stencils to print again."""
    lines = [f"# {_plain(title)}: what changed from {old} to {new}", "", _MEANING[changes.level], ""]
    lines += ["## Print these stencils again", ""] if changes.print_again else ["No stencil need be printed again.", ""]
    lines += [f"- {_plain(name)}" for name in changes.print_again]
    lines += [""] if changes.print_again else []
    for subject in SUBJECTS:
        found = changes.of(subject)
        if found:
            lines += [f"## {TITLES[subject]}", "", *(f"- {_told(change.text)}" for change in found), ""]
    return "\n".join(lines)


def _told(text: str) -> str:
    """A change with the names in it, which stand in backticks, in italics."""
    parts = text.split("`")
    if len(parts) % 2 == 0:
        return _plain(text)
    return "".join(f"*{_plain(part)}*" if number % 2 else _plain(part) for number, part in enumerate(parts))


def _plain(text: str) -> str:
    return _SIGNS.sub(r"\\\1", re.sub(r"\s+", " ", text))
