"""What must hold of every table: sources, standings, exact lengths, no two rows of one name."""

import itertools
import subprocess
import sys
from dataclasses import FrozenInstanceError
from fractions import Fraction

import pytest

from planbook.handbook import (
    OPERATIONS,
    RECORDS,
    STANDINGS,
    SUPPLIES,
    Row,
    abrasive,
    abrasives,
    blades,
    finishes,
    glue,
    glues,
    limits,
    lining,
    linings,
    lumber_sizes,
    names,
    paper,
    papers,
    rate,
    rates,
    sheet_sizes,
    woods,
)
from planbook.handbook.loader import plain, table_of

ALL = {
    "woods": woods,
    "blades": blades,
    "glues": glues,
    "finishes": finishes,
    "abrasives": abrasives,
    "papers": papers,
    "linings": linings,
    "rates": rates,
    "lumber": lumber_sizes,
    "sheets": sheet_sizes,
    "limits": limits,
}


@pytest.mark.parametrize("table", ALL)
def test_every_row_says_where_it_comes_from(table: str) -> None:
    rows = ALL[table]()
    assert rows
    for row in rows.values():
        assert len(row.source) > 8, row.name
        assert row.standing in STANDINGS, row.name


@pytest.mark.parametrize("record", RECORDS)
def test_no_two_rows_answer_to_one_name(record: type[Row]) -> None:
    found = [plain(name) for name in names(record)]
    assert len(set(found)) == len(found)


@pytest.mark.parametrize("table", ALL)
def test_names_are_plain_lower_case(table: str) -> None:
    for name, row in ALL[table]().items():
        assert name == row.name == name.lower().strip()


def test_two_rows_of_one_name_are_refused() -> None:
    first = Row(name="a", source="s", standing="from memory", aliases=("b c",))
    second = Row(name="B-C", source="s", standing="from memory")
    with pytest.raises(ValueError, match="two rows are called 'B-C'"):
        table_of([first, second])


def test_rows_and_tables_cannot_be_changed() -> None:
    row = papers()["a4"]
    with pytest.raises(FrozenInstanceError):
        row.name = "a5"  # type: ignore[misc]
    with pytest.raises(TypeError):
        papers()["a4"] = row  # type: ignore[index]


def test_importing_the_handbook_reads_no_table() -> None:
    code = "import sys, planbook.handbook as h; print('tomllib' in sys.modules, h.paper('a4').width_mm)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "210"]


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("A0", "841", "1189"),  # ISO 216:2007
        ("A1", "594", "841"),
        ("A2", "420", "594"),
        ("A3", "297", "420"),
        ("A4", "210", "297"),
        ("A5", "148", "210"),
        ("A6", "105", "148"),
        ("letter", "215.9", "279.4"),  # ASME Y14.1 size A, 8.5 x 11 in
        ("us legal", "215.9", "355.6"),  # 8.5 x 14 in, common practice
        ("tabloid", "279.4", "431.8"),  # ASME Y14.1 size B, 11 x 17 in
    ],
)
def test_papers(name: str, width: str, height: str) -> None:
    row = paper(name)
    assert row is not None
    assert (row.width_mm, row.height_mm) == (Fraction(width), Fraction(height))
    assert row.margin_mm == Fraction("6.35")


def test_each_a_size_is_half_the_one_before() -> None:
    sizes = [papers()[f"a{number}"] for number in range(7)]
    for large, small in itertools.pairwise(sizes):
        assert small.height_mm == large.width_mm
        assert small.width_mm == large.height_mm // 2


def test_grits_get_strictly_finer() -> None:
    rows = list(abrasives().values())
    assert [row.grit for row in rows] == sorted({row.grit for row in rows})
    sizes = [row.micrometres for row in rows]
    assert sizes == sorted(set(sizes), reverse=True)


@pytest.mark.parametrize(
    ("name", "micrometres"), [("P60", 269), ("80", 201), ("p120", 125), ("P220", 68), ("P2500", 8.4)]
)
def test_grits_of_iso_6344(name: str, micrometres: float) -> None:
    row = abrasive(name)
    assert row is not None
    assert row.micrometres == micrometres


def test_there_is_no_p230() -> None:
    assert abrasive("P230") is None


def test_glues_hold_together() -> None:
    for row in glues().values():
        assert row.open_minutes > 0, row.name
        assert row.spread_g_m2 > 0, row.name
        assert row.cure_minutes >= row.clamp_minutes >= 0, row.name
        assert set(row.cautions) <= set(SUPPLIES), row.name
    yellow = glue("Yellow PVA")
    assert yellow is not None
    # Makers' gluing guides: clamp 30 to 60 minutes, no load before 24 hours.
    assert (yellow.clamp_minutes, yellow.cure_minutes) == (60, 24 * 60)


def test_finishes_carry_the_cautions_they_need() -> None:
    for row in finishes().values():
        assert row.coverage_m2_per_litre > 0, row.name
        assert row.coats >= 1, row.name
        assert set(row.cautions) <= set(SUPPLIES), row.name
        assert row.flammable == ("solvent finish" in row.cautions), row.name
        assert row.oily_rags == ("oily rags" in row.cautions), row.name
        assert row.oily_rags or row.kind != "drying oil", row.name


def test_finish_coverage_converts_from_the_gallon() -> None:
    # 1 US gallon = 231 cubic inches; makers' guides: 450 sq ft per gallon of tung oil, 350 of polyurethane.
    square_metres_per_litre = 0.3048**2 / (231 * 0.0254**3 * 1000)
    assert finishes()["tung oil"].coverage_m2_per_litre == pytest.approx(450 * square_metres_per_litre, rel=0.01)
    assert finishes()["oil polyurethane"].coverage_m2_per_litre == pytest.approx(
        350 * square_metres_per_litre, rel=0.01
    )


def test_linings_are_stuck_with_something_known() -> None:
    for row in linings().values():
        assert row.amount_per_m2 > 0, row.name
        assert not row.adhesive or glue(row.adhesive) or lining(row.adhesive), row.name
        assert set(row.cautions) <= set(SUPPLIES), row.name


def test_every_operation_has_a_rate_and_every_rate_an_operation() -> None:
    assert sorted(rates()) == sorted(OPERATIONS)


def test_minutes_of_an_operation() -> None:
    row = rate("sand-to-line")
    assert row is not None
    assert row.minutes(0) == row.setup_minutes
    assert row.minutes(2) - row.minutes(1) == pytest.approx(row.unit_minutes)
