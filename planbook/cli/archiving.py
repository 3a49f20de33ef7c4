"""The commands for releases and archives; each hands over to the archive and shows what comes back."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planbook.cli.options import archive_folder as _archive
from planbook.cli.options import findings_format as _format
from planbook.cli.options import out_folder as _out_folder
from planbook.cli.options import quiet as _quiet
from planbook.cli.refusal import Refusal, cannot

if TYPE_CHECKING:
    from planbook.archive import Archive
    from planbook.archive.catalogue import Row
    from planbook.cli.showing import Format
    from planbook.text import Finding

EXIT = """Exit status: 0 if it was done, 1 if a finding says no, 2 if it cannot be done as asked."""

_data = click.option("--json", "as_data", is_flag=True, help="Print it as JSON, for other programs.")


@click.command(epilog=EXIT, short_help="Freeze the version of a design in the archive.")
@click.argument("design", type=click.Path(path_type=Path))
@_archive
@_quiet
@_format
def release(design: Path, folder: Path | None, quiet: bool, form: "Format") -> int:
    """Check DESIGN and freeze the version that it gives, with all that belongs to it.

    That is the source, the booklets on Letter in inches and on A4 in millimetres, stencils for other tools, lists,
    sample pages and listing. A version is never changed: another one needs a number that fits what has changed.
    """
    from planbook.cli.designs import folders_of
    from planbook.cli.releasing import release_one
    from planbook.cli.showing import Report

    (source,) = folders_of((design,))
    report = Report(form, quiet)
    with refusing():
        made, sentences = release_one(source, folder or source.resolve().parent / "archive", quiet)
    report.add(source, made.findings, made.sources)
    if not quiet:
        for sentence in sentences:
            click.echo(sentence, err=form != "people")
    return report.end()


@click.group(epilog=EXIT, short_help="Look at the archive of releases.")
def archive() -> None:
    """List, search, check, compare, restore and exchange the releases of an archive.

    A RELEASE is named DESIGN@VERSION, such as curlew-box@1.0; DESIGN alone is its greatest version.
    """


@archive.command("list", short_help="List the releases.")
@click.argument("design", required=False)
@_archive
@_data
def list_(design: str | None, folder: Path | None, as_data: bool) -> None:
    """List the releases of the archive, or those of one DESIGN."""
    with refusing(), _of(folder).catalogue() as catalogue:
        _print_rows(catalogue.rows(design), as_data)


@archive.command(short_help="Search the releases.")
@click.argument("words", nargs=-1, required=True)
@_archive
@_data
def search(words: tuple[str, ...], folder: Path | None, as_data: bool) -> None:
    """List the releases that hold words beginning with all of WORDS, the best first.

    Titles, summaries, woods, pieces, steps, stencils, tools, supplies, skills and licences are searched.
    """
    with refusing(), _of(folder).catalogue() as catalogue:
        _print_rows(catalogue.search(" ".join(words)), as_data)


@archive.command(short_help="Show what a release holds.")
@click.argument("release")
@_archive
@_data
def show(release: str, folder: Path | None, as_data: bool) -> None:
    """Show a RELEASE: what it is about, how it was made, its files with their checksums."""
    from planbook.archive.manifest import written
    from planbook.cli.releases_shown import shown_release

    with refusing():
        manifest = _of(folder).release(release)
    click.echo(written(manifest) if as_data else shown_release(manifest), nl=not as_data)


@archive.command(epilog=EXIT, short_help="Check every file of the archive.")
@_archive
@click.option(
    "--reprint",
    metavar="RELEASE",
    multiple=True,
    help="Print this release again as well, and compare every byte; repeatable. It must be the same planbook.",
)
@_quiet
@_format
def verify(folder: Path | None, reprint: tuple[str, ...], quiet: bool, form: "Format") -> int:
    """Read every file of the archive and compare it with its checksum; name what is changed, missing or strange."""
    from planbook.archive.names import counted
    from planbook.archive.verify import verify as verify_all
    from planbook.cli.progress import telling
    from planbook.cli.releasing import reprint_one
    from planbook.cli.showing import Report

    report, found = Report(form, quiet), _of(folder)
    with refusing(), telling(str(found.folder), quiet) as progress:
        verified = verify_all(found, progress)
    report.add(found.folder, verified.findings, {})
    for name in reprint:
        with refusing():
            report.add(Path(name), reprint_one(found, name, quiet), {})
    if not quiet:
        counts = (counted(verified.releases, "release"), counted(verified.objects, "object"))
        click.echo(f"{', '.join(counts)}, {verified.bytes / 1e6:.1f} MB", err=form != "people")
    return report.end()


@archive.command(short_help="Say what has changed between two releases.")
@click.argument("old")
@click.argument("new")
@_archive
@click.option(
    "--out", metavar="FILE", type=click.Path(path_type=Path), help="Write the page in Markdown to this file, whole."
)
@_data
def compare(old: str, new: str, folder: Path | None, out: Path | None, as_data: bool) -> None:
    """Say what has changed from the release OLD to NEW, and which stencils must be printed again."""
    from planbook.cli.releases_shown import comparison_data, comparison_text
    from planbook.whole_files import write_whole

    with refusing():
        archive = _of(folder)
        manifests = archive.release(old), archive.release(new)
        changes = archive.compare(old, new)
    text = (comparison_data if as_data else comparison_text)(*manifests, changes)
    if out is None:
        click.echo(text.encode("utf-8", "backslashreplace"), nl=False)
        return
    with refusing("cannot be written"):
        out.parent.mkdir(parents=True, exist_ok=True)
        write_whole(out, text.encode("utf-8", "backslashreplace"))
    click.echo(f"wrote {out}")


@archive.command(short_help="Write the files of a release into a folder.")
@click.argument("release")
@_archive
@_out_folder("The folder in which DESIGN-VERSION is made.")
@_quiet
def restore(release: str, folder: Path | None, out: Path, quiet: bool) -> None:
    """Write the source and the frozen files of a RELEASE, each checked, into a folder of its own.

    SHA256SUMS beside them holds their checksums, as `sha256sum --check` reads them.
    """
    from planbook.archive.restore import restore as restore_release

    with refusing("cannot be restored"):
        made, files = restore_release(_of(folder), release, out)
    if not quiet:
        click.echo(f"wrote {made} ({len(files)} files)")


@archive.command(short_help="Write releases into one file for somebody else.")
@click.argument("releases", metavar="RELEASE...", nargs=-1, required=True)
@_archive
@click.option("--out", metavar="FILE", required=True, type=click.Path(path_type=Path), help="The zip file to write.")
@_quiet
def export(releases: tuple[str, ...], folder: Path | None, out: Path, quiet: bool) -> None:
    """Write one or more RELEASEs into a zip file that another archive can import.

    It holds what was released and nothing else: no buyer, no order.
    """
    from planbook.archive.exporting import export as export_releases

    with refusing("cannot be written"):
        names = export_releases(_of(folder), releases, out)
    if not quiet:
        click.echo(f"wrote {out} ({', '.join(names)})")


@archive.command("import", epilog=EXIT, short_help="Take in the releases of an export.")
@click.argument("file", type=click.Path(path_type=Path))
@_archive
@_quiet
@_format
def import_(file: Path, folder: Path | None, quiet: bool, form: "Format") -> int:
    """Take in all releases of an exported FILE, or none: every checksum is looked at before anything is seen."""
    from planbook.archive import Refused
    from planbook.archive.importing import Imported, import_releases
    from planbook.cli.progress import telling
    from planbook.cli.showing import Report

    report, taken = Report(form, quiet), Imported((), ())
    findings: tuple[Finding, ...] = ()
    with refusing(), telling(str(file), quiet) as progress:
        try:
            taken = import_releases(_of(folder), file, progress)
        except Refused as problem:
            findings = problem.findings
    report.add(file, findings, {})
    if not quiet:
        for name in (*(f"took in `{name}`" for name in taken.new), *(f"`{name}` was known" for name in taken.known)):
            click.echo(name, err=form != "people")
    return report.end()


@contextmanager
def refusing(doing: str = "cannot be used") -> Iterator[None]:
    """What the archive or the system does not let us do, as one sentence."""
    from planbook.archive import ArchiveProblem

    try:
        yield
    except ArchiveProblem as problem:
        raise Refusal(str(problem)) from None
    except BrokenPipeError:
        raise
    except OSError as error:
        raise cannot(doing, error) from None


def _of(folder: Path | None) -> "Archive":
    from planbook.archive import Archive

    return Archive(folder or Path("archive"))


def _print_rows(rows: "list[Row]", as_data: bool) -> None:
    from planbook.cli.releases_shown import rows_data, rows_text

    click.echo((rows_data if as_data else rows_text)(rows).encode("utf-8", "backslashreplace"), nl=False)
