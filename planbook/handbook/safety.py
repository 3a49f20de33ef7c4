"""Which cautions belong to what a step does, uses and cuts, and the page of general precautions."""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache, lru_cache

from planbook.handbook.book import BUILT_IN, Handbook
from planbook.handbook.loader import Table, plain, rows_of, table_of
from planbook.handbook.records import SIGNALS, Caution, Precaution, Wood

OPERATIONS: tuple[str, ...] = (
    "mill",
    "glue up",
    "square",
    "stick",
    "saw",
    "slice",
    "trim",
    "rip",
    "crosscut",
    "mitre",
    "bevel",
    "bore",
    "counterbore",
    "countersink",
    "dowel holes",
    "sand to line",
    "sand face",
    "sand flush",
    "glue",
    "cut plugs",
    "shim",
    "round over",
    "chamfer",
    "rabbet",
    "groove",
    "dado",
    "mortise",
    "tenon",
    "template copy",
    "fit hardware",
    "mask",
    "unmask",
    "finish",
    "line",
    "wait",
    "assemble",
    "dry fit",
    "set aside",
    "discard",
)
TOOLS: tuple[str, ...] = (
    "band saw",
    "scroll saw",
    "table saw",
    "drill press",
    "disc sander",
    "drum sander",
    "router",
    "hand saw",
    "hand drill",
)
SUPPLIES: tuple[str, ...] = (
    "spray adhesive",
    "cyanoacrylate",
    "epoxy",
    "polyurethane glue",
    "contact cement",
    "solvent finish",
    "oily rags",
    "flock fibres",
    "wood dust",
    "sheet dust",
    "hot glue pot",
    "finish vapour",
    "wall fixings",
)
GEOMETRIES: tuple[str, ...] = (
    "short piece",
    "small part",
    "thin piece",
    "round work",
    "curved bottom",
    "tight curve",
    "tall cut",
    "overhang",
    "large bit",
    "cut layout",
)
"""What a caution can be about, by name; every one of them has at least one caution."""

_TOOL_ALIASES: Mapping[str, str] = {
    "bandsaw": "band saw",
    "scrollsaw": "scroll saw",
    "tablesaw": "table saw",
    "pillar drill": "drill press",
    "spindle sander": "drum sander",
    "router table": "router",
    "drill": "hand drill",
}
_ABOUT_WOOD = "wood dust"
_ABOUT_SHEET = "sheet dust"
_STRONG = ("+++", "++++")


def caution(key: str) -> Caution | None:
    """The caution of that key, or None."""
    return _cautions().find(key)


def cautions() -> Mapping[str, Caution]:
    """All cautions by key: those of the data file, then one for each wood whose dust is known to do harm."""
    return _cautions().rows


def cautions_for(
    *,
    operation: str = "",
    tools: Iterable[str] = (),
    supplies: Iterable[str] = (),
    woods: Iterable[str] = (),
    geometries: Iterable[str] = (),
    book: Handbook = BUILT_IN,
) -> tuple[Caution, ...]:
    """The cautions for a step, each once, the gravest signal word first, else in the order of the handbook.

    A supply may be a name of `SUPPLIES` or a glue, finish or lining, which brings the supplies it names. A
    wood brings its own caution and the one for the dust of wood or of sheet goods. Unknown names bring none.
    """
    known = book.rate(operation)
    wanted = {("operation", plain(known.name if known else operation))}
    wanted |= {("tool", _TOOL_ALIASES.get(plain(name), plain(name))) for name in tools}
    wanted |= {("supply", plain(name)) for given in supplies for name in _supplies_in(given, book)}
    wanted |= {pair for given in woods for pair in _about_wood(given, book)}
    wanted |= {("geometry", plain(name)) for name in geometries}
    found = [row for row in _cautions(book).rows.values() if (row.about, plain(row.subject)) in wanted]
    return tuple(sorted(found, key=lambda row: SIGNALS.index(row.signal)))


@cache
def general_precautions() -> tuple[Precaution, ...]:
    """The items of the page of general precautions, in their printed order."""
    return rows_of(Precaution, "precautions.toml")


def _supplies_in(name: str, book: Handbook) -> Iterator[str]:
    yield name
    for row in (book.glue(name), book.finish(name), book.lining(name)):
        if row is not None:
            yield from row.cautions


def _about_wood(name: str, book: Handbook) -> Iterator[tuple[str, str]]:
    row = book.wood(name)
    if row is not None:
        yield "wood", plain(row.name)
        yield "supply", _ABOUT_SHEET if row.group == "sheet" else _ABOUT_WOOD


@lru_cache(maxsize=32)
def _cautions(book: Handbook = BUILT_IN) -> Table[Caution]:
    # Kept by the value of the handbook, so that no design sees the rows of another.
    return table_of((*rows_of(Caution, "cautions.toml"), *_dust_cautions(book)))


def _dust_cautions(book: Handbook) -> Iterator[Caution]:
    """A caution for each wood with a known reaction, so that the reaction is written in one place only."""
    return (_dust_caution(row) for row in book.rows(Wood).values() if row.dust)


def _dust_caution(row: Wood) -> Caution:
    strong = row.dust_potency in _STRONG
    effect = "could seriously affect" if strong else "is known to affect"
    return Caution(
        name=f"dust of {row.name}",
        signal="WARNING" if strong else "CAUTION",
        about="wood",
        subject=row.name,
        hazard=f"The dust of {row.name} {row.dust}.",
        consequence=f"It {effect} {_listed(row.dust_site)}; people differ in how much.",
        avoid="Catch the dust at the machine, wear a fine-dust respirator, and wash it off your skin.",
        effect=row.dust,
        sites=row.dust_site,
        source=row.dust_source,
        standing="published" if row.standing != "the maker's own" else row.standing,
    )


def _listed(words: tuple[str, ...]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), words[-1])))
