"""Options that many commands have."""

import click

quiet = click.option("-q", "--quiet", is_flag=True, help="Print findings only: no progress, no summary.")
findings_format = click.option(
    "--format",
    "form",
    type=click.Choice(("people", "lines", "json")),
    default="people",
    show_default=True,
    help="How findings are printed: with excerpts, one on each line for editors, or as JSON.",
)
