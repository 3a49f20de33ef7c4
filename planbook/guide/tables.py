"""The tables of the handbook of woods, blades and the like, each row with the number of its source."""

from collections.abc import Iterator, Sequence
from dataclasses import fields
from fractions import Fraction

from planbook.booklet.manual import anchor_of, manual_words
from planbook.guide.records import Block, Column, Grid, GridRow, Section, Words
from planbook.handbook import (
    BUILT_IN,
    RECORDS,
    Abrasive,
    Blade,
    BoardSize,
    Cutting,
    Finish,
    Glue,
    Limit,
    Lining,
    LumberSize,
    Package,
    Paper,
    Rate,
    Row,
    SheetSize,
    Wood,
    cautions,
    general_precautions,
)

SOURCE = Column("source", "number source")
TITLES: dict[type[Row], tuple[str, str]] = {
    Wood: (
        "Woods and sheet materials",
        "Shrinkage is in per cent of the green size, from green to ovendry. Gravity is ovendry mass over the volume, "
        "green or at 12 % moisture. Change is the share by which a size changes for each point of moisture, from 6 to "
        "14 %; of sheets, in their plane. Radial is across the rings, tangential along them.",
    ),
    Blade: (
        "Saw blades",
        "The body is the steel behind the teeth. The radius is the tightest curve, where one is published.",
    ),
    Glue: ("Glues", "Times at about 20 °C: how long the glue stays open, is clamped, and takes to cure."),
    Finish: ("Finishes", "What a litre covers in one coat, and how long to wait between coats."),
    Abrasive: ("Abrasives", "FEPA P grits and the average size of their grains."),
    Paper: ("Papers", "Upright. The margin is what most printers cannot reach."),
    Lining: ("Linings", "How much of it a square metre takes, and what sticks it down."),
    Rate: ("Hands-on times", "Minutes to set up once, and for each unit of work, of a patient hobby worker."),
    LumberSize: (
        "Nominal and dressed sizes of lumber",
        "What is left of a nominal size when it is planed on both sides, or one.",
    ),
    SheetSize: ("Sizes of sheets", "Common sizes of plywood and other sheets."),
    Limit: ("Limits that the rules go by", "Lengths in millimetres, or plain numbers of what the unit says."),
    BoardSize: ("Sizes of boards", "Widths, lengths and metric thicknesses in which boards are sold."),
    Cutting: (
        "What cutting up takes",
        "Trims come off each long edge and each end. Squaring is added to a part without a rough size. Offcuts of the "
        "keep size are worth keeping. A board may be so much too thick and is planed down.",
    ),
    Package: ("How supplies are packed", "How much is sold at once; for an abrasive, the area that one sheet sands."),
}
"""How each table is called, and what its figures mean."""
_COMMON = ("name", "source", "standing", "aliases", "remembered")
_LEFT_OUT = (*_COMMON, "tint", "figure", "latin", "dust", "dust_site", "dust_potency", "dust_source", "margin_source")
"""What every row has, and what is for pictures, or said elsewhere: harm by dust in the cautions."""
_HEADS = {
    "gravity_green": "gravity, green",
    "gravity_12": "gravity, 12 %",
    "shrink_radial": "shrinks radial, %",
    "shrink_tangential": "shrinks tangential, %",
    "shrink_volumetric": "shrinks in volume, %",
    "change_radial": "change radial",
    "change_tangential": "change tangential",
    "teeth_per_inch": "teeth per inch",
    "coverage_m2_per_litre": "m² per litre",
    "spread_g_m2": "g per m²",
    "amount_per_m2": "per m²",
    "cure_days": "cure, days",
    "wait_hours": "wait, hours",
    "micrometres": "grain, µm",
}
_UNITS = {"mm": "mm", "minutes": "min"}


def table_sections() -> Iterator[Section]:
    """Every table of the handbook."""
    for record in RECORDS:
        rows = tuple(BUILT_IN.rows(record).values())
        title, about = TITLES.get(record, (record.__name__, ""))
        blocks = (Words(manual_words(about)), _grid(record, rows))
        yield Section(title, f"table-{anchor_of(title)}", blocks)


def caution_section() -> Section:
    """The cautions that steps carry."""
    rows = tuple(cautions().values())
    sources = _numbered(rows)
    columns = (Column("signal word"), Column("caution", "wide"), SOURCE)
    lines = tuple(GridRow(r.name, "", (r.signal, r.text, str(sources[r.source, r.standing]))) for r in rows)
    return Section("Cautions", "table-cautions", (Grid(columns, lines, _list(sources)),))


def precaution_blocks() -> tuple[Block, ...]:
    """The general precautions."""
    return tuple(Words(manual_words(f"**{row.headline}.** {row.text}")) for row in general_precautions())


def _grid(record: type[Row], rows: Sequence[Row]) -> Grid:
    names = [field.name for field in fields(record) if field.name not in _LEFT_OUT]
    names = [name for name in names if any(getattr(row, name) not in (None, "", ()) for row in rows)]
    sources = _numbered(rows)
    lines = []
    for row in rows:
        below = "; ".join(filter(None, (str(getattr(row, "latin", "")), ", ".join(row.aliases))))
        cells = [_shown(getattr(row, name)) for name in names]
        lines.append(GridRow(row.name, below, (*cells, str(sources[row.source, row.standing]))))
    columns = [Column(_head(name), "number" if _figures(rows, name) else "") for name in names]
    return Grid((*columns, SOURCE), tuple(lines), _list(sources))


def _numbered(rows: Sequence[Row]) -> dict[tuple[str, str], int]:
    sources = dict.fromkeys((row.source, row.standing) for row in rows)
    return {source: number for number, source in enumerate(sources, 1)}


def _list(sources: dict[tuple[str, str], int]) -> tuple[str, ...]:
    return tuple(f"{source} ({standing})" if standing not in source else source for source, standing in sources)


def _head(name: str) -> str:
    if name in _HEADS:
        return _HEADS[name]
    *words, last = name.split("_")
    return f"{' '.join(words)}, {_UNITS[last]}" if words and last in _UNITS else name.replace("_", " ")


def _figures(rows: Sequence[Row], name: str) -> bool:
    return all(
        isinstance(value, int | float | Fraction) and not isinstance(value, bool)
        for row in rows
        if (value := getattr(row, name)) is not None
    )


def _shown(value: object) -> str:
    match value:
        case None | "" | ():
            return "–"
        case bool():
            return "yes" if value else "no"
        case Fraction() | float() | int():
            number = float(value)
            return f"{number:.3g}" if abs(number) < 1 else f"{round(number, 2):.7g}"
        case tuple():
            return ", ".join(map(str, value))
        case _:
            return str(value)
