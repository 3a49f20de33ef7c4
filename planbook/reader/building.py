"""Makes the frozen records of a design from the tables that held; it checks nothing."""

from collections.abc import Mapping

from planbook.model import (
    Card,
    Choice,
    Expr,
    Fit,
    Hole,
    LineUse,
    Named,
    Node,
    RegionUse,
    Shape,
    Stencil,
    Stock,
    Supply,
    Tool,
    Varies,
)
from planbook.reader.checking import Checked
from planbook.reader.tables import CardTable, ChoiceTable, StencilTable, StockTable, SupplyTable, ToolTable
from planbook.text import Place
from planbook.units import parse_formula


def card_of(made: Checked, table: CardTable) -> Card:
    """The card of the design; its place is that of the title."""
    return Card(
        title=table.title,
        summary=table.summary,
        version=table.version,
        maker=table.maker,
        units=table.units,
        skill=table.skill,
        licence=table.licence,
        price=table.price,
        film=table.film.strip(),
        film_moment=table.film_moment.strip(),
        place=made.root.table()["title"].place,
        made_for=tuple(table.made_for),
        load=table.load,
        language=table.language,
        changes=dict(table.changes),
        made_for_place=made.root.table()["made_for"].place if "made_for" in made.root.table() else None,
    )


def stock_of(made: Checked) -> dict[str, Stock]:
    """The boards by name; those of a batch by its name and their number."""
    nodes = made.entries("stock")
    boards = (board for name, table in made.stock.items() for board in _stock(name, table, nodes[name]))
    return {board.name: board for board in boards}


def _stock(name: str, table: StockTable, node: Node) -> tuple[Stock, ...]:
    place = node.named_at
    at = table.at or (_zero(place), _zero(place), _zero(place))
    wood_place = node.table()["wood"].place
    if table.count is None:
        first = at[0] if isinstance(at, list) else at
        return (
            Stock(
                name,
                table.wood,
                table.size,
                first,
                table.grain,
                table.rough,
                place,
                wood_place,
                match=table.match.strip(),
            ),
        )
    return tuple(
        Stock(
            name=numbered(name, nth + 1),
            wood=table.wood,
            size=table.size,
            at=at[nth] if isinstance(at, list) else at,
            grain=table.grain,
            rough=table.rough,
            place=place,
            wood_place=wood_place,
            batch=name,
            step=table.step,
            nth=nth,
            match=table.match.strip(),
        )
        for nth in range(table.count)
    )


def numbered(name: str, number: int) -> str:
    """The name of a board of a batch."""
    return f"{name} {number}"


def _zero(place: Place) -> Expr:
    return Expr(parse_formula("0 mm"), place)


def shapes_of(made: Checked) -> dict[str, Shape]:
    """The shapes by name, each with the nodes of its keys but `kind`."""
    nodes = made.entries("shapes")
    return {
        name: Shape(
            name,
            str(nodes[name].table()["kind"].value),
            _fields(nodes[name]),
            nodes[name].named_at,
            made.drawn.get(name),
        )
        for name in made.shapes
    }


def fits_of(made: Checked) -> dict[str, Fit]:
    """The fits by name, each with the nodes of its keys but `kind`."""
    nodes = made.entries("fits")
    return {
        name: Fit(name, str(nodes[name].table()["kind"].value), _fields(nodes[name]), nodes[name].named_at)
        for name in made.fits
    }


def _fields(node: Node) -> Mapping[str, Node]:
    return {key: value for key, value in node.table().items() if key != "kind"}


def stencils_of(made: Checked) -> dict[str, Stencil]:
    """The stencils by name, numbered in the order of the file."""
    nodes = made.entries("stencils")
    numbers = {name: number for number, name in enumerate(nodes, 1)}
    return {name: _stencil(name, numbers[name], table, nodes[name]) for name, table in made.stencils.items()}


def _stencil(name: str, number: int, table: StencilTable, node: Node) -> Stencil:
    def place(part: str, key: str) -> Place:
        return node.table()[part].table()[key].named_at

    return Stencil(
        name=name,
        title=table.title,
        number=number,
        face=table.face,
        origin=table.origin,
        lines=tuple(LineUse(key, shape, place("lines", key)) for key, shape in table.lines.items()),
        regions=tuple(RegionUse(key, at, place("regions", key)) for key, at in table.regions.items()),
        holes=tuple(Hole(key, hole.at, hole.diameter, place("holes", key)) for key, hole in table.holes.items()),
        note=table.note,
        place=node.named_at,
    )


def tools_of(made: Checked) -> dict[str, Tool]:
    """The tools by name."""
    nodes = made.entries("tools")
    return {name: _tool(name, table, nodes[name].named_at) for name, table in made.tools.items()}


def _tool(name: str, table: ToolTable, place: Place) -> Tool:
    return Tool(
        name=name,
        kind=table.kind,
        kerf=table.kerf,
        kerf_range=table.kerf_range,
        width=table.width,
        diameter=table.diameter,
        capacity=table.capacity,
        note=table.note,
        place=place,
        body=table.body,
        teeth_per_inch=table.teeth_per_inch,
    )


def supplies_of(made: Checked) -> dict[str, Supply]:
    """The supplies by name."""
    nodes = made.entries("supplies")
    return {name: _supply(name, table, nodes[name].named_at) for name, table in made.supplies.items()}


def _supply(name: str, table: SupplyTable, place: Place) -> Supply:
    return Supply(name, table.kind, table.product, table.count, table.note, place)


def choices_of(made: Checked) -> dict[str, Choice]:
    """The choices of woods by name."""
    nodes = made.entries("choices")
    return {name: _choice(name, table, nodes[name]) for name, table in made.choices.items()}


def _choice(name: str, table: ChoiceTable, node: Node) -> Choice:
    def named(key: str, found: Mapping[str, str]) -> tuple[Named, ...]:
        entries = node.table()[key].table() if found else {}
        return tuple(Named(each, by, entries[each].named_at, entries[each].place) for each, by in found.items())

    return Choice(
        name=name,
        title=table.title or name[:1].upper() + name[1:],
        summary=table.summary,
        woods=named("woods", table.woods),
        stock=named("stock", table.stock),
        supplies=named("supplies", table.supplies),
        place=node.named_at,
    )


def varies_of(made: Checked) -> Varies:
    """What may turn out otherwise for a reader; all of it left to the handbook where nothing is written."""
    table = made.varies
    if table is None:
        return Varies()
    return Varies(table.sanding, table.thickness, table.humidity, table.built_at, table.temperature)
