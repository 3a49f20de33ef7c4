"""The commands that reckon: a size that just holds, and what a design takes."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planbook.cli import options
from planbook.cli.options import EXIT

if TYPE_CHECKING:
    from planbook.cli.listing import ListForm
    from planbook.cli.showing import Format


def _print_schema(context: click.Context, _: click.Parameter, asked: bool) -> None:
    """Print the JSON Schema of the lists and end the command."""
    if asked and not context.resilient_parsing:
        import json

        from planbook.takeoff import lists_schema

        click.echo(json.dumps(lists_schema(), indent=2, ensure_ascii=False))
        context.exit()


@click.command(epilog=EXIT, short_help="Find the size with which a fit just holds.")
@click.argument("design", type=click.Path(path_type=Path))
@click.argument("size")
@click.argument("fit")
@click.option("--above", metavar="LENGTH", help='The least value to be looked at, such as "2 mm".')
@click.option("--below", metavar="LENGTH", help='The largest value to be looked at, such as "1/2 in".')
@click.option("--units", type=click.Choice(("in", "mm")), help="The units printed; those of the design by itself.")
@options.quiet
@options.findings_format
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


@click.command(epilog=EXIT, short_help="List what a design takes: lumber, cut layouts, shopping.")
@click.argument("design", type=click.Path(path_type=Path))
@options.rack
@options.prices
@options.choice
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
@options.quiet
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
