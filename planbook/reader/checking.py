"""Validates every table of a design file by its model, one by one, so that a broken one spoils no other."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from pydantic import ValidationError

from planbook.handbook import BUILT_IN, Handbook
from planbook.model import Drawn, Expr, Node, Size
from planbook.reader import kinds
from planbook.reader.faults import from_errors, missing, needs_unit, not_a_choice, unknown_key, wrong_type
from planbook.reader.fields import Found, named, told
from planbook.reader.fit_tables import FITS
from planbook.reader.formulas import formula_finding
from planbook.reader.shape_tables import SHAPES
from planbook.reader.tables import (
    CardTable,
    ChoiceTable,
    RemedyTable,
    StencilTable,
    StockTable,
    SupplyTable,
    Table,
    ToolTable,
    VariesTable,
)
from planbook.reader.toml_places import Path
from planbook.reader.toml_text import BROKEN
from planbook.reader.toml_tree import plain
from planbook.reader.words import NOUNS, VARIES, listed, thing
from planbook.text import Finding, Source
from planbook.units import UnitProblem, parse_formula

T = TypeVar("T", bound=Table)


@dataclass(slots=True)
class Checked:
    """What held of a design file: tables by name, what they refer to, and the findings so far."""

    source: Source
    root: Node
    units: str = "mm"
    card: CardTable | None = None
    sizes: dict[str, Size] = field(default_factory=dict)
    stock: dict[str, StockTable] = field(default_factory=dict)
    shapes: dict[str, Table] = field(default_factory=dict)
    stencils: dict[str, StencilTable] = field(default_factory=dict)
    tools: dict[str, ToolTable] = field(default_factory=dict)
    supplies: dict[str, SupplyTable] = field(default_factory=dict)
    fits: dict[str, Table] = field(default_factory=dict)
    choices: dict[str, ChoiceTable] = field(default_factory=dict)
    remedies: dict[str, RemedyTable] = field(default_factory=dict)
    drawn: dict[str, Drawn] = field(default_factory=dict)
    varies: VariesTable | None = None
    found: Found = field(default_factory=Found)
    findings: list[Finding] = field(default_factory=list)
    book: Handbook = BUILT_IN
    lost: bool = False

    def entries(self, table: str) -> Mapping[str, Node]:
        """The named entries of a table as they are written, whether they hold or not."""
        node = self.root.table().get(table)
        return node.table() if node else {}


def check(root: Node, source: Source) -> Checked:
    """Validate a whole design file."""
    made = Checked(source, root)
    made.units = "in" if plain(root).get("units") == "in" else "mm"
    _check_card(made)
    for table in NOUNS:
        node = root.table().get(table)
        if node is not None and not isinstance(node.value, Mapping) and node.value != BROKEN:
            made.findings.append(wrong_type(node, (table,), "a table", named(plain(node))))
    for name, node in made.entries("sizes").items():
        _check_size(made, name, node)
    made.stock = check_all(made, "stock", StockTable)
    made.stencils = check_all(made, "stencils", StencilTable)
    made.tools = check_all(made, "tools", ToolTable)
    made.supplies = check_all(made, "supplies", SupplyTable)
    made.shapes = _check_kinds(made, "shapes", SHAPES)
    made.fits = _check_kinds(made, "fits", FITS)
    made.choices = check_all(made, "choices", ChoiceTable)
    made.remedies = check_all(made, "remedies", RemedyTable)
    if VARIES in root.table():
        made.varies = _entry(made, root.table()[VARIES], (VARIES,), VariesTable)
    return made


def _check_card(made: Checked) -> None:
    top = made.root.table()
    own = CardTable.keys()
    known = (*own, *NOUNS, VARIES)
    made.findings += [unknown_key(node, (key,), known) for key, node in top.items() if key not in known]
    card = {key: node for key, node in top.items() if key in own}
    made.card = check_one(made, Node(card, made.root.place), (), CardTable)


def _check_size(made: Checked, name: str, node: Node) -> None:
    path: Path = ("sizes", name)
    if isinstance(node.value, int | float) and not isinstance(node.value, bool):
        made.findings.append(needs_unit(node, path, "length", made.units))
    elif not isinstance(node.value, str):
        made.findings.append(wrong_type(node, path, "a length in quotation marks", named(plain(node))))
    elif node.value != BROKEN:
        try:
            expr = Expr(parse_formula(node.value), node.place)
        except UnitProblem as problem:
            made.findings.append(formula_finding(problem, node.place, thing(path), made.source))
        else:
            made.sizes[name] = Size(name, expr, node.named_at)


def check_all(made: Checked, table: str, model: type[T]) -> dict[str, T]:
    """The entries of a table that hold, each as its model; findings for the others."""
    held = {name: _entry(made, node, (table, name), model) for name, node in made.entries(table).items()}
    return {name: entry for name, entry in held.items() if entry is not None}


def _check_kinds(made: Checked, table: str, models: Mapping[str, type[Table]]) -> dict[str, Table]:
    held: dict[str, Table] = {}
    for name, node in made.entries(table).items():
        model = _model_of(made, node, (table, name), models)
        entry = _entry(made, node, (table, name), model) if model else None
        if entry is not None:
            held[name] = entry
    return held


def _model_of(made: Checked, node: Node, path: Path, models: Mapping[str, type[Table]]) -> type[Table] | None:
    """The model for the kind that a table names."""
    if not isinstance(node.value, Mapping):
        return Table
    kind = node.value.get("kind")
    if kind is None:
        wanted = f"{thing(path)} has no `kind`: {listed(tuple(models))}"
        made.findings.append(kinds.MISSING_KEY.at(node.named_at, wanted))
    elif isinstance(kind.value, str) and kind.value in models:
        return models[kind.value]
    elif kind.value != BROKEN:
        made.findings.append(not_a_choice(kind, (*path, "kind"), tuple(models)))
    return None


def _entry(made: Checked, node: Node, path: Path, model: type[T]) -> T | None:
    if isinstance(node.value, Mapping):
        return check_one(made, node, path, model)
    if node.value != BROKEN:
        made.findings.append(wrong_type(node, path, "a table", named(plain(node))))
    return None


def check_one(made: Checked, node: Node, path: Path, model: type[T]) -> T | None:
    """The table as its model, or None with findings for everything that is wrong with it."""
    before = len(made.findings)
    held: T | None = None
    try:
        held = model.model_validate(told(node, path), context=made.found)
    except ValidationError as refused:
        errors = refused.errors(include_url=False)
        made.findings += from_errors(errors, node, path, model, made.source, made.units)
    made.findings += _rules(node, path, model)
    return held if len(made.findings) == before else None


def _rules(node: Node, path: Path, model: type[Table]) -> Iterator[Finding]:
    """The rules about keys that need or exclude each other."""
    there = node.table()
    for keys in model.exactly_one:
        given = [key for key in keys if key in there]
        if len(given) > 1:
            headline = f"{thing(path)} has both {listed(given, 'and')}; one of them is enough"
            yield kinds.KEYS_AT_ODDS.at(there[given[1]].named_at, headline)
        if not given:
            yield _lacks(node, path, keys)
    for keys in model.at_least_one:
        if not any(key in there for key in keys):
            yield _lacks(node, path, keys)
    kind = there["kind"].value if "kind" in there else None
    for key, kinds_with in model.by_kind.items():
        if kind in kinds_with and key not in there:
            yield missing(node, path, key, model)


def _lacks(node: Node, path: Path, keys: tuple[str, ...]) -> Finding:
    headline = f"{thing(path)} has neither {listed(keys, 'nor')}"
    return kinds.MISSING_KEY.at(node.named_at, headline)
