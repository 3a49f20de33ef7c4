"""Every command with its options."""

from collections.abc import Iterable, Iterator

from planbook.booklet.manual import anchor_of, manual_html, manual_words
from planbook.guide.records import Command, KeyRow, Keys, Option, Sample, Section, Words


def command_sections(commands: Iterable[Command]) -> Iterator[Section]:
    """The commands in the order in which they are given."""
    for command in commands:
        anchor = f"command-{anchor_of(command.name)}"
        rows = tuple(_row(option, anchor) for option in command.options)
        blocks = (Sample(command.usage, typed=True), Words(manual_html(command.about)), Keys("option", rows))
        yield Section(f"planbook {command.name}", anchor, blocks)


def command_list(commands: Iterable[Command]) -> str:
    """The commands as a list in Markdown, each with a link to its section."""
    lines = (f"- [`planbook {c.name}`](#command-{anchor_of(c.name)}): {c.short}" for c in commands)
    return "\n".join(lines)


def _row(option: Option, anchor: str) -> KeyRow:
    holds = " ".join(filter(None, (option.value, "(repeatable)" if option.repeats else "")))
    name = ", ".join(option.names)
    where = f"{anchor}-{anchor_of(option.names[0])}"
    return KeyRow(name, where, holds, manual_words(option.about), option.needed, option.default)
