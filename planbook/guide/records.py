"""What the handbook is made of, ready to be set; it holds no layout and reads no code."""

from dataclasses import dataclass
from typing import ClassVar

from markupsafe import Markup


@dataclass(frozen=True, slots=True)
class Option:
    """An option or argument of a command. `names` are as typed, `value` what follows them, `default` as shown."""

    names: tuple[str, ...]
    value: str
    about: str
    default: str = ""
    needed: bool = False
    repeats: bool = False
    argument: bool = False


@dataclass(frozen=True, slots=True)
class Command:
    """A command as it is typed, without `planbook`; `short` in a few words, `about` in full."""

    name: str
    usage: str
    short: str
    about: str
    options: tuple[Option, ...]


@dataclass(frozen=True, slots=True)
class Words:
    """Running text."""

    kind: ClassVar[str] = "words"
    html: Markup


@dataclass(frozen=True, slots=True)
class Sample:
    """Text as it stands in a file, or as it is typed on the command line."""

    kind: ClassVar[str] = "sample"
    text: str
    typed: bool = False


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A key, field or option: what it holds, whether it is needed, and what it means."""

    name: str
    anchor: str
    holds: str
    about: Markup
    needed: bool = False
    default: str = ""
    example: str = ""


@dataclass(frozen=True, slots=True)
class Keys:
    """A table of keys, fields or options; `of` is the word for one of them."""

    kind: ClassVar[str] = "keys"
    of: str
    rows: tuple[KeyRow, ...]


@dataclass(frozen=True, slots=True)
class GridRow:
    """A row of figures: its name, what stands small under that, and its cells."""

    name: str
    below: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """The head of a column, and how it looks: `number` is aligned at the right, `wide` is for sentences."""

    head: str
    look: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table of the handbook, and the numbered sources of its rows."""

    kind: ClassVar[str] = "grid"
    columns: tuple[Column, ...]
    rows: tuple[GridRow, ...]
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Finding:
    """A kind of finding."""

    kind: ClassVar[str] = "finding"
    code: str
    name: str
    severity: str
    anchor: str
    what: Markup
    why: Markup
    bad: str
    good: str


Block = Words | Sample | Keys | Grid | Finding


@dataclass(frozen=True, slots=True)
class Section:
    """A section of a chapter, with the anchor that leads to it."""

    title: str
    anchor: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter; what stands before its first section is `lead`."""

    title: str
    anchor: str
    lead: tuple[Block, ...]
    sections: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class Guide:
    """The whole handbook."""

    title: str
    version: str
    chapters: tuple[Chapter, ...]
