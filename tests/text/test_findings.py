"""Findings and their order."""

from planbook.text import Aside, Finding, Kind, Place, Severity, in_order

KIND = Kind("FLO02", "piece-already-used", Severity.ERROR, "What.", "Why.", "bad", "good")
NOTE = Kind("FLO90", "remark", Severity.NOTE, "What.", "Why.", "bad", "good")
PLACE = Place("steps.md", 8, 12, 4)


def test_a_kind_makes_findings() -> None:
    aside = Aside(Place("steps.md", 2), "used up here")
    made = KIND.at(PLACE, "step 2 takes `lid`", label="gone", also=[aside], notes=["n"], hint="h")
    assert made == Finding(
        "FLO02", "piece-already-used", Severity.ERROR, "step 2 takes `lid`", PLACE, "gone", (aside,), ("n",), "h"
    )


def test_only_errors_stop_a_booklet() -> None:
    assert KIND.at(PLACE, "x").stops
    assert not NOTE.at(PLACE, "x").stops


def test_findings_are_ordered_and_told_once() -> None:
    late, early = KIND.at(Place("steps.md", 9), "b"), KIND.at(Place("design.toml", 30), "a")
    note = NOTE.at(Place("steps.md", 9), "a")
    assert in_order([late, note, early, late]) == (early, late, note)
