"""The JSON Schema of design.toml agrees with the reader, and explains every key."""

import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from planbook.reader import design_schema

CASES = Path(__file__).parents[1] / "cases" / "reader"
CARD = 'title = "Curlew box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    schema = json.loads(json.dumps(design_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def test_schema_says_which_draft_it_is() -> None:
    assert design_schema()["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_key_has_a_title_and_a_description() -> None:
    schema = design_schema()
    tables = [schema, *schema["$defs"].values()]
    bare = [
        (table["title"], key)
        for table in tables
        for key, info in table["properties"].items()
        if not info.get("title") or not info.get("description")
    ]
    assert bare == []
    assert all(table["description"] and table["additionalProperties"] is False for table in tables)


@pytest.mark.parametrize(
    "name", ["clean-box", "formulas/any-order-clean", "names/emoji-and-right-to-left-clean", "choices/any-name-clean"]
)
def test_clean_designs_keep_the_schema(name: str, validator: jsonschema.Draft202012Validator) -> None:
    design = tomllib.loads((CASES / name / "design.toml").read_text("utf-8"))
    assert [error.message for error in validator.iter_errors(design)] == []


@pytest.mark.parametrize(
    "text",
    [
        'title = "Curlew box"\n',
        CARD.replace('"mm"', '"cm"'),
        CARD.replace('"1.0"', "1.0"),
        CARD + 'author = "x"\n',
        CARD + "[sizes]\nwall = 12\n",
        CARD + '[stock.left]\nwood = "cherry"\nsize = ["1 mm", "1 mm"]\ngrain = "x"\n',
        CARD + '[shapes.disc]\nkind = "circle"\nat = ["0 mm", "0 mm"]\nradius = "1 mm"\ndiameter = "2 mm"\n',
        CARD + '[shapes.disc]\nkind = "circle"\nat = ["0 mm", "0 mm"]\n',
        CARD + '[shapes.wedge]\nkind = "polygon"\npoints = [["0 mm", "0 mm"]]\n',
        CARD + '[tools.saw]\nkind = "band saw"\n',
        CARD + '[supplies.glue]\nkind = "glue"\n',
        CARD + '[choices.pale]\ntitle = "Pale"\n',
        CARD + '[choices.pale]\nwoods = ["walnut"]\n',
        CARD + '[fits.play]\nkind = "gap"\nbetween = ["a", "b"]\n',
    ],
)
def test_broken_designs_break_the_schema(text: str, validator: jsonschema.Draft202012Validator) -> None:
    assert not validator.is_valid(tomllib.loads(text))


def test_examples_keep_the_schema_of_their_key() -> None:
    schema = design_schema()
    seen = 0
    for table in schema["$defs"].values():
        for key, info in table["properties"].items():
            for example in info.get("examples", ()):
                check: dict[str, Any] = {**info, "$defs": schema["$defs"]}
                jsonschema.validate(example, check, jsonschema.Draft202012Validator)
                seen += 1
                assert key
    assert seen > 40
