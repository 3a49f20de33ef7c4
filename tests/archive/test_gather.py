"""What is read off a build, on the starting design."""

import math
import shutil
from pathlib import Path

import pytest

from planbook.archive.compare import Level, compare
from planbook.archive.facts import Facts, Measure, facts_json, read_facts
from planbook.archive.gather import about, facts_of
from planbook.pipeline import check
from planbook.takeoff import lists

STARTER = Path(__file__).parent.parent.parent / "planbook" / "cli" / "starter"


def facts(folder: Path, *changes: tuple[str, str, str]) -> Facts:
    """The facts of the starting design with some of its text changed: file, old and new."""
    block = folder / "pencil-block"
    shutil.copytree(STARTER, block, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    for file, old, new in changes:
        text = (block / file).read_text("utf-8")
        assert old in text
        (block / file).write_text(text.replace(old, new), "utf-8")
    checked = check(block, nominal=True)
    assert checked.timeline is not None
    assert not checked.stops
    return facts_of(checked.timeline, lists(checked.timeline, system="mm"))


@pytest.fixture(scope="module")
def block(tmp_path_factory: pytest.TempPathFactory) -> Facts:
    return facts(tmp_path_factory.mktemp("block"))


def test_the_numbers_are_those_of_the_design(block):
    assert block.sizes["width"] == Measure(60.0, "length")
    assert block.sizes["spacing"] == Measure(20.0, "length")
    (piece,) = block.pieces.values()
    # A rectangle and half a disc, 45 mm high less 0.2 mm sanded off above and below, and five holes (plane geometry).
    whole = (120 * 60 + math.pi * 30**2 / 2) * 44.6 - 5 * math.pi * 4**2 * 34.8
    assert piece.volume == pytest.approx(whole, rel=1e-3)
    assert piece.box == pytest.approx((150.0, 60.0, 44.6), abs=0.03)
    assert piece.woods == ("black cherry",)
    (board,) = block.lumber.values()
    assert (board.wood, board.count) == ("black cherry", 1)
    assert board.size == pytest.approx((170.0, 70.0, 50.8))
    assert [step.title for step in block.steps][:2] == ["Mill the board", "Stick on the stencil"]
    assert block.steps[3].work[0].settings["leave"] == (Measure(0.5, "length"),)
    assert block.stencils["Outline and holes"].face == pytest.approx((160.0, 64.0))


def test_they_are_the_same_on_another_build_and_after_writing(block, tmp_path):
    again = facts(tmp_path)
    assert facts_json(again) == facts_json(block)
    assert compare(read_facts(facts_json(block), "x"), again).level is Level.SAME


def test_other_words_change_no_number(block, tmp_path):
    said = ("design.toml", "Put the straight end", "Lay the straight end")
    told = ("steps.md", "Saw the long sides first", "First saw the long sides")
    found = compare(block, facts(tmp_path, said, told))
    assert (found.level, found.print_again) == (Level.PATCH, ())
    assert {change.subject for change in found.changes} == {"stencils", "steps"}


@pytest.mark.parametrize(
    ("old", "new"),
    [('pencil     = "8 mm"', 'pencil     = "8.2 mm"'), ('kerf  = "1.2 mm"', 'kerf  = "1.0 mm"')],
)
def test_what_is_printed_otherwise_is_printed_again(block, tmp_path, old, new):
    found = compare(block, facts(tmp_path, ("design.toml", old, new)))
    assert (found.level, found.print_again) == (Level.MINOR, ("Outline and holes",))


def test_what_it_is_about_can_be_searched(tmp_path):
    shutil.copytree(STARTER, tmp_path / "block", ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    timeline = check(tmp_path / "block", nominal=True).timeline
    assert timeline is not None
    found = about(timeline, lists(timeline, system="mm"))
    assert (found.title, found.woods, found.pieces) == ("Pencil block", ("black cherry",), ("pencil block",))
    assert {"band saw", "pencil drill"} <= set(found.tools)
    assert "oil" in found.supplies
