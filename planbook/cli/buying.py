"""The commands for buyers' copies, their register and corrections; each hands over and shows what comes back."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planbook.cli.archiving import EXIT
from planbook.cli.options import archive_folder as _archive
from planbook.cli.options import findings_format as _format
from planbook.cli.options import quiet as _quiet

if TYPE_CHECKING:
    from planbook.cli.showing import Format

_register = click.option(
    "--register",
    metavar="FILE",
    type=click.Path(path_type=Path),
    default=Path("buyers.sqlite"),
    show_default=True,
    help="Who has which version: one file with personal data, which is yours to keep safe.",
)


_editions = click.option(
    "--edition",
    "editions",
    metavar="EDITION",
    multiple=True,
    help="Only the booklet of this edition, such as a4-mm; repeatable. Without it, all that the release has.",
)


@click.command(epilog=EXIT, short_help="Make the copies of buyers from a release.")
@click.argument("release")
@click.option(
    "--orders",
    metavar="FILE",
    type=click.Path(path_type=Path),
    required=True,
    help="The orders as CSV; the first line names the columns: order, name; if wanted licence and contact.",
)
@click.option("--out", metavar="DIR", type=click.Path(path_type=Path), required=True, help="The folder for the copies.")
@_archive
@_editions
@click.option("--licence", metavar="TEXT", default="", help="The licence of orders that name none.")
@click.option(
    "--font",
    "fonts",
    metavar="FILE",
    multiple=True,
    type=click.Path(path_type=Path),
    help="A font for names that those of the system cannot set; repeatable.",
)
@_register
@_quiet
@_format
def copies(
    release: str,
    orders: Path,
    out: Path,
    folder: Path | None,
    editions: tuple[str, ...],
    licence: str,
    fonts: tuple[Path, ...],
    register: Path,
    quiet: bool,
    form: "Format",
) -> int:
    """Make copies of RELEASE for each order: name, order and licence on every page and in the metadata.

    RELEASE is named DESIGN@VERSION as in the archive, or DESIGN for its greatest version; each order gets all its
    booklets. It may be the path of one PDF as well. Nothing is built again: a copy is the released file with a small
    part added at its end.
    """
    from planbook.cli.selling import copies_one
    from planbook.cli.showing import Report

    report = Report(form, quiet)
    made = copies_one(release, folder or Path("archive"), orders, out, register, editions, licence, fonts, quiet)
    report.add(Path(release), made.findings, made.sources, made.files)
    return report.end()


@click.command(epilog=EXIT, short_help="Write correction sheets, and list the buyers they concern.")
@click.argument("old")
@click.argument("new")
@_archive
@_editions
@click.option("--pages", metavar="LIST", help="Take these pages of NEW instead, such as 5,7-8.")
@click.option("--stencil", "stencils", multiple=True, metavar="TEXT", help="Name this stencil instead; repeatable.")
@click.option("--change", "changes", multiple=True, metavar="TEXT", help="Say this change instead; repeatable.")
@click.option(
    "--out",
    metavar="FILE",
    type=click.Path(path_type=Path),
    required=True,
    help="The PDF to write; of several editions, each has its name added.",
)
@click.option(
    "--buyers",
    "listing",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Write the buyers to this file, not to stdout.",
)
@_register
@_quiet
@_format
def errata(
    old: str,
    new: str,
    folder: Path | None,
    editions: tuple[str, ...],
    pages: str | None,
    stencils: tuple[str, ...],
    changes: tuple[str, ...],
    out: Path,
    listing: Path | None,
    register: Path,
    quiet: bool,
    form: "Format",
) -> int:
    """Write sheets that correct the release OLD to NEW; the buyers of OLD go to stdout as CSV.

    What has changed, which stencils must be printed again and which pages are other ones is found by comparing the two.
    OLD and NEW may be the paths of two PDFs as well. Buyers of earlier releases with the same mistake are listed too.
    """
    from planbook.cli.selling import errata_one, listed_concerned, page_list, told_correction
    from planbook.cli.showing import Report
    from planbook.selling import Told

    told = Told(() if pages is None else page_list(pages), stencils, changes)
    report = Report(form, quiet, aside=form == "people")
    made = errata_one(old, new, folder or Path("archive"), out, register, editions, told, quiet)
    report.add(Path(new), made.findings, {}, made.files)
    if made.files and (listing is not None or form == "people"):
        listed_concerned(made, listing)
    for sentence in told_correction(made) if made.files and not quiet else ():
        click.echo(sentence, err=True)
    return report.end()


@click.group(short_help="Look into the register of buyers.")
def buyers() -> None:
    """Look into the register of buyers, or forget one of them."""


@buyers.command("list", short_help="List who has which version.")
@_register
@click.option("--release", metavar="NAME", help="Only copies of this release, DESIGN@VERSION, or of all of DESIGN.")
def list_buyers(register: Path, release: str | None) -> None:
    """List who has which version, as CSV."""
    from planbook.cli.selling import listed_buyers

    click.echo(listed_buyers(register, release), nl=False)


@buyers.command(short_help="Forget the buyer of an order.")
@click.argument("order")
@_register
def forget(order: str, register: Path) -> None:
    """Forget the buyer of ORDER. Nothing of the name is left in the register; the copies stay good."""
    from planbook.cli.selling import forget_one

    click.echo(forget_one(order, register))
