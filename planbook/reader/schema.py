"""The JSON Schema of `design.toml`, for editors that complete and check it; not the reading."""

import tomllib
from typing import Annotated, Any

from pydantic import ConfigDict, Field, WithJsonSchema
from pydantic.json_schema import GenerateJsonSchema

from planbook.reader.book_tables import (
    AbrasiveRow,
    BladeRow,
    FinishRow,
    GlueRow,
    LiningRow,
    LumberRow,
    RateRow,
    SheetRow,
    WoodRow,
)
from planbook.reader.fit_tables import AnyFit
from planbook.reader.rack_tables import DefectTable, RackHead, RackTable
from planbook.reader.shape_tables import AnyShape
from planbook.reader.tables import (
    NAMES,
    CardTable,
    ChoiceTable,
    RemedyTable,
    StencilTable,
    StockTable,
    SupplyTable,
    Table,
    ToolTable,
    TranslationTable,
    VariesTable,
)

_SIZE = Annotated[
    str,
    WithJsonSchema(
        {
            "type": "string",
            "title": "Size",
            "description": "A length with its unit, an angle, a plain number, or a formula over other sizes.",
            "minLength": 1,
            "maxLength": 500,
            "examples": ["12 mm", "height / 3"],
        }
    ),
]


class DesignFile(CardTable):
    """A design for planbook: cover, sizes, stock, shapes, stencils, tools, supplies, fits, choices, remedies, more."""

    model_config = ConfigDict(title="planbook design")

    sizes: dict[str, _SIZE] = Field(
        default_factory=dict,
        description="Named sizes, made from others in any order.",
        json_schema_extra=NAMES,
    )
    stock: dict[str, StockTable] = Field(
        default_factory=dict, description="The boards, as they stand in the blank.", json_schema_extra=NAMES
    )
    shapes: dict[str, AnyShape] = Field(
        default_factory=dict, description="Plane shapes, for the lines of stencils.", json_schema_extra=NAMES
    )
    stencils: dict[str, StencilTable] = Field(
        default_factory=dict, description="Sheets that are stuck on faces.", json_schema_extra=NAMES
    )
    tools: dict[str, ToolTable] = Field(
        default_factory=dict, description="Machines and tools with their settings.", json_schema_extra=NAMES
    )
    supplies: dict[str, SupplyTable] = Field(
        default_factory=dict,
        description="Glue, finish, abrasives, lining, hardware.",
        json_schema_extra=NAMES,
    )
    fits: dict[str, AnyFit] = Field(
        default_factory=dict, description="What must hold when the work is done.", json_schema_extra=NAMES
    )
    choices: dict[str, ChoiceTable] = Field(
        default_factory=dict, description="Other woods and finishes for the same design.", json_schema_extra=NAMES
    )
    remedies: dict[str, RemedyTable] = Field(
        default_factory=dict,
        description="What a reader can do when something went wrong.",
        json_schema_extra=NAMES,
    )
    varies: VariesTable | None = Field(None, description="What may turn out otherwise for a reader.")


class _Schema(GenerateJsonSchema):
    """Adds the rules of the tables, and leaves out what TOML does not have: null."""

    def model_schema(self, schema: Any) -> dict[str, Any]:
        """The schema of a table, with which of its keys exclude or need each other."""
        made = super().model_schema(schema)
        cls = schema["cls"]
        if issubclass(cls, Table):
            made.update(_rules(cls))
        for info in made["properties"].values():
            _tidy(info)
        return made

    def nullable_schema(self, schema: Any) -> dict[str, Any]:
        """A key that may be left out is never null."""
        return self.generate_inner(schema["schema"])


def _tidy(info: dict[str, Any]) -> None:
    """Examples as values instead of TOML text; no default where it only means that the key is left out."""
    if info.get("default", "") is None:
        del info["default"]
    if "const" in info:
        info.setdefault("description", f"The kind: {info['const']}.")
    written = [each for each in info.get("examples", ()) if isinstance(each, str)]
    if info.get("description") and written and all(_reads(each) for each in written):
        info["examples"] = [tomllib.loads(f"value = {each}")["value"] for each in written]


def _reads(text: str) -> bool:
    return text[:1] in ('"', "[")


class BookFile(Table):
    """Rows of the maker's own for the handbook: woods, glues, finishes and what else a design looks up."""

    model_config = ConfigDict(title="planbook handbook")

    wood: dict[str, WoodRow] = Field(default_factory=dict, description="Woods and sheet materials.")
    glue: dict[str, GlueRow] = Field(default_factory=dict, description="Glues.")
    finish: dict[str, FinishRow] = Field(default_factory=dict, description="Finishes.")
    blade: dict[str, BladeRow] = Field(default_factory=dict, description="Kinds of saw blade.")
    abrasive: dict[str, AbrasiveRow] = Field(default_factory=dict, description="Abrasives by grit.")
    rate: dict[str, RateRow] = Field(default_factory=dict, description="Your own times, by operation.")
    lining: dict[str, LiningRow] = Field(default_factory=dict, description="Linings.")
    sheet: dict[str, SheetRow] = Field(default_factory=dict, description="Sizes of sheets.")
    lumber: dict[str, LumberRow] = Field(default_factory=dict, description="Sizes of lumber.")


def book_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of a `handbook.toml`, with a title and a description on every key."""
    schema = BookFile.model_json_schema(schema_generator=_Schema)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def language_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of a `design.de.toml`: the design in another language."""
    schema = TranslationTable.model_json_schema(schema_generator=_Schema)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def design_schema() -> dict[str, Any]:
    """JSON Schema 2020-12 of `design.toml`, with a title and a description on every key."""
    schema = DesignFile.model_json_schema(schema_generator=_Schema)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}


def rack_schemas() -> dict[str, dict[str, Any]]:
    """JSON Schemas of the tables of a rack file, by how people call them; for the handbook of the tool."""
    tables: dict[str, type[Table]] = {
        "The top of a rack file": RackHead,
        "[rack.NAME]": RackTable,
        "A defect of a board": DefectTable,
    }
    return {name: table.model_json_schema(schema_generator=_Schema) for name, table in tables.items()}


def _rules(table: type[Table]) -> dict[str, Any]:
    every: list[dict[str, Any]] = []
    every += [{"oneOf": [{"required": [key]} for key in keys]} for keys in table.exactly_one]
    every += [{"anyOf": [{"required": [key]} for key in keys]} for keys in table.at_least_one]
    every += [
        {
            "if": {"properties": {"kind": {"enum": list(kinds)}}, "required": ["kind"]},
            "then": {"required": [key]},
        }
        for key, kinds in table.by_kind.items()
    ]
    return {"allOf": every} if every else {}
