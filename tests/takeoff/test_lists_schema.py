"""The JSON of the lists keeps to its schema, which names every key that it has."""

import json
from fractions import Fraction

import jsonschema
import pytest

from planbook.takeoff import as_json, lists, lists_schema
from planbook.workshop import Use


@pytest.fixture
def text(bench, make_piece):
    bench.tool("narrow", "band saw", kerf="1 mm")
    bench.supply("glue", "glue", "yellow wood glue")
    bench.supply("paper", "abrasive", "P120")
    bench.board("blank", "254 mm", "101.6 mm", "50.8 mm", rough=("10 1/2 in", "4 1/2 in", "2 1/4 in"))
    bench.board("bottom", "254 mm", "101.6 mm", "6 mm", wood="birch plywood")
    blank = make_piece("blank", (254, 101.6, 50.8))
    bench.step("Mill the blank")
    bench.do("mill", made=[blank], uses=[Use("blank", "stock", 1, "board")])
    bench.step("Saw and glue")
    bench.do("saw", [blank], [make_piece("body", (200, 101.6, 50.8))], uses=[Use("narrow", "band saw", 0.2, "m")])
    bench.do("glue", uses=[Use("glue", "glue", 0.1, "m2")])
    bench.ends("part", make_piece("body", (200, 101.6, 50.8)))
    return as_json(lists(bench.timeline(), make=3))


def test_the_schema_is_one():
    jsonschema.Draft202012Validator.check_schema(lists_schema())


def test_lists_keep_to_the_schema(text):
    assert list(jsonschema.Draft202012Validator(lists_schema()).iter_errors(json.loads(text))) == []


def test_the_schema_names_every_key_of_the_lists(text):
    found = json.loads(text)
    assert set(found) == set(lists_schema()["properties"])
    assert found["plans"]
    for plan in found["plans"]:
        assert set(plan) == set(lists_schema()["$defs"]["Plan"]["properties"])
    for row in found["shopping"]:
        assert set(row) == set(lists_schema()["$defs"]["Bought"]["properties"])


@pytest.mark.parametrize(
    ("key", "value"), [("form", 2), ("shopping", [{"kind": "board"}]), ("make", "three"), ("plans", [{}])]
)
def test_other_texts_are_refused(text, key, value):
    wrong = {**json.loads(text), key: value}
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(wrong, lists_schema(), cls=jsonschema.Draft202012Validator)


def test_lengths_are_numbers_of_millimetres(text):
    plan = json.loads(text)["plans"][0]
    assert plan["kerf"] == 3
    assert plan["thickness"] == float(Fraction(60))
    assert plan["unit"] == "m2"
