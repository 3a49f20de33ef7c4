"""Options that many commands have."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

Command = TypeVar("Command", bound=Callable[..., Any])
EXIT = """Exit status: 0 if nothing stops a booklet, 1 if a finding does, 2 if it cannot be done as asked."""

SETTING = "PLANBOOK_ARCHIVE"
"""Set this in the environment to the folder of your archive."""

quiet = click.option("-q", "--quiet", is_flag=True, help="Print findings only: no progress, no summary.")
findings_format = click.option(
    "--format",
    "form",
    type=click.Choice(("people", "lines", "json")),
    default="people",
    show_default=True,
    help="How findings are printed: with excerpts, one on each line for editors, or as JSON.",
)
archive_folder = click.option(
    "--archive",
    "folder",
    metavar="DIR",
    envvar=SETTING,
    type=click.Path(path_type=Path),
    help=f"The folder of the archive. Without it, that of {SETTING} in the environment, else `archive` beside the "
    "design, or in this folder.",
)
designs = click.argument("designs", metavar="DESIGN...", nargs=-1, required=True, type=click.Path(path_type=Path))
choice = click.option("--choice", metavar="NAME", help="Take this choice of woods of the design.")
nominal = click.option(
    "--nominal", is_flag=True, help="Build it once, as drawn: leave out other kerfs, boards and the seasons."
)


def out_folder(told: str) -> Callable[[Command], Command]:
    """The folder that a command writes into, this one if none is named; `told` is its help."""
    return click.option("--out", type=click.Path(path_type=Path), default=Path(), show_default="this folder", help=told)


prices = click.option(
    "--prices",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Your price list (TOML or CSV): what it costs is reckoned as well, and a booklet has a page of it.",
)
rack = click.option(
    "--rack",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Your own boards, as TOML or CSV; they are used before anything is bought.",
)
