"""What the guide shows is so: commands are understood, snippets are read, and the tutorial was gone through."""

import re
import shlex
import tomllib
from pathlib import Path

import click
import pytest

from planbook.booklet.manual import anchor_of
from planbook.cli.guiding import commands_of
from planbook.cli.program import program
from planbook.cli.run import run
from planbook.guide.make import CHAPTERS, chapter_text
from planbook.guide.quoting import NothingToQuote, block_of, quoted
from planbook.handbook import wood
from planbook.pipeline import check
from planbook.reader import read_design
from planbook.reader.rack import read_rack
from planbook.takeoff.prices import read_prices
from planbook.workshop.registry import operations

SAMPLER = Path(__file__).parents[2] / "planbook" / "guide" / "sampler"

FENCE = re.compile(r"^(?P<marks>`{3}|~{4})(?P<info>\w+)\n(?P<text>.*?)\n(?P=marks)$", re.MULTILINE | re.DOTALL)


def blocks(chapter: str, info: str) -> list[str]:
    found = FENCE.finditer(chapter_text(chapter, _all()))
    return [each["text"] for each in found if each["info"] == info]


def _all():
    return commands_of(program)


def lines() -> list[str]:
    return [line for chapter in CHAPTERS for block in blocks(chapter, "sh") for line in block.splitlines()]


@pytest.mark.parametrize("line", lines())
def test_a_command_line_is_understood(line: str) -> None:
    name, *words = shlex.split(line)
    assert name == "planbook"
    command: click.Command = program
    while isinstance(command, click.Group):
        command = command.commands[words.pop(0)]
    assert command.make_context("planbook", words)


@pytest.mark.parametrize("chapter", CHAPTERS)
def test_snippets_of_toml_are_whole(chapter: str) -> None:
    for text in blocks(chapter, "toml"):
        assert tomllib.loads(text)


def test_a_quote_that_is_not_there_is_a_fault() -> None:
    with pytest.raises(NothingToQuote):
        quoted("<!-- quote tray/steps.md ## Paint it green -->")


def test_files_of_the_chapter_on_boards_are_read(tmp_path: Path) -> None:
    rack, prices, book = blocks("boards", "toml")
    rack_csv, prices_csv = blocks("boards", "csv")
    for name, text in (("rack.toml", rack), ("rack.csv", rack_csv)):
        (tmp_path / name).write_text(text + "\n")
        reading = read_rack(tmp_path / name)
        assert [str(finding) for finding in reading.findings] == []
        assert reading.rack is not None
    for name, text in (("prices.toml", prices), ("prices.csv", prices_csv)):
        (tmp_path / name).write_text(text + "\n")
        found, findings = read_prices(tmp_path / name)
        assert [str(finding) for finding in findings] == []
        assert found is not None
    assert run(["new", str(tmp_path / "mine"), "-q"]) == 0
    (tmp_path / "mine" / "handbook.toml").write_text(book + "\n")
    reading = read_design(tmp_path / "mine")
    assert [str(finding) for finding in reading.findings] == []
    assert reading.design is not None
    assert wood("bog oak") is None
    assert reading.design.handbook.wood("bog oak") is not None


def test_chapters_speak_of_commands_only_where_they_are(monkeypatch: pytest.MonkeyPatch) -> None:
    text = "a\n<!-- if build -->\nbuilt\n<!-- end -->\n<!-- if fly -->\nflown\n<!-- end -->\nb\n"
    monkeypatch.setattr("planbook.guide.make._read", lambda name: text)
    assert chapter_text("tutorial", _all()) == "a\nbuilt\nb\n"


@pytest.mark.parametrize("name", operations())
def test_an_operation_has_a_block_that_was_carried_out(name: str, page) -> None:
    block = block_of(name)
    assert block.splitlines()[0] == f"```{name}"
    assert " ".join(block.split()) in page.text(f"op-{anchor_of(name)}")


def test_the_sampler_of_joints_can_be_built() -> None:
    found = check(SAMPLER)
    assert [str(finding) for finding in found.findings] == []
    assert found.timeline is not None


@pytest.mark.slow
def test_the_tutorial_says_what_is_printed(capsys, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    first, second, third = blocks("tutorial", "text")
    assert run(shlex.split(blocks("tutorial", "sh")[0])[1:]) == 0
    capsys.readouterr()
    assert run(["check", "my-box"]) == 0
    assert capsys.readouterr().out.strip() == first

    change = next(text for text in blocks("tutorial", "toml") if text.startswith("corner"))
    design = Path("my-box/design.toml")
    written = design.read_text()
    design.write_text(re.sub(r"^corner +=.*$", change, written, flags=re.MULTILINE))
    assert run(["check", "my-box"]) == 0
    assert second in capsys.readouterr().out.splitlines()

    design.write_text(written)
    assert run(["solve", "my-box", "wall", "walls of the box"]) == 0
    assert third in capsys.readouterr().out
