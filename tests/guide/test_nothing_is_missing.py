"""Every command, key, operation, finding and row of the handbook stands in the guide, in the section that is its own."""

import dataclasses
import re

import click
import pytest

from planbook.booklet.manual import anchor_of
from planbook.cli.program import program
from planbook.handbook import BUILT_IN, RECORDS, cautions, general_precautions
from planbook.pipeline import all_kinds
from planbook.reader.book_tables import TABLES
from planbook.reader.fit_tables import FITS
from planbook.reader.rack_tables import DefectTable, RackHead, RackTable
from planbook.reader.schema import BookFile, DesignFile
from planbook.reader.shape_tables import SHAPES, Leg
from planbook.reader.tables import (
    CardTable,
    ChoiceTable,
    HoleTable,
    StencilTable,
    StockTable,
    SupplyTable,
    ToolTable,
    VariesTable,
)
from planbook.units.functions import FUNCTIONS
from planbook.workshop.fields import UNWRITTEN, general
from planbook.workshop.registry import operations
from planbook.workshop.told import about

from .conftest import every_command

KEYS = {
    "design-top": CardTable,
    "design-stock": StockTable,
    "design-stencils": StencilTable,
    "design-holes": HoleTable,
    "design-tools": ToolTable,
    "design-supplies": SupplyTable,
    "design-choices": ChoiceTable,
    "design-varies": VariesTable,
    "shape-leg": Leg,
    **{f"shape-{anchor_of(name)}": table for name, table in SHAPES.items()},
    **{f"fit-{anchor_of(name)}": table for name, table in FITS.items()},
    "rack-the-top-of-a-rack-file": RackHead,
    "rack-rack-name": RackTable,
    "rack-a-defect-of-a-board": DefectTable,
    **{f"book-{name}": table for name, table in TABLES.items()},
}


def plain(words: str) -> str:
    """Words as they are compared: without marks that are set otherwise in print."""
    return re.sub(r"[^\w]+", " ", words).strip()


@pytest.mark.parametrize(("name", "command"), list(every_command(program)), ids=lambda each: str(each))
def test_a_command_with_all_its_options(name: str, command: click.Command, page) -> None:
    section = f"command-{anchor_of(name)}"
    text = page.text(section)
    assert plain(command.help or "") in plain(text)
    for option in (param for param in command.params if isinstance(param, click.Option)):
        row = next(
            page.text(f"{section}-{anchor_of(n)}") for n in option.opts if f"{section}-{anchor_of(n)}" in page.ids
        )
        assert all(typed in row.replace(",", " ").split() for typed in option.opts), row
        assert option.help
        assert plain(option.help) in plain(row)
    for argument in (param for param in command.params if isinstance(param, click.Argument)):
        assert argument.make_metavar(click.Context(command)).strip("[]") in text


@pytest.mark.parametrize("section", sorted(KEYS))
def test_a_table_with_all_its_keys(section: str, page) -> None:
    table = KEYS[section]
    for key, info in zip(table.keys(), table.model_fields.values(), strict=True):
        text = page.text(f"{section}-{anchor_of(key)}")
        assert text.split()[0] == key
        assert plain(info.description or "") in plain(text)


def test_every_table_of_a_design_and_of_a_handbook_has_a_section(page) -> None:
    for key in DesignFile.keys():  # noqa: SIM118 - the keys of a class of tables
        assert f"design-top-{anchor_of(key)}" in page.ids
    tables = {*DesignFile.keys()} - {*CardTable.keys()} - {"sizes", "shapes", "fits"}
    assert {f"design-{key}" for key in (*tables, "sizes")} <= {*page.ids}
    assert {f"book-{key}" for key in BookFile.keys()} <= {*page.ids}  # noqa: SIM118


@pytest.mark.parametrize("name", operations())
def test_an_operation_with_all_its_fields(name: str, page) -> None:
    kind, section = operations()[name], f"op-{anchor_of(name)}"
    told = " ".join((kind.__doc__ or "").split())
    assert plain(told) in plain(page.text(section))
    written = [field.name for field in dataclasses.fields(kind) if field.name not in UNWRITTEN]
    for field in (*written, *general(kind)):
        assert page.text(f"{section}-{anchor_of(field)}").split()[0] == field
    for field in written:
        assert about(kind, field).endswith("."), field
        assert plain(about(kind, field)) in plain(page.text(f"{section}-{anchor_of(field)}"))


@pytest.mark.parametrize("kind", all_kinds(), ids=lambda kind: kind.code)
def test_a_finding_with_its_reason_and_examples(kind, page) -> None:
    text = page.text(f"finding-{kind.code.lower()}")
    assert text.startswith(f"{kind.code} {kind.name} {kind.severity}")
    for words in (kind.what, kind.why, kind.bad, kind.good):
        assert plain(words) in plain(text)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_a_table_of_the_handbook_with_its_rows_and_sources(record, page) -> None:
    whole = plain(page.text("tables"))
    for row in BUILT_IN.rows(record).values():
        assert plain(row.name) in whole
        assert plain(row.source) in whole


def test_all_cautions_precautions_and_functions(page) -> None:
    told, safety, formulas = page.text("table-cautions"), page.text("safety"), page.text("functions")
    assert all(plain(row.text) in plain(told) and row.signal in told for row in cautions().values())
    assert all(plain(row.text) in plain(safety) for row in general_precautions())
    assert all(name in formulas.split() for name in FUNCTIONS)
