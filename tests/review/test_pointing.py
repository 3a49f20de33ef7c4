"""Places found in a design: the name that is meant, and the table that a place belongs to."""

from pathlib import Path

import pytest

from planbook.model import Design
from planbook.reader import read_design
from planbook.review.pointing import narrowed, operation_at, owner

CASES = Path(__file__).parents[1] / "cases" / "review"


@pytest.fixture(scope="module")
def design() -> Design:
    found = read_design(CASES / "pieces").design
    assert found is not None
    return found


def test_a_name_is_found_in_the_list_that_holds_it(design: Design) -> None:
    glue = next(op for op in design.operations if op.kind == "glue")
    pieces = glue.fields.table()["pieces"]
    assert narrowed(pieces.place, "right", design).column == pieces.place.column + len('["left", "')
    assert narrowed(glue.place, "right", design).line == pieces.place.line
    assert narrowed(glue.place, "nowhere", design) == glue.place
    assert narrowed(glue.place, "", design) == glue.place


def test_a_name_that_is_also_a_face_is_not_found_in_the_face() -> None:
    found = read_design(CASES / "left-over").design
    assert found is not None
    operation = next(op for op in found.operations if op.kind == "slice")
    table = operation.fields.table()
    assert table["face"].value == "back"
    assert narrowed(operation.place, "back", found) == table["makes"].table()["back"].named_at


def test_a_place_belongs_to_the_last_table_before_it(design: Design) -> None:
    assert owner(design.stock["strip"].size[0].place, design) == "board `strip`"
    assert owner(design.fits["thick strip"].fields["piece"].place, design) == "fit `thick strip`"
    assert owner(design.card.place, design) == "the design"


def test_the_operation_at_a_place(design: Design) -> None:
    glue = next(op for op in design.operations if op.kind == "glue")
    assert operation_at(glue.fields.table()["makes"].place, design) is glue
    assert operation_at(glue.place, design) is glue
    assert operation_at(design.card.place, design) is None
