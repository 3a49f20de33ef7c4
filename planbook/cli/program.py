"""The commands and their options; each hands over to the pipeline and shows what comes back."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planbook import __version__
from planbook.cli import options
from planbook.cli.archiving import archive, release
from planbook.cli.buying import buyers, copies, errata
from planbook.cli.options import EXIT
from planbook.cli.printing import build, offer
from planbook.cli.reckoning import solve, takeoff
from planbook.cli.refusal import Refusal
from planbook.cli.shelving import shelf

if TYPE_CHECKING:
    from planbook.cli.showing import Format


@click.group(context_settings={"help_option_names": ["-h", "--help"]}, epilog=EXIT)
@click.version_option(__version__, message="planbook %(version)s")
def program() -> None:
    """Compile a design for woodworkers, and the steps that make it, into a booklet with true-size stencils.

    A design is a folder with design.toml and steps.md. Its steps are really carried out, on solids, and
    everything in the booklet is read off that one build.
    """


@program.command(short_help="Start a new design in an empty folder.")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--kind",
    type=click.Choice(("sawn-box", "shelf", "puzzle", "tray", "drawing")),
    help="The design to start from: a small pencil block if left out. `drawing` saws one outline of an SVG file.",
)
@click.option(
    "--drawing",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="For `--kind drawing`: the SVG file with your outline, from any vector editor; it is copied.",
)
@options.quiet
def new(folder: Path, kind: str | None, drawing: Path | None, quiet: bool) -> None:
    """Start a new design in FOLDER, which must be empty or not there yet.

    Each kind is a whole small design that builds as it is, with comments that say what to change.
    """
    from planbook.cli.starting import start

    written = start(folder, kind, drawing)
    if not quiet:
        for path in written:
            click.echo(f"wrote {path}")
        click.echo(f"Now try: planbook check {folder}")


@program.command(epilog=EXIT, short_help="Say what is wrong or doubtful in designs.")
@options.designs
@options.choice
@options.nominal
@options.quiet
@options.findings_format
def check(designs: tuple[Path, ...], choice: str | None, nominal: bool, quiet: bool, form: "Format") -> int:
    """Carry out the steps of each DESIGN and say what is wrong or doubtful."""
    from planbook.cli.designs import check_one, folders_of
    from planbook.cli.showing import Report

    report = Report(form, quiet)
    for folder in folders_of(designs):
        checked = check_one(folder, choice, nominal, quiet)
        report.add(folder, checked.findings, checked.sources)
    return report.end()


@program.command(short_help="Say what a finding means.")
@click.argument("code", required=False)
def explain(code: str | None) -> None:
    """Say what the finding with this CODE means and how it is mended; without CODE, list all of them."""
    from planbook.cli.explaining import all_in_a_list, explained
    from planbook.pipeline import all_kinds
    from planbook.pipeline import explain as find
    from planbook.units import near

    if code is None:
        click.echo(all_in_a_list(all_kinds()))
        return
    kind = find(code)
    if kind is None:
        guesses = near(code, [name for kind in all_kinds() for name in (kind.code, kind.name)])
        hint = f"; did you mean {' or '.join(f'`{guess}`' for guess in guesses)}?" if guesses else ""
        raise Refusal(f"there is no finding called `{code}`{hint}")
    click.echo(explained(kind))


@program.command(short_help="Write the handbook of planbook, as HTML and PDF.")
@options.out_folder("The folder for the two files; it is made if it is not there.")
@options.quiet
def guide(out: Path, quiet: bool) -> None:
    """Write the handbook of planbook: a tutorial, then every key, operation, rule, command and table.

    It is written as one HTML page and as PDF, from this version of the program; neither needs the network.
    """
    from planbook.cli.guiding import write

    for path in write(program, out):
        if not quiet:
            click.echo(f"wrote {path}")


for command in (build, offer, solve, takeoff, release, archive, copies, errata, buyers, shelf):
    program.add_command(command)
