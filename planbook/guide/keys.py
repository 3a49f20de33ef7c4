"""The tables that a maker writes, key by key, from the tables of the reader."""

from collections.abc import Iterator, Mapping
from typing import Any

from planbook.booklet.manual import anchor_of, manual_words
from planbook.guide.records import KeyRow, Keys, Section, Words
from planbook.reader import book_schema, design_schema, rack_schemas

Schema = Mapping[str, Any]
_TYPES = {
    "string": "text",
    "integer": "whole number",
    "number": "number",
    "boolean": "true or false",
    "object": "table",
    "array": "list",
}
FORMULA = 500
"""The most characters of a formula, by which a text that holds one is known in the schema."""
_APART = ("sizes", "changes", "shapes", "fits")
"""Tables that are told elsewhere: any name with a formula or with words, or kind by kind."""
HEADS = {
    "stock": "[stock.NAME]: the boards",
    "stencils": "[stencils.NAME]: sheets to stick on",
    "tools": "[tools.NAME]",
    "supplies": "[supplies.NAME]",
    "choices": "[choices.NAME]: other woods",
    "remedies": "[remedies.NAME]: when something went wrong",
    "varies": "[varies]: what may turn out otherwise",
}


def card_section() -> Section:
    """The keys at the top of the file, and the names of its tables."""
    schema = design_schema()
    return Section("The top of design.toml", "design-top", (Keys("key", tuple(_rows(schema, schema, "design-top"))),))


def table_sections() -> Iterator[Section]:
    """The tables of a design, those of shapes and fits kind by kind apart."""
    schema = design_schema()
    for key, info in schema["properties"].items():
        if key in _APART or not ("additionalProperties" in info or "$ref" in info):
            continue
        yield _section(schema, HEADS.get(key, f"[{key}.NAME]"), f"design-{key}", _target(schema, info))
        if key == "stencils":
            yield _section(schema, "[stencils.NAME.holes]", "design-holes", schema["$defs"]["HoleTable"])


def shape_sections() -> Iterator[Section]:
    """Every kind of shape."""
    yield from _kinds("shapes", "shape")
    schema = design_schema()
    yield _section(schema, "A part of a path", "shape-leg", schema["$defs"]["Leg"])


def fit_sections() -> Iterator[Section]:
    """Every kind of fit."""
    yield from _kinds("fits", "fit")


def book_sections() -> Iterator[Section]:
    """The tables of a handbook of the maker's own."""
    schema = book_schema()
    for key, info in schema["properties"].items():
        yield _section(schema, f"[{key}.NAME]", f"book-{key}", _target(schema, info))


def rack_sections() -> Iterator[Section]:
    """The tables of a rack file."""
    for head, schema in rack_schemas().items():
        yield _section(schema, head, f"rack-{anchor_of(head)}", schema)


def _kinds(key: str, prefix: str) -> Iterator[Section]:
    schema = design_schema()
    for name, ref in schema["properties"][key]["additionalProperties"]["discriminator"]["mapping"].items():
        table = schema["$defs"][ref.rsplit("/", 1)[1]]
        yield _section(schema, f'kind = "{name}"', f"{prefix}-{anchor_of(name)}", table)


def _section(schema: Schema, head: str, anchor: str, table: Schema) -> Section:
    words = Words(manual_words(table.get("description", "")))
    rules = [Words(manual_words(rule)) for rule in _rules(table)]
    return Section(head, anchor, (words, Keys("key", tuple(_rows(schema, table, anchor))), *rules))


def _rows(schema: Schema, table: Schema, anchor: str) -> Iterator[KeyRow]:
    needed = table.get("required", ())
    for name, info in table["properties"].items():
        whole = {**_resolved(schema, info), **info}
        yield KeyRow(
            name,
            f"{anchor}-{anchor_of(name)}",
            _holds(schema, info),
            manual_words(whole.get("description", "")),
            name in needed,
            _shown(whole["default"]) if whole.get("default") not in (None, "", {}, []) else "",
            _example(whole) if whole.get("examples") else "",
        )


def _example(whole: Schema) -> str:
    """An example as TOML; one for a number may be written as a text already."""
    example = whole["examples"][0]
    return example if isinstance(example, str) and whole.get("type") != "string" else _shown(example)


def _rules(table: Schema) -> Iterator[str]:
    """Which keys exclude or need each other, in words."""
    for rule in table.get("allOf", ()):
        if "if" in rule:
            kinds = " and ".join(f"`{kind}`" for kind in rule["if"]["properties"]["kind"]["enum"])
            yield f"Needed for {kinds}: `{rule['then']['required'][0]}`."
            continue
        word, each = ("Exactly one of", rule["oneOf"]) if "oneOf" in rule else ("At least one of", rule["anyOf"])
        yield f"{word} {', '.join('`' + one['required'][0] + '`' for one in each)} must be there."


def _holds(schema: Schema, info: Schema) -> str:
    """What a key holds, in a few words."""
    whole = _resolved(schema, info)
    if "const" in whole:
        return f'"{whole["const"]}"'
    if "enum" in whole:
        return ", ".join(f'"{each}"' for each in whole["enum"])
    for several in ("anyOf", "oneOf"):
        if several in whole:
            return " or ".join(dict.fromkeys(_holds(schema, each) for each in whole[several]))
    kind = whole.get("type", "object")
    if kind == "array":
        return _list(schema, whole)
    if kind == "object":
        return _table(schema, whole)
    if whole.get("maxLength") == FORMULA:
        return "angle" if "deg" in str(whole.get("examples", "")) else "length"
    return _TYPES[kind]


def _list(schema: Schema, whole: Schema) -> str:
    if "prefixItems" in whole:
        each = list(dict.fromkeys(_holds(schema, one) for one in whole["prefixItems"]))
        return f"{len(whole['prefixItems'])} × {each[0]}" if len(each) == 1 else f"[{', '.join(each)}]"
    return f"list of {_holds(schema, whole.get('items', {'type': 'string'}))}"


def _table(schema: Schema, whole: Schema) -> str:
    inner = whole.get("additionalProperties")
    return f"names, each with {_holds(schema, inner)}" if isinstance(inner, dict) and inner.get("type") else "table"


def _resolved(schema: Schema, info: Schema) -> Schema:
    return schema["$defs"][info["$ref"].rsplit("/", 1)[1]] if "$ref" in info else info


def _target(schema: Schema, info: Schema) -> Schema:
    """The table that a key of the file holds, or each of those under it."""
    inner = info.get("additionalProperties", info)
    return _resolved(schema, inner)


def _shown(value: object) -> str:
    """A value as TOML."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f'"{value}"'
        case list() | tuple():
            return f"[{', '.join(_shown(each) for each in value)}]"
        case dict():
            return "{ " + ", ".join(f"{key} = {_shown(each)}" for key, each in value.items()) + " }"
        case _:
            return str(value)
