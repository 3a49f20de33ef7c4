"""The commands that print: booklets, and what a shop needs to sell them."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planbook.cli import options
from planbook.cli.options import EXIT

if TYPE_CHECKING:
    from planbook.cli.showing import Format

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


@click.command(epilog=EXIT, short_help="Write the booklets of designs.")
@options.designs
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
@options.out_folder("The folder for the booklets; it is made if it is not there.")
@options.choice
@click.option(
    "--day",
    callback=_working_day,
    metavar="TIME",
    default=USUAL_DAY,
    show_default=True,
    help="How much you work on a day, for the page on how long it takes.",
)
@options.prices
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
    default=1,
    show_default=True,
    help="Build on so many processes at a time; of one design, prove it and print its editions on them.",
)
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    help="Build on the workers of this cluster (dask.distributed), which see the same folders.",
)
@options.nominal
@options.rack
@options.quiet
@options.findings_format
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
    jobs: int,
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
    asked = Options(editions, out, choice, prices, rack, nominal)
    return build_each(folders_of(designs, apart=True), asked, Report(form, quiet), jobs, scheduler)


@click.command(epilog=EXIT, short_help="Write what a shop needs to sell the plan of a design.")
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--paper", type=click.Choice(("letter", "a4")), help="The paper; letter for inches, a4 for millimetres.")
@click.option("--units", type=click.Choice(("in", "mm")), help="The units printed; those of the design by itself.")
@options.out_folder("The folder in which DESIGN-offer is made.")
@click.option("--step", "steps", metavar="N", type=click.IntRange(1), multiple=True, help="Show this step; repeatable.")
@options.choice
@options.nominal
@options.quiet
@options.findings_format
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
