from dataclasses import replace
from fractions import Fraction

import pytest

from planbook.model.digest import built_digests, digest
from planbook.reader import read_design
from planbook.text import Place

DESIGN = """
title = "Block"
summary = "A block."
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"

[sizes]
long = "100 mm"

[stock.board]
wood = "sugar maple"
size = ["long", "40 mm", "20 mm"]
grain = "x"

[tools.drill]
kind = "drill"
diameter = "6 mm"
"""
STEPS = """# Block

Saw it.

## Mill it

Plane it.

```mill
boards = ["board"]
```

## Bore it

Bore it.

```bore
piece = "board"
face = "top"
at = [["20 mm", "20 mm"]]
tool = "drill"
```
"""


def digests(tmp_path, design=DESIGN, steps=STEPS):
    (tmp_path / "design.toml").write_text(design, encoding="utf-8")
    (tmp_path / "steps.md").write_text(steps, encoding="utf-8")
    found = read_design(tmp_path).design
    assert found is not None
    return built_digests(found)


def test_prose_titles_and_places_do_not_count(tmp_path):
    before = digests(tmp_path)
    after = digests(tmp_path, "# a comment\n" + DESIGN, STEPS.replace("Plane it.", "Plane it well, on both sides."))
    assert before == after
    assert len(set(before)) == 2


def test_a_changed_operation_changes_what_comes_after_it_and_nothing_before(tmp_path):
    before = digests(tmp_path)
    after = digests(tmp_path, steps=STEPS.replace('["20 mm", "20 mm"]', '["21 mm", "20 mm"]'))
    assert before[0] == after[0]
    assert before[1] != after[1]


def test_a_changed_size_changes_everything(tmp_path):
    before = digests(tmp_path)
    after = digests(tmp_path, DESIGN.replace("100 mm", "101 mm"))
    assert not set(before) & set(after)


def test_values_that_are_written_alike_are_told_apart():
    things = [1, 1.0, "1", True, None, Fraction(1), ("1",), (("1",),), {"1": 1}, ("1", ""), ("", "1"), ("1", "1")]
    assert len({digest(thing) for thing in things}) == len(things)


def test_a_place_says_nothing():
    assert digest(Place("a", 1), 1) == digest(Place("b", 2), 1)


def test_what_cannot_be_told_is_refused():
    with pytest.raises(TypeError, match="object"):
        digest(object())


def test_a_record_counts_with_all_its_fields(tmp_path):
    (tmp_path / "design.toml").write_text(DESIGN, encoding="utf-8")
    (tmp_path / "steps.md").write_text(STEPS, encoding="utf-8")
    tool = read_design(tmp_path).design.tools["drill"]
    assert digest(tool) != digest(replace(tool, note="sharp"))
