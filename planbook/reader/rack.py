"""Reads a rack, the reader's own boards, from TOML or CSV, or says all that is wrong with it; it lays out nothing."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

from planbook import handbook
from planbook.model import SETTINGS, Expr, Node, Rack, RackDefect, RackRow
from planbook.model.sizes import evaluate, folded
from planbook.reader import files, kinds
from planbook.reader.checking import Checked, check_all, check_one
from planbook.reader.faults import unknown_key, wrong_type
from planbook.reader.fields import named
from planbook.reader.formulas import check_formulas
from planbook.reader.names import check_texts, fault_of
from planbook.reader.rack_csv import read_csv
from planbook.reader.rack_kinds import DEFECT_OFF, NAME_TWICE, TRIM_BELOW_KERF
from planbook.reader.rack_tables import RackHead, RackTable
from planbook.reader.toml_text import BROKEN
from planbook.reader.toml_tree import Frame, plain, read_tree
from planbook.reader.words import did_you_mean, thing
from planbook.text import Aside, Finding, Place, Source, Sources, in_order
from planbook.units import MM_TENTH, show_length


@dataclass(frozen=True, slots=True)
class RackReading:
    """What was read: the rack, or None where a part of it could not be made out; findings; texts."""

    rack: Rack | None
    findings: tuple[Finding, ...]
    sources: Sources = field(default_factory=dict)


def read_rack(path: Path) -> RackReading:
    """Read a rack; a name that ends in `.csv` is read as a table. Whatever the file holds, this raises nothing."""
    loaded = files.load(path.parent, path.name)
    source = loaded.source
    if source is None or not loaded.usable:
        return RackReading(None, loaded.findings, {source.file: source} if source else {})
    sources = {source.file: source}
    findings: list[Finding] = []
    if path.suffix.lower() == ".csv":
        table = read_csv(source)
        root: Node | None = table.root
        findings += table.findings
    else:
        tree = read_tree(source.text, Frame(source), Place(source.file, 1, 1))
        root = tree.root
        findings += tree.findings
    rack = None
    if root is not None:
        rack = _rack(root, source, findings)
    stops = any(finding.stops for finding in findings)
    return RackReading(None if stops else rack, in_order(findings), sources)


def _rack(root: Node, source: Source, findings: list[Finding]) -> Rack | None:
    made = Checked(source, root)
    top = root.table()
    known = (*RackHead.keys(), "rack")
    made.findings += [unknown_key(node, (key,), known) for key, node in top.items() if key not in known]
    boards = top.get("rack")
    if boards is not None and not isinstance(boards.value, Mapping) and boards.value != BROKEN:
        made.findings.append(wrong_type(boards, ("rack",), "a table", named(plain(boards))))
    own = {key: node for key, node in top.items() if key in known[:-1]}
    head = check_one(made, Node(own, root.place), (), RackHead)
    rows = check_all(made, "rack", RackTable)
    made.findings += check_formulas(made.found, {}, (), source)
    made.findings += _names(made)
    made.findings += _woods(made)
    made.findings += check_texts(root, keys=False)
    findings += made.findings
    if head is None or any(finding.stops for finding in made.findings):
        return None
    written = ((key, getattr(head, key)) for key in SETTINGS)
    settings = {key: _mm(expr) for key, expr in written if expr is not None}
    places = {key: own[key].place for key in settings}
    findings += _trims(settings, places)
    entries = made.entries("rack")
    made_rows = tuple(_row(name, table, entries[name]) for name, table in rows.items())
    findings += [fault for row in made_rows for fault in _defects_off(row)]
    return Rack(source.file, made_rows, settings, places, {source.file: source})


def _mm(expr: Expr) -> Fraction:
    return evaluate(expr, {}).value


def _row(name: str, table: RackTable, node: Node) -> RackRow:
    width = _mm(table.width)
    written = node.table()["defects"].value if "defects" in node.table() else ()
    places = [each.place for each in written] if isinstance(written, tuple) else []
    defects = []
    for defect, place in zip(table.defects, places, strict=True):
        start, end = _mm(defect.from_), _mm(defect.to)
        low, high = (_mm(side) for side in defect.across) if defect.across else (Fraction(0), width)
        defects.append(RackDefect(low, start, high - low, end - start, place))
    return RackRow(
        name=name,
        kind=table.kind,
        wood=table.wood,
        thickness=_mm(table.thickness),
        width=width,
        length=_mm(table.length),
        count=table.count,
        planed=table.planed,
        defects=tuple(defects),
        place=node.named_at,
        thickness_at=node.table()["thickness"].place,
    )


def _names(made: Checked) -> Iterator[Finding]:
    """Names that no board can have, and names that sound the same."""
    seen: dict[str, tuple[str, Node]] = {}
    for name, node in made.entries("rack").items():
        fault = fault_of(name)
        if fault is not None:
            yield kinds.BAD_NAME.at(node.named_at, f"the name of a rack board {fault}")
            continue
        other = seen.setdefault(folded(name), (name, node))
        if other[1] is not node:
            headline = f"the rack has `{name}` and `{other[0]}`, which sound the same"
            also = (Aside(other[1].named_at, "the first one"),)
            yield NAME_TWICE.at(node.named_at, headline, label="again", also=also)


def _woods(made: Checked) -> Iterator[Finding]:
    for told in made.found.woods:
        if told != BROKEN and handbook.wood(told) is None:
            headline = f"{thing(told.path)} is `{told[:80]}`, which the handbook does not have"
            hint = did_you_mean(made.found.near(told, handbook.names(handbook.Wood)))
            yield kinds.UNKNOWN_WOOD.at(told.node.place, headline, label="no such wood", hint=hint)


def _trims(settings: Mapping[str, Fraction], places: Mapping[str, Place]) -> Iterator[Finding]:
    """A trim that the rack sets must be nothing, or at least a kerf; the kerf may be the handbook's."""
    usual = max(row.kerf_mm for row in handbook.cuttings().values())
    kerf = settings.get("kerf", usual)
    for key in ("edge_trim", "end_trim"):
        trim = settings.get(key, Fraction(0))
        if 0 < trim < kerf:
            headline = f"`{key}` is {show_length(trim, MM_TENTH)}, less than the kerf of {show_length(kerf, MM_TENTH)}"
            yield TRIM_BELOW_KERF.at(places[key], headline, label="less than one cut takes")


def _defects_off(row: RackRow) -> Iterator[Finding]:
    for defect in row.defects:
        if defect.length <= 0 or defect.width <= 0:
            headline = f"a defect of rack board `{row.name}` ends before it begins"
            yield DEFECT_OFF.at(defect.place, headline)
        elif defect.y >= row.length or defect.x >= row.width:
            size = f"{show_length(row.length, MM_TENTH)} x {show_length(row.width, MM_TENTH)}"
            yield DEFECT_OFF.at(defect.place, f"a defect of rack board `{row.name}` lies beyond its {size}")
