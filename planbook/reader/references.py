"""Checks what the tables of a design file say of each other and of the handbook; not their form."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from planbook import handbook
from planbook.model import Expr, Node
from planbook.model.sizes import evaluate, in_order_of_need
from planbook.reader import kinds
from planbook.reader.building import numbered
from planbook.reader.checking import Checked
from planbook.reader.fit_tables import Gap
from planbook.reader.own_book import OwnBook
from planbook.reader.shape_tables import ArcBand, Rectangle
from planbook.reader.tables import StockTable, ToolTable
from planbook.reader.toml_places import Path
from planbook.reader.toml_text import BROKEN
from planbook.reader.words import VARIES, did_you_mean, thing
from planbook.text import Aside, Finding
from planbook.units import MM_TENTH, Quantity, UnitProblem, show_length

_REFERRING = ("of", "by", "from")
_PRODUCTS: Mapping[str, type[handbook.Row]] = {
    "glue": handbook.Glue,
    "finish": handbook.Finish,
    "lining": handbook.Lining,
}


def check_references(made: Checked, values: Mapping[str, Quantity], lost: bool, own: OwnBook) -> Iterator[Finding]:
    """Names of shapes, woods and products, stencils, and lengths that must agree; `lost` as in `Tree`."""
    if not lost:
        yield from _unknown_shapes(made)
    yield from _circular_shapes(made)
    yield from _unknown_woods(made, own)
    yield from _unknown_products(made, own)
    yield from _empty_stencils(made)
    yield from _batches(made)
    yield from _kerfs(made, values)
    yield from _shapes_at_odds(made, values)
    yield from _gaps_at_odds(made, values)
    yield from _humidity_at_odds(made)


def _unknown_shapes(made: Checked) -> Iterator[Finding]:
    known = made.entries("shapes")
    for told in made.found.shapes:
        if told not in known and told != BROKEN:
            headline = f"{thing(told.path)} is `{told[:80]}`, but no shape is called that"
            hint = did_you_mean(made.found.near(told, known))
            yield kinds.UNKNOWN_SHAPE.at(told.node.place, headline, label="no such shape", hint=hint)


def _circular_shapes(made: Checked) -> Iterator[Finding]:
    shapes = made.entries("shapes")
    _, circles = in_order_of_need({name: _needs(node) for name, node in shapes.items()})
    for circle in circles:
        words = " -> ".join((*circle, circle[0]))
        headline = f"shape `{circle[0]}` is made from itself: {words}"
        yield kinds.CIRCULAR_SHAPE.at(shapes[circle[0]].named_at, headline, label="made from itself")


def _needs(node: Node) -> tuple[str, ...]:
    """The shapes that a shape is made of; its points and lengths are passed over."""
    table = node.table()
    found: list[str] = []
    for key in _REFERRING:
        value = table[key].value if key in table else ()
        items = [item.value for item in value] if isinstance(value, tuple) else [value]
        found += [item for item in items if isinstance(item, str)]
    kind = table["kind"].value if "kind" in table else ""
    return tuple(dict.fromkeys(found)) if kind in _COMBINED else ()


_COMBINED = ("join", "cut away", "overlap", "offset", "mirror", "fillet", "move", "turn")


def _unknown_woods(made: Checked, own: OwnBook) -> Iterator[Finding]:
    for told in made.found.woods:
        if told != BROKEN and own.book.wood(told) is None and not own.may_have("wood", told):
            headline = f"{thing(told.path)} is `{told[:80]}`, which the handbook does not have"
            hint = did_you_mean(made.found.near(told, own.book.names(handbook.Wood)))
            yield kinds.UNKNOWN_WOOD.at(told.node.place, headline, label="no such wood", hint=hint)


def _unknown_products(made: Checked, own: OwnBook) -> Iterator[Finding]:
    supplies = {name: node.table() for name, node in made.entries("supplies").items()}
    for name, table in supplies.items():
        if "kind" in table and "product" in table:
            yield from _unknown_product(made, own, table["kind"], table["product"], ("supplies", name, "product"))
    for name, choice in made.entries("choices").items():
        products = choice.table()["supplies"].table() if "supplies" in choice.table() else {}
        for key, node in products.items():
            kind = supplies.get(key, {}).get("kind")
            if kind is not None:
                yield from _unknown_product(made, own, kind, node, ("choices", name, "supplies", key))


def _unknown_product(made: Checked, own: OwnBook, of: Node, node: Node, path: Path) -> Iterator[Finding]:
    kind, product = of.value, node.value
    if not isinstance(kind, str) or kind not in _PRODUCTS or not isinstance(product, str) or product == BROKEN:
        return
    row = _PRODUCTS[kind]
    if own.book.table(row).find(product) is None and not own.may_have(kind, product):
        headline = f"{thing(path)} is `{product[:80]}`, which is no {kind} of the handbook"
        hint = did_you_mean(made.found.near(product, own.book.names(row)))
        yield kinds.UNKNOWN_PRODUCT.at(node.place, headline, label=f"no such {kind}", hint=hint)


def _empty_stencils(made: Checked) -> Iterator[Finding]:
    for name, node in made.entries("stencils").items():
        table = node.table()
        filled = [key for key in ("lines", "holes") if key in table and table[key].value != {}]
        if isinstance(node.value, Mapping) and not filled:
            headline = f"stencil `{name}` has neither a line nor a hole"
            yield kinds.EMPTY_STENCIL.at(node.named_at, headline, label="nothing on it")


def _batches(made: Checked) -> Iterator[Finding]:
    """Boards of a batch: each must have a place and a name of its own."""
    boards = made.entries("stock")
    for name, table in made.stock.items():
        keys = boards[name].table()
        if table.count is None:
            for key in [key for key in ("step", "at") if key in keys and (key == "step" or isinstance(table.at, list))]:
                headline = f"board `{name}` has no `count`: {_WHY_COUNT[key]}"
                yield kinds.MISSING_KEY.at(keys[key].named_at, headline, hint="add a line such as `count = 4`")
            continue
        yield from _places(name, table, keys)
        for number in range(1, table.count + 1):
            if numbered(name, number) in boards:
                twin = boards[numbered(name, number)].named_at
                headline = f"board `{numbered(name, number)}` is in the batch `{name}` too"
                yield kinds.SAME_NAME.at(twin, headline, also=(Aside(boards[name].named_at, "the batch"),))


_WHY_COUNT = {"step": "only boards of a batch stand a `step` apart", "at": "only a batch stands in several places"}


def _places(name: str, table: StockTable, keys: Mapping[str, Node]) -> Iterator[Finding]:
    if isinstance(table.at, list) and table.step is not None:
        headline = f"batch `{name}` has both a list of places and a `step`; one of them is enough"
        yield kinds.KEYS_AT_ODDS.at(keys["step"].named_at, headline)
    elif isinstance(table.at, list) and len(table.at) != table.count:
        places = "1 place" if len(table.at) == 1 else f"{len(table.at)} places"
        headline = f"the `count` of batch `{name}` is {table.count}, but its `at` has {places}"
        yield kinds.KEYS_AT_ODDS.at(keys["at"].place, headline)
    elif not isinstance(table.at, list) and table.step is None:
        headline = f"batch `{name}` has no `step`: its boards would all stand in one place"
        hint = 'add a line such as `step = ["60 mm", "0 mm", "0 mm"]`, or give a list of places as `at`'
        yield kinds.MISSING_KEY.at(keys["count"].named_at, headline, hint=hint)


def _mm(expr: Expr | None, values: Mapping[str, Quantity]) -> Fraction | None:
    """The length of an expression in mm, or None where there is none to be had."""
    try:
        value = evaluate(expr, values) if expr is not None else None
    except UnitProblem:
        return None
    return value.value if value is not None and value.is_length else None


def _kerfs(made: Checked, values: Mapping[str, Quantity]) -> Iterator[Finding]:
    for name, tool in made.tools.items():
        yield from _kerf(name, tool, values)


def _kerf(name: str, tool: ToolTable, values: Mapping[str, Quantity]) -> Iterator[Finding]:
    if tool.kerf_range is None:
        return
    least, most, kerf = (_mm(expr, values) for expr in (*tool.kerf_range, tool.kerf))
    if least is None or most is None:
        return
    if least > most:
        headline = f"the kerf range of tool `{name}` runs from {_said(least)} down to {_said(most)}"
        yield kinds.KEYS_AT_ODDS.at(tool.kerf_range[0].place, headline)
    elif tool.kerf is not None and kerf is not None and not least <= kerf <= most:
        allowed = f"{_said(least)} to {_said(most)}"
        headline = f"the kerf of tool `{name}` is {_said(kerf)}, outside its range of {allowed}"
        yield kinds.KEYS_AT_ODDS.at(tool.kerf.place, headline)


def _shapes_at_odds(made: Checked, values: Mapping[str, Quantity]) -> Iterator[Finding]:
    for name, shape in made.shapes.items():
        if isinstance(shape, ArcBand):
            inner, outer = _mm(shape.inner, values), _mm(shape.outer, values)
            if inner is not None and outer is not None and 0 < outer <= inner:
                headline = f"shape `{name}` is {_said(inner)} inside and {_said(outer)} outside"
                yield kinds.KEYS_AT_ODDS.at(shape.outer.place, headline, label="must be the larger one")
        if isinstance(shape, Rectangle) and shape.corner is not None:
            sides = [side for side in (_mm(shape.width, values), _mm(shape.height, values)) if side is not None]
            corner = _mm(shape.corner, values)
            if sides and corner is not None and 0 < min(sides) < 2 * corner:
                headline = f"the corners of shape `{name}` ({_said(corner)}) do not fit on {_said(min(sides))}"
                yield kinds.KEYS_AT_ODDS.at(shape.corner.place, headline)


def _gaps_at_odds(made: Checked, values: Mapping[str, Quantity]) -> Iterator[Finding]:
    for name, fit in made.fits.items():
        if isinstance(fit, Gap) and fit.least is not None:
            least, most = _mm(fit.least, values), _mm(fit.most, values)
            if least is not None and most is not None and least > most:
                headline = f"fit `{name}` asks for at least {_said(least)} and at most {_said(most)}"
                yield kinds.KEYS_AT_ODDS.at(fit.least.place, headline)


def _humidity_at_odds(made: Checked) -> Iterator[Finding]:
    varies = made.varies
    if varies is None:
        return
    least, most = varies.humidity or handbook.HUMIDITY
    table = made.root.table()[VARIES].table()
    if least > most:
        headline = f"the humidity of [{VARIES}] runs from {least:g} % down to {most:g} %"
        yield kinds.KEYS_AT_ODDS.at(table["humidity"].place, headline)
    elif varies.built_at is not None and not least <= varies.built_at <= most:
        headline = f"it is built at {varies.built_at:g} % humidity, outside the year's {least:g} to {most:g} %"
        yield kinds.KEYS_AT_ODDS.at(table["built_at"].place, headline)


def _said(mm: Fraction) -> str:
    return show_length(mm, MM_TENTH)
