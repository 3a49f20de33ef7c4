"""Source files and places in them; not for reading their meaning."""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A run of characters in a source file: lines and columns count from 1, `length` in characters."""

    file: str
    line: int = 1
    column: int = 1
    length: int = 1

    def within(self, offset: int, length: int) -> "Place":
        """The place `offset` characters further on the same line."""
        return Place(self.file, self.line, self.column + offset, max(1, length))


@dataclass(frozen=True)
class Source:
    """One text file as it was read; `file` is the name shown to people."""

    file: str
    text: str
    _starts: tuple[int, ...] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        starts = [0, *(i + 1 for i, char in enumerate(self.text) if char == "\n")]
        object.__setattr__(self, "_starts", tuple(starts))

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """The lines without their ends."""
        return tuple(line.rstrip("\r") for line in self.text.split("\n"))

    def line(self, number: int) -> str:
        """Line `number` (from 1), or an empty string past the end."""
        return self.lines[number - 1] if 1 <= number <= len(self.lines) else ""

    def at(self, offset: int, length: int = 1) -> Place:
        """The place of a character offset (from 0) into the text; cut at the end of its line."""
        offset = min(max(offset, 0), len(self.text))
        line = bisect_right(self._starts, offset)
        column = offset - self._starts[line - 1] + 1
        room = max(1, len(self.line(line)) - column + 1)
        return Place(self.file, line, column, max(1, min(length, room)))


Sources = Mapping[str, Source]
