"""The commands and their options; each hands over to the pipeline and shows what comes back."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planbook import __version__
from planbook.cli.archiving import archive, release
from planbook.cli.buying import buyers, copies, errata
from planbook.cli.options import findings_format as _format
from planbook.cli.options import quiet as _quiet
from planbook.cli.refusal import Refusal
from planbook.cli.shelving import shelf

if TYPE_CHECKING:
    from planbook.cli.listing import ListForm
    from planbook.cli.showing import Format

EXIT = """Exit status: 0 if nothing stops a booklet, 1 if a finding does, 2 if it cannot be done as asked."""


USUAL_DAY = "3 h"


def _working_day(ctx: click.Context, param: click.Parameter, value: str) -> int | None:
    """A time of work on one day, such as `3 h` or `2 h 30 min`, as whole minutes: from one to all of a day.

    None for the usual day, so that nothing need be loaded to read it.
    """
    if value == USUAL_DAY:
        return None
    from planbook.units import UnitProblem, read_minutes

    try:
        minutes = round(read_minutes(value))
    except UnitProblem as problem:
        raise click.BadParameter(problem.message, ctx, param) from None
    if not 1 <= minutes <= 24 * 60:
        raise click.BadParameter(f"`{value}` is not from 1 min to 24 h", ctx, param)
    return minutes


_designs = click.argument("designs", metavar="DESIGN...", nargs=-1, required=True, type=click.Path(path_type=Path))


def _print_schema(context: click.Context, _: click.Parameter, asked: bool) -> None:
    """Print the JSON Schema of the lists and end the command."""
    if asked and not context.resilient_parsing:
        import json

        from planbook.takeoff import lists_schema

        click.echo(json.dumps(lists_schema(), indent=2, ensure_ascii=False))
        context.exit()


_choice = click.option("--choice", metavar="NAME", help="Take this choice of woods of the design.")
_nominal = click.option(
    "--nominal", is_flag=True, help="Build it once, as drawn: leave out other kerfs, boards and the seasons."
)
_prices = click.option(
    "--prices",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Your price list (TOML or CSV): what it costs is reckoned as well, and a booklet has a page of it.",
)


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
@_quiet
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
@_designs
@_choice
@_nominal
@_quiet
@_format
def check(designs: tuple[Path, ...], choice: str | None, nominal: bool, quiet: bool, form: "Format") -> int:
    """Carry out the steps of each DESIGN and say what is wrong or doubtful."""
    from planbook.cli.designs import check_one, folders_of
    from planbook.cli.showing import Report

    report = Report(form, quiet)
    for folder in folders_of(designs):
        checked = check_one(folder, choice, nominal, quiet)
        report.add(folder, checked.findings, checked.sources)
    return report.end()


_rack = click.option(
    "--rack",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Your own boards, as TOML or CSV; they are used before anything is bought.",
)


@program.command(epilog=EXIT, short_help="Write the booklets of designs.")
@_designs
@click.option(
    "--paper",
    "papers",
    type=click.Choice(("letter", "a4", "tabloid", "a3")),
    multiple=True,
    help="The paper; letter for inches, a4 for millimetres. Repeat this or the next three for several editions.",
)
@click.option(
    "--stencils-on",
    type=click.Choice(("letter", "a4", "tabloid", "a3", "roll", "roll-36")),
    help="Another paper for the stencils: they are tiled less on a large one. A roll is 24 in wide, roll-36 36 in.",
)
@click.option(
    "--units",
    type=click.Choice(("in", "in-decimal", "mm", "both")),
    multiple=True,
    help="The units printed: inches with fractions or decimals, millimetres, or both; those of the design by itself.",
)
@click.option(
    "--language",
    "languages",
    type=click.Choice(("en", "de", "es", "fr")),
    multiple=True,
    help="The language of the booklet; English by itself.",
)
@click.option(
    "--ink",
    "inks",
    type=click.Choice(("colour", "black")),
    multiple=True,
    help="Black for printers without colours; colour by itself.",
)
@click.option(
    "--layout",
    metavar="NAME|DIR",
    default="booklet",
    help="How pages are set: booklet, shop (for the workshop bench), or the folder of your own layout.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path(),
    show_default="this folder",
    help="The folder for the booklets; it is made if it is not there.",
)
@_choice
@click.option(
    "--day",
    callback=_working_day,
    metavar="TIME",
    default=USUAL_DAY,
    show_default=True,
    help="How much you work on a day, for the page on how long it takes.",
)
@_prices
@click.option("--draft", is_flag=True, help="Print a booklet in spite of errors, marked as a draft on every page.")
@click.option(
    "--measured",
    metavar="ACROSSxALONG",
    help="What the check bars of 100 mm (or of 4 in) measured on your print, such as 99.4x100.2: the stencils are "
    "corrected for that printer.",
)
@click.option(
    "--cut-files", is_flag=True, help="Write each stencil also as SVG and DXF, true size, and each piece as STL."
)
@click.option(
    "--archive-copy",
    is_flag=True,
    help="Write also a copy for archives (PDF/A-3) that carries the design, the lists, the stencils as SVG and DXF.",
)
@click.option(
    "-j",
    "--jobs",
    metavar="N",
    type=click.IntRange(1, 256),
    show_default="2 for one design where the machine has as many, 1 for several",
    help="Build on so many processes at a time; of one design, prove it and print its editions on them.",
)
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    help="Build on the workers of this cluster (dask.distributed), which see the same folders.",
)
@_nominal
@_rack
@_quiet
@_format
def build(
    designs: tuple[Path, ...],
    papers: tuple[Any, ...],
    stencils_on: Any,
    units: tuple[Any, ...],
    languages: tuple[Any, ...],
    inks: tuple[Any, ...],
    layout: str,
    out: Path,
    choice: str | None,
    day: int | None,
    prices: Path | None,
    draft: bool,
    measured: str | None,
    cut_files: bool,
    archive_copy: bool,
    nominal: bool,
    rack: Path | None,
    jobs: int | None,
    scheduler: str | None,
    quiet: bool,
    form: "Format",
) -> int:
    """Check each DESIGN and write its booklet as PDF, and its lists as CSV and JSON beside it.

    A design that cannot be built does not stop the others. Where nothing changed, the last booklet is used again.
    """
    from planbook.cli.building import Options, build_each
    from planbook.cli.designs import folders_of, measured_bars
    from planbook.cli.showing import Report
    from planbook.pipeline.wanted import Wanted, several

    edition = Wanted(
        layout=layout,
        stencils_on=stencils_on,
        draft=draft,
        correction=measured_bars(measured),
        tool_files=cut_files,
        archive=archive_copy,
        work_a_day=day,
    )
    editions = several(edition, papers, units, languages, inks)
    options = Options(editions, out, choice, prices, rack, nominal)
    return build_each(folders_of(designs, apart=True), options, Report(form, quiet), jobs, scheduler)


@program.command(epilog=EXIT, short_help="Write what a shop needs to sell the plan of a design.")
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--paper", type=click.Choice(("letter", "a4")), help="The paper; letter for inches, a4 for millimetres.")
@click.option("--units", type=click.Choice(("in", "mm")), help="The units printed; those of the design by itself.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path(),
    show_default="this folder",
    help="The folder in which DESIGN-offer is made.",
)
@click.option("--step", "steps", metavar="N", type=click.IntRange(1), multiple=True, help="Show this step; repeatable.")
@_choice
@_nominal
@_quiet
@_format
def offer(
    design: Path,
    paper: Any,
    units: Any,
    out: Path,
    steps: tuple[int, ...],
    choice: str | None,
    nominal: bool,
    quiet: bool,
    form: "Format",
) -> int:
    """Check DESIGN and write what a shop needs: sample pages, a listing, pictures, a sheet for the lumber yard.

    Sample pages are marked, and hold no stencil. The listing is written as text, HTML and JSON.
    """
    from planbook.cli.designs import folders_of, offer_one
    from planbook.cli.showing import Report

    (folder,) = folders_of((design,))
    report = Report(form, quiet)
    made = offer_one(folder, out, quiet, paper=paper, units=units, steps=steps, choice=choice, nominal=nominal)
    report.add(folder, made.findings, made.sources, made.files)
    return report.end()


@program.command(epilog=EXIT, short_help="Find the size with which a fit just holds.")
@click.argument("design", type=click.Path(path_type=Path))
@click.argument("size")
@click.argument("fit")
@click.option("--above", metavar="LENGTH", help='The least value to be looked at, such as "2 mm".')
@click.option("--below", metavar="LENGTH", help='The largest value to be looked at, such as "1/2 in".')
@click.option("--units", type=click.Choice(("in", "mm")), help="The units printed; those of the design by itself.")
@_quiet
@_format
def solve(
    design: Path,
    size: str,
    fit: str,
    above: str | None,
    below: str | None,
    units: Any,
    quiet: bool,
    form: "Format",
) -> int:
    """Find the smallest SIZE of a DESIGN with which a FIT holds for every kerf, board and season.

    It is the largest where more of the size leaves less room. The answer is good to 0.01 mm.
    """
    from planbook.cli.designs import folders_of
    from planbook.cli.progress import telling
    from planbook.cli.showing import Report
    from planbook.cli.solving import bounds
    from planbook.pipeline import solve as solve_design

    low, high = bounds(above, below)
    (folder,) = folders_of((design,))
    report = Report(form, quiet)
    with telling(str(folder), quiet) as progress:
        answered = solve_design(folder, size, fit, low, high, units, progress)
    report.answer(folder, answered.findings, answered.sources, answered.sentences)
    return report.end()


@program.command(epilog=EXIT, short_help="List what a design takes: lumber, cut layouts, shopping.")
@click.argument("design", type=click.Path(path_type=Path))
@_rack
@_prices
@_choice
@click.option("--make", metavar="N", type=click.IntRange(1, 10_000), default=1, help="Make N of them, not one.")
@click.option("--units", type=click.Choice(("in", "mm")), help="The units printed; those of the design by itself.")
@click.option(
    "--format",
    "form",
    type=click.Choice(("table", "csv", "json")),
    default="table",
    show_default=True,
    help="Tables for people, CSV for a spreadsheet, or JSON in the form that --schema prints.",
)
@click.option(
    "--schema",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_schema,
    help="Print the JSON Schema of the JSON, and end.",
)
@click.option(
    "--out", metavar="FILE", type=click.Path(path_type=Path), help="The file to write, whole; stdout if left out."
)
@_quiet
def takeoff(
    design: Path,
    rack: Path | None,
    prices: Path | None,
    choice: str | None,
    make: int,
    units: Any,
    form: "ListForm",
    out: Path | None,
    quiet: bool,
) -> int:
    """List what it takes to make DESIGN: boards, cut layouts, a shopping list, pieces, tools, supplies, time.

    The lists go to stdout, findings to stderr.
    """
    from planbook.cli.designs import folders_of, take_off_one
    from planbook.cli.listing import listed
    from planbook.cli.showing import Report

    (folder,) = folders_of((design,))
    taken = take_off_one(folder, units, make, quiet, choice=choice, prices=prices, rack=rack)
    report = Report("people", quiet, aside=True)
    written = listed(taken, form, out)
    report.add(folder, taken.findings, taken.sources, written)
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
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path(),
    show_default="this folder",
    help="The folder for the two files; it is made if it is not there.",
)
@_quiet
def guide(out: Path, quiet: bool) -> None:
    """Write the handbook of planbook: a tutorial, then every key, operation, rule, command and table.

    It is written as one HTML page and as PDF, from this version of the program; neither needs the network.
    """
    from planbook.cli.guiding import write

    for path in write(program, out):
        if not quiet:
            click.echo(f"wrote {path}")


program.add_command(release)
program.add_command(archive)
program.add_command(copies)
program.add_command(errata)
program.add_command(buyers)
program.add_command(shelf)
