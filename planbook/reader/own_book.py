"""Reads the maker's own rows of the handbook, `handbook.toml` in the folder of a design, or another file it names."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath

from planbook.handbook import BUILT_IN, Glue, Handbook, Lining, Row
from planbook.handbook.loader import plain
from planbook.model import Node
from planbook.reader import files, kinds
from planbook.reader.book_tables import TABLES, Odd
from planbook.reader.checking import Checked, check_all
from planbook.reader.faults import wrong_type
from planbook.reader.fields import named
from planbook.reader.names import check_texts, fault_of
from planbook.reader.toml_text import BROKEN
from planbook.reader.toml_tree import Frame, read_tree
from planbook.reader.toml_tree import plain as plain_value
from planbook.reader.words import did_you_mean, listed, thing
from planbook.text import Aside, Finding, Place, Source
from planbook.units import near

KEY = "handbook"
FILE = "handbook.toml"


@dataclass(frozen=True, slots=True)
class OwnBook:
    """The handbook as the design sees it, with what is wrong with the rows of its own.

    `meant` are the names of rows that were written and could not be read, by table; where the file as a whole could
    not be read, `lost` says that nothing is known of what it holds.
    """

    book: Handbook = BUILT_IN
    source: Source | None = None
    findings: tuple[Finding, ...] = ()
    meant: frozenset[tuple[str, str]] = frozenset()
    lost: bool = False

    def may_have(self, table: str, name: str) -> bool:
        """Whether a name that is not known may be one of a row that could not be read."""
        return self.lost or (table, plain(name)) in self.meant


def read_book(folder: Path, design: Node) -> OwnBook:
    """The rows of a design; `design` is the root of its `design.toml`. Whatever the file holds, this raises nothing."""
    node = design.table().get(KEY)
    if node is None:
        written = (folder / FILE).is_symlink() or (folder / FILE).exists()
        return _read(files.load(folder, FILE)) if written else OwnBook()
    if not isinstance(node.value, str) or node.value == BROKEN or not node.value.strip():
        return OwnBook(lost=True)
    if _leads_out(node.value):
        headline = f"`{KEY}` is `{node.value[:80]}`, which is not a file in the folder of the design"
        return OwnBook(findings=(kinds.FILE_OUTSIDE.at(node.place, headline),), lost=True)
    loaded = files.load(folder, node.value)
    missing = [finding for finding in loaded.findings if finding.code == kinds.FILE_MISSING.code]
    if missing:
        return OwnBook(findings=tuple(replace(each, place=node.place) for each in missing), lost=True)
    return _read(loaded)


def _leads_out(name: str) -> bool:
    path = PurePosixPath(name)
    return path.is_absolute() or ".." in path.parts or any(char in name for char in "\\:\0\n")


def _read(loaded: files.Loaded) -> OwnBook:
    if not loaded.usable or loaded.source is None:
        return OwnBook(source=loaded.source, findings=loaded.findings, lost=True)
    source = loaded.source
    tree = read_tree(source.text, Frame(source), Place(source.file, 1, 1))
    if tree.root is None:
        return OwnBook(source=source, findings=tree.findings, lost=True)
    made = Checked(source, tree.root)
    made.findings += tree.findings
    made.findings += _strangers(tree.root)
    rows: list[Row] = []
    for table, model in TABLES.items():
        made.findings += _names(made, table)
        held = check_all(made, table, model)
        odd = {name: list(row.odds(name)) for name, row in held.items()}
        made.findings += [_odd(made, table, name, each) for name, odds in odd.items() for each in odds]
        rows += [row.row(name) for name, row in held.items() if not odd[name]]
    made.findings += check_texts(tree.root, keys=True)
    if made.findings:
        return OwnBook(BUILT_IN, source, tuple(made.findings), _meant(made), tree.lost)
    book = Handbook(tuple(rows))
    return OwnBook(book, source, tuple(_adhesives(made, book)))


def _strangers(root: Node) -> Iterator[Finding]:
    for key, node in root.table().items():
        if key not in TABLES:
            headline = f"the handbook of the design has a table `{key[:80]}` that means nothing there"
            notes = (f"its tables are {listed(tuple(TABLES), 'and')}",)
            yield kinds.UNKNOWN_KEY.at(node.named_at, headline, notes=notes, hint=did_you_mean(near(key, TABLES)))
        elif not isinstance(node.value, Mapping) and node.value != BROKEN:
            yield wrong_type(node, (key,), "a table", named(plain_value(node)))


def _names(made: Checked, table: str) -> Iterator[Finding]:
    """Names that cannot be printed, and names that more than one row answers to."""
    first: dict[str, str] = {}
    for name, node in made.entries(table).items():
        if fault := fault_of(name):
            yield kinds.BAD_NAME.at(node.named_at, f"a name in [{table}]: the name {fault}")
        for each, place in ((name, node.named_at), *_others(node)):
            if first.get(plain(each), name) != name:
                headline = f"{thing((table, name))} answers to `{each[:80]}`, and so does `{first[plain(each)]}`"
                also = (Aside(made.entries(table)[first[plain(each)]].named_at, "the other one"),)
                yield kinds.SAME_NAME.at(place, headline, also=also)
            elif plain(each) in first and each != name:
                yield kinds.SAME_NAME.at(place, f"{thing((table, name))} says its name `{each[:80]}` twice")
            first.setdefault(plain(each), name)


def _others(node: Node) -> Iterator[tuple[str, Place]]:
    """The other names of a row with their places."""
    also = node.table().get("also_called")
    for item in also.value if also is not None and isinstance(also.value, tuple) else ():
        if isinstance(item.value, str) and item.value.strip():
            yield item.value, item.place


def _odd(made: Checked, table: str, name: str, odd: Odd) -> Finding:
    node = made.entries(table)[name]
    place = node.table()[odd.key].place if odd.key in node.table() else node.named_at
    if not odd.choices:
        return kinds.KEYS_AT_ODDS.at(place, f"in {thing((table, name))}, {odd.words}")
    notes = (f"there are {listed(odd.choices, 'and')}",)
    headline = f"in {thing((table, name))}, `{odd.value[:80]}` means nothing: {odd.words}"
    return kinds.NOT_A_CHOICE.at(place, headline, notes=notes, hint=did_you_mean(near(odd.value, odd.choices)))


def _meant(made: Checked) -> frozenset[tuple[str, str]]:
    """Every name that is written, by table: a design that uses one is not wrong."""
    return frozenset(
        (table, plain(each))
        for table in TABLES
        for name, node in made.entries(table).items()
        for each in (name, *(other for other, _ in _others(node)))
    )


def _adhesives(made: Checked, book: Handbook) -> Iterator[Finding]:
    """Adhesives of linings that nobody knows."""
    for row in book.own:
        adhesive = getattr(row, "adhesive", "")
        if adhesive and book.glue(adhesive) is None and book.lining(adhesive) is None:
            node = made.entries("lining")[row.name].table()["adhesive"]
            headline = f"`adhesive` of lining `{row.name}` is `{adhesive[:80]}`, which the handbook does not have"
            hint = did_you_mean(near(adhesive, (*book.names(Glue), *book.names(Lining))))
            yield kinds.UNKNOWN_PRODUCT.at(node.place, headline, label="no such glue", hint=hint)
