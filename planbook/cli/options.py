"""Options that many commands have."""

from pathlib import Path

import click

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
