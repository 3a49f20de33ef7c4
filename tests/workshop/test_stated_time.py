"""The hands-on time of an operation: from its rate, set up once, or as its block states it."""

from pathlib import Path

import pytest

from planbook.handbook import rate
from planbook.reader import read_design
from planbook.workshop.run import build

CARD = 'title = "Two boards"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
BOARDS = """
[stock.one]
wood = "cherry"
size = ["200 mm", "20 mm", "60 mm"]
grain = "x"

[stock.two]
wood = "cherry"
size = ["200 mm", "20 mm", "60 mm"]
at = ["0 mm", "100 mm", "0 mm"]
grain = "x"
"""


def events(folder: Path, block: str):
    (folder / "design.toml").write_text(CARD + BOARDS, "utf-8")
    steps = f'## Mill\n\nMill.\n\n```mill\nboards = ["one", "two"]\n```\n\n## Square\n\nSquare.\n\n```square\n{block}\n```\n'
    (folder / "steps.md").write_text(steps, "utf-8")
    design = read_design(folder).design
    assert design is not None
    timeline = build(design)
    assert not timeline.troubles, timeline.troubles
    return timeline.events


SQUARE = 'pieces = ["one", "two"]\nto = ["190 mm", "19 mm", "58 mm"]\n'


def test_several_pieces_in_one_block_are_set_up_once(tmp_path):
    square = events(tmp_path, SQUARE)[1]
    row = rate("square")
    assert row is not None
    assert square.hands_on == pytest.approx(row.setup_minutes + 2 * row.unit_minutes)
    assert square.set_up == row.setup_minutes


@pytest.mark.parametrize(
    ("written", "minutes", "set_up"), [("20 min", 20, 10), ("1 h 30 min", 90, 10), ("3 min", 3, 3)]
)
def test_a_stated_time_is_that_of_the_whole_block(tmp_path, written, minutes, set_up):
    square = events(tmp_path, f'{SQUARE}takes = "{written}"\n')[1]
    assert square.hands_on == pytest.approx(minutes)
    assert square.set_up == pytest.approx(set_up)
