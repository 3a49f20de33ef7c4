"""The text of `planbook explain`: what a kind of finding means, and examples of it."""

from collections.abc import Iterable
from textwrap import fill, indent

from planbook.text import Kind

WIDTH = 88


def explained(kind: Kind) -> str:
    """A kind of finding in full: what is wrong, why it matters, and a bad and a good example."""
    parts = [
        f"{kind.code} {kind.name} ({kind.severity})",
        fill(kind.what, WIDTH),
        fill(kind.why, WIDTH),
        _example("Not so", kind.bad),
        _example("But so", kind.good),
    ]
    return "\n\n".join(part for part in parts if part)


def all_in_a_list(kinds: Iterable[Kind]) -> str:
    """Every kind of finding, one on each line."""
    return "\n".join(f"{kind.code}  {kind.severity:<7}  {kind.name}" for kind in kinds)


def _example(title: str, text: str) -> str:
    return f"{title}:\n\n{indent(text.strip(), '    ')}" if text.strip() else ""
