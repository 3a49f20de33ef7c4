"""The shopping list as it is printed."""

from pathlib import Path

from planbook.booklet import edition_for
from planbook.booklet.rows import shopping_rows
from planbook.reader import read_design
from planbook.takeoff import lists
from planbook.workshop.run import build

DESIGN = Path(__file__).parents[2] / "planbook" / "starters" / "tray"


def test_what_is_taken_as_needed_has_no_count():
    timeline = build(read_design(DESIGN).design)
    found = lists(timeline)
    counts = {row.name: row.count for row in shopping_rows(found, edition_for(timeline.design.card))}
    at_hand = [row.name for row in found.supplies if row.metric is None]
    assert "masking tape" in at_hand
    assert {counts[name[:1].upper() + name[1:]] for name in at_hand} == {"–"}
    assert all(count != "–" for name, count in counts.items() if name.lower() not in at_hand)
