"""The handbook from the command line: what it is told of commands, and what it writes."""

import click
import pytest

from planbook.cli.guiding import commands_of
from planbook.guide import FILES

SHORT = '<!DOCTYPE html><html lang="en"><head><title>Guide</title><style>@page { size: A4 }</style></head><body><p>Ça va</p></body></html>'


@pytest.fixture
def short(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planbook.guide.writing.guide_html", lambda commands: SHORT)


def test_two_files_are_written_alike_every_time(command, tmp_path, short):
    ran = command("guide", "--out", tmp_path / "one" / "more")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.splitlines() == [f"wrote {tmp_path / 'one' / 'more' / name}" for name in FILES]
    assert command("guide", "-q", "--out", tmp_path / "two").out == ""
    for name in FILES:
        assert (tmp_path / "one" / "more" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    assert (tmp_path / "two" / FILES[0]).read_text("utf-8") == SHORT
    assert (tmp_path / "two" / FILES[1]).read_bytes().startswith(b"%PDF-")


def test_a_folder_that_cannot_be_made_is_refused_in_one_sentence(command, tmp_path, short):
    (tmp_path / "taken").write_text("a file")
    ran = command("guide", "--out", tmp_path / "taken" / "inside")
    assert ran.status == 2
    assert "cannot be written" in ran.err
    assert len(ran.err.splitlines()) == 1


@click.group()
def shed() -> None:
    """Holds tools."""


@shed.group()
def rack() -> None:
    """Holds boards.

    In order of length.
    """


@rack.command(short_help="Add a board.")
@click.argument("board")
@click.option(
    "-n", "--number", metavar="N", default="1", show_default=True, multiple=False, required=True, help="How many."
)
@click.option("--wood", multiple=True, type=click.Choice(("oak", "ash")), help="Its wood.")
@click.option("--planed", is_flag=True, help="It is planed.")
@click.option("--secret", hidden=True)
def add(board: str, **_: object) -> None:
    """Add a BOARD."""


@shed.command(hidden=True)
def burn() -> None:
    """Not for anybody."""


def test_commands_inside_groups_are_told_and_hidden_ones_are_not():
    told = {command.name: command for command in commands_of(shed)}
    assert list(told) == ["rack", "rack add"]
    assert told["rack"].about == "Holds boards.\n\nIn order of length."
    assert told["rack add"].usage == "planbook rack add [OPTIONS] BOARD"
    assert told["rack add"].short == "Add a board."
    number, wood, planed, helped = told["rack add"].options
    assert (number.names, number.value, number.default, number.needed) == (("--number", "-n"), "N", "1", True)
    assert (wood.value, wood.repeats, wood.about) == ("oak, ash", True, "Its wood.")
    assert (planed.names, planed.value) == (("--planed",), "")
    assert helped.names == ("--help",)
