"""The whole handbook in order: chapters written in Markdown, those made from code, and how they follow one another."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from importlib import resources

from planbook import __version__
from planbook.booklet.manual import anchor_of, fill_manual, manual_html, manual_parts
from planbook.guide.commands import command_list, command_sections
from planbook.guide.formulas import function_section
from planbook.guide.keys import book_sections, card_section, fit_sections, rack_sections, shape_sections
from planbook.guide.keys import table_sections as design_sections
from planbook.guide.operations import operation_sections
from planbook.guide.quoting import quoted
from planbook.guide.records import Block, Chapter, Command, Guide, Section, Words
from planbook.guide.rules import finding_sections
from planbook.guide.tables import caution_section, precaution_blocks, table_sections
from planbook.pipeline import all_kinds

CHAPTERS = (
    "tutorial",
    "safety",
    "design",
    "shapes",
    "formulas",
    "operations",
    "fits",
    "boards",
    "photos",
    "editions",
    "commands",
    "findings",
    "tables",
    "glossary",
)
"""The chapters in order, each a file in text/."""
TITLE = "The planbook handbook"
_ASKED = re.compile(r"<!-- if (?P<name>[a-z ]+) -->\n(?P<text>.*?)<!-- end -->\n?", re.DOTALL)


def make_guide(commands: Sequence[Command]) -> Guide:
    """The handbook; what it says of commands is what is handed in."""
    made = _made(commands)
    chapters = (_chapter(name, made.get(name, lambda: ()), commands) for name in CHAPTERS)
    return Guide(TITLE, __version__, tuple(chapters))


def guide_html(commands: Sequence[Command], fonts: Callable[[str], str] = lambda html: html) -> str:
    """The handbook as one HTML text; `fonts` may change the addresses of its fonts. Raises LayoutProblem."""
    return fill_manual(make_guide(commands), fonts)


def chapter_text(name: str, commands: Sequence[Command] = ()) -> str:
    """The Markdown of a chapter, with what it quotes, and without what speaks of commands that are not there."""
    text = _read(name)
    known = {command.name for command in commands}
    text = _ASKED.sub(lambda found: found["text"] if found["name"] in known else "", text)
    return quoted(text).replace("<!-- commands -->", command_list(commands))


def _read(name: str) -> str:
    return resources.files("planbook.guide").joinpath("text", f"{name}.md").read_text("utf-8")


def _made(commands: Sequence[Command]) -> Mapping[str, Callable[[], Iterable[Section]]]:
    """The sections that are made from code, by the chapter that they end."""
    return {
        "design": lambda: (card_section(), *design_sections()),
        "shapes": shape_sections,
        "formulas": lambda: (function_section(),),
        "operations": operation_sections,
        "fits": fit_sections,
        "boards": lambda: (*rack_sections(), *book_sections()),
        "commands": lambda: command_sections(commands),
        "findings": lambda: finding_sections(all_kinds()),
        "safety": lambda: (Section("General precautions", "general-precautions", precaution_blocks()),),
        "tables": lambda: (*table_sections(), caution_section()),
    }


def _chapter(name: str, made: Callable[[], Iterable[Section]], commands: Sequence[Command]) -> Chapter:
    parts = [part for part in manual_parts(chapter_text(name, commands)) if part[1]]
    (_, title, lead), *rest = parts
    return Chapter(title, name, tuple(_words(lead)), (*_sections(name, rest), *made()))


def _sections(chapter: str, parts: Iterable[tuple[int, str, str]]) -> Iterator[Section]:
    for _, title, text in parts:
        yield Section(title, f"{chapter}-{anchor_of(title)}", tuple(_words(text)))


def _words(text: str) -> Iterator[Block]:
    if text:
        yield Words(manual_html(text))
