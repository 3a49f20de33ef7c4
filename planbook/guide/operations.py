"""Every operation with its fields, from the registry of the workshop."""

import inspect
from collections.abc import Iterator
from fractions import Fraction

from planbook.booklet.manual import anchor_of, manual_html, manual_words
from planbook.guide.quoting import block_of
from planbook.guide.records import Block, KeyRow, Keys, Sample, Section, Words
from planbook.handbook import BUILT_IN
from planbook.workshop.fields import general, specs
from planbook.workshop.registry import operations
from planbook.workshop.shop import Work
from planbook.workshop.told import GENERAL, about
from planbook.workshop.values import Spec

_MANY = "[More](#design-many-at-once)"
_HOLDS = {
    "piece": "name of a piece",
    "stencil": "name of a stencil",
    "tool": "name of a tool",
    "supply": "name of a supply",
    "piece names": "names of pieces",
    "stock names": "names of boards",
    "names": "names",
    "face names": "faces",
    "point": "2 × length",
    "points": "list of points",
    "three lengths": "3 × length",
    "makes": "names, each with a region",
    "moves": "names, each with 3 × length",
}


def operation_sections() -> Iterator[Section]:
    """The operations in alphabetical order."""
    for name, kind in operations().items():
        rows = sorted((_row(kind, name, spec) for spec in specs(kind)), key=lambda row: not row.needed)
        told = Words(manual_html(inspect.getdoc(kind) or ""))
        example = (Sample(block),) if (block := block_of(name)) else ()
        blocks: list[Block] = [told, *example, Keys("field", (*rows, *_general(kind, name)))]
        rate = BUILT_IN.rate(name)
        if rate is not None:
            minutes = f"{_number(rate.setup_minutes)} min to set up and {_number(rate.unit_minutes)} min for each"
            blocks.append(Words(manual_words(f"Hands-on time by the handbook: {minutes} {_UNITS[rate.unit]}.")))
        yield Section(name, f"op-{anchor_of(name)}", tuple(blocks))


_UNITS = {
    "cut metre": "metre of cut",
    "edge metre": "metre of edge",
    "m2": "square metre",
    "hole": "hole",
    "joint": "joint",
    "piece": "piece",
    "plug": "plug",
    "pass": "pass",
}


def _row(kind: type[Work], name: str, spec: Spec) -> KeyRow:
    holds = ", ".join(f'"{each}"' for each in spec.choices) or _HOLDS.get(spec.what, spec.what)
    default = "" if spec.required or spec.default in (None, "") else _shown(spec.default)
    words = manual_words(about(kind, spec.name))
    return KeyRow(spec.name, f"op-{anchor_of(name)}-{anchor_of(spec.name)}", holds, words, spec.required, default)


def _general(kind: type[Work], name: str) -> Iterator[KeyRow]:
    holds = {"pieces": "names of pieces", "mirror": "table", "repeat": "table, or two"}
    for field in general(kind):
        anchor = f"op-{anchor_of(name)}-{field}"
        yield KeyRow(field, anchor, holds[field], manual_words(f"{GENERAL[field]} {_MANY}"))


def _shown(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f'"{value}"'
        case tuple():
            return f"[{', '.join(_shown(each) for each in value)}]"
        case Fraction():
            return _number(float(value))
        case _:
            return str(value)


def _number(value: float) -> str:
    return f"{value:g}"
