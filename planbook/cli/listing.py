"""Prints the lists of a design, or writes them to a file; what they say was decided before."""

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from planbook.cli.refusal import cannot

if TYPE_CHECKING:
    from planbook.pipeline import TakenOff

ListForm = Literal["table", "csv", "json"]


def listed(taken: "TakenOff", form: ListForm, out: Path | None) -> tuple[Path, ...]:
    """Print the lists, or write them whole to `out` and return that; nothing where a finding stops them.

    Raises Refusal if the file cannot be written.
    """
    from planbook.booklet.editions import STYLES
    from planbook.takeoff import as_csv, as_json, as_table
    from planbook.whole_files import write_whole

    if taken.lists is None:
        return ()
    style = STYLES[taken.units]
    match form:
        case "csv":
            text = as_csv(taken.lists, style)
        case "json":
            text = as_json(taken.lists)
        case _:
            text = as_table(taken.lists, style, taken.by_choice)
    data = text.encode("utf-8", "backslashreplace")
    if out is None:
        click.echo(data, nl=False)
        return ()
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        write_whole(out, data)
    except OSError as error:
        raise cannot("cannot be written", error) from None
    return (out,)
