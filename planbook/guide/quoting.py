"""Parts of the starting designs, quoted in the text, so that what is shown is what is built."""

import re
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable

_QUOTE = re.compile(r"^<!-- quote (?P<file>\S+) (?P<part>.+) -->$", re.MULTILINE)
_BLOCK = re.compile(r"^```(?P<kind>[a-z ]+)\n(?P<text>.*?)\n```$", re.MULTILINE | re.DOTALL)
_TABLE = re.compile(r"^\[", re.MULTILINE)


class NothingToQuote(Exception):  # noqa: N818 - a fault of a chapter, found by its test
    """A chapter quotes a part that is not there."""


def quoted(text: str) -> str:
    """A chapter with every part that it quotes set in. Raises NothingToQuote."""
    return _QUOTE.sub(lambda found: _part(found["file"], found["part"]), text)


def block_of(kind: str) -> str:
    """A block of an operation, out of a starting design or of the sampler of joints; empty if none has it."""
    designs = [folder.joinpath("steps.md").read_text("utf-8") for folder in (*_starters(), _sampler())]
    found = (block for text in designs for block in _BLOCK.finditer(text) if block["kind"] == kind)
    # The shortest one: it says what the operation is, without what else it can do.
    return min((block[0] for block in found), key=len, default="")


def _starters() -> list[Traversable]:
    folders = resources.files("planbook").joinpath("starters").iterdir()
    return sorted((folder for folder in folders if folder.is_dir()), key=lambda folder: folder.name)


def _sampler() -> Traversable:
    return resources.files("planbook.guide").joinpath("sampler")


@cache
def _read(name: str) -> str:
    return resources.files("planbook").joinpath("starters", *name.split("/")).read_text("utf-8")


def _part(file: str, part: str) -> str:
    """A step (`## Saw the outline`) with its words, or a table (`[sizes]`) with its keys, as a block."""
    text = _read(file)
    start = next((at for at in (text.find(f"\n{part}\n"),) if at >= 0), None)
    if start is None:
        raise NothingToQuote(f"`{file}` has no `{part}`")
    start += 1
    ends = _TABLE.finditer(text, start + 1) if part.startswith("[") else re.finditer(r"^## ", text[start + 1 :], re.M)
    offset = 0 if part.startswith("[") else start + 1
    end = next((found.start() + offset for found in ends), len(text))
    body = text[start:end].rstrip()
    if part.startswith("["):
        # The comment above the next table belongs to that one.
        body = re.sub(r"(\n#[^\n]*)+\Z", "", body).rstrip()
    return f"~~~~{'toml' if part.startswith('[') else 'markdown'}\n{body}\n~~~~"
