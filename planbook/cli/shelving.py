"""The command for the shelf; it hands over an archive and shows what comes back."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planbook.cli.archiving import EXIT, refusing
from planbook.cli.options import findings_format, quiet
from planbook.cli.refusal import Refusal

if TYPE_CHECKING:
    from planbook.cli.showing import Format


@click.command(epilog=EXIT, short_help="Write a web site of the releases in an archive.")
@click.argument("archive", type=click.Path(path_type=Path))
@click.option("--out", metavar="DIR", required=True, type=click.Path(path_type=Path), help="The folder for the site.")
@quiet
@findings_format
def shelf(archive: Path, out: Path, quiet: bool, form: "Format") -> int:
    """Write the designs of an ARCHIVE as a site: a list with search and filters, and a page for each design.

    Each design is shown by its newest release, with pictures, what it takes, sample pages, and what changed in each
    version; booklets and stencils stay in the archive. It needs no server, no network and no scripts. Written again, it
    takes away what it wrote before and shows no more; other files of the folder are never touched.
    """
    from planbook.archive import Archive
    from planbook.archive.names import counted
    from planbook.booklet import LayoutProblem
    from planbook.cli.showing import Report
    from planbook.shelving import ShelfProblem, shelve

    report = Report(form, quiet)
    with refusing("cannot be written"):
        try:
            made = shelve(Archive(archive), out)
        except (ShelfProblem, LayoutProblem) as problem:
            raise Refusal(str(problem)) from None
    report.add(archive, made.findings, {})
    if not quiet:
        gone = f", {counted(made.gone, 'older file')} taken away" if made.gone else ""
        told = f"wrote {out / 'index.html'} ({counted(made.designs, 'design')}, {counted(made.files, 'file')}{gone})"
        click.echo(told, err=form != "people")
    return report.end()
