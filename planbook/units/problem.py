"""The one exception of this folder: what is wrong with a text, and where in it (not how it is shown)."""

from collections.abc import Mapping
from typing import Literal

ProblemKind = Literal[
    "syntax",
    "unknown-name",
    "unknown-function",
    "unknown-unit",
    "unit-mismatch",
    "division-by-zero",
    "too-deep",
    "too-long",
    "out-of-range",
    "wrong-argument-count",
    "not-finite",
]


class UnitProblem(Exception):  # noqa: N818 - it reports the user's text, not a failure of the program
    """A text that cannot be read or computed; the caller turns it into a finding.

    `kind` is a stable name, `message` one plain sentence without its place, `offset` and `length`
    the characters concerned (length is at least 1), `facts` the bare names and values.
    """

    def __init__(
        self,
        kind: ProblemKind,
        message: str,
        offset: int = 0,
        length: int = 1,
        facts: Mapping[str, str] | None = None,
    ) -> None:
        self.kind: ProblemKind = kind
        self.message = message
        self.offset = offset
        self.length = max(1, length)
        self.facts: dict[str, str] = dict(facts or {})
        # All arguments go to the base class, so that the exception survives pickling between processes.
        super().__init__(kind, message, offset, self.length, self.facts)

    def __str__(self) -> str:
        return self.message
