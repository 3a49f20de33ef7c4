"""The handbook as it is written, and what a browser would find in it."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

import click
import pytest

from planbook.cli.guiding import commands_of
from planbook.cli.program import program
from planbook.guide import guide_html

VOID = {"meta", "link", "br", "hr", "img", "input", "col"}


@dataclass
class Page(HTMLParser):
    """Ids with the text below each, addresses, and tags that do not match."""

    texts: dict[str, list[str]] = field(default_factory=dict)
    ids: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    addresses: list[str] = field(default_factory=list)
    odd: list[str] = field(default_factory=list)
    styles: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self.open: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag, attrs):
        own = dict(attrs)
        if own.get("id"):
            self.ids.append(own["id"])
            self.texts.setdefault(own["id"], [])
        if tag == "a":
            self.links.append(own["href"])
        self.addresses += [own[key] for key in ("src", "data", "href") if key in own and tag != "a"]
        if tag not in VOID:
            self.open.append((tag, own.get("id")))

    def handle_endtag(self, tag):
        if not self.open or self.open[-1][0] != tag:
            self.odd.append(f"</{tag}> in line {self.getpos()[0]}")
            return
        self.open.pop()

    def handle_data(self, data):
        if self.open and self.open[-1][0] == "style":
            self.styles.append(data)
            return
        for _, name in self.open:
            if name is not None:
                self.texts[name].append(data)

    def text(self, name: str) -> str:
        """All text of the element with an id, blanks made one."""
        return " ".join("".join(self.texts[name]).split())


def every_command(group: click.Group, before: tuple[str, ...] = ()) -> Iterator[tuple[str, click.Command]]:
    for name, command in group.commands.items():
        yield " ".join((*before, name)), command
        if isinstance(command, click.Group):
            yield from every_command(command, (*before, name))


@pytest.fixture(scope="session")
def html() -> str:
    return guide_html(commands_of(program))


@pytest.fixture(scope="session")
def page(html: str) -> Page:
    read = Page()
    read.feed(html)
    read.close()
    return read
