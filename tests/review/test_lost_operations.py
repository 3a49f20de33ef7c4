"""The guard of the review: what was never built must not pass as sound, even where no rule knows why."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from planbook.review import review
from planbook.workshop import Timeline, Trouble

LINES = Path(__file__).parents[1] / "cases" / "review" / "lines"
Build = Callable[[Path], Timeline]


def _guarded(timeline: Timeline) -> list[tuple[str, bool]]:
    return [(found.headline, found.stops) for found in review(timeline) if found.code == "FLO16"]


def test_a_sound_build_is_not_doubted(as_mended: Build) -> None:
    assert _guarded(as_mended(LINES)) == []


def test_an_operation_that_is_lost_without_a_word_stops_the_booklet(as_mended: Build) -> None:
    timeline = as_mended(LINES)
    lost = timeline.design.operations[-1]
    ((headline, stops),) = _guarded(replace(timeline, events=timeline.events[:-1]))
    assert headline == f"step {lost.step} cannot carry out its `{lost.kind}` as it is written"
    assert stops


def test_a_trouble_that_no_rule_words_stops_the_booklet(as_mended: Build) -> None:
    timeline = as_mended(LINES)
    trouble = Trouble("saw-on-strike", timeline.design.operations[0].place, 1)
    ((headline, stops),) = _guarded(replace(timeline, troubles=(trouble,)))
    assert headline == "step 1 cannot be carried out as it is written (saw on strike)"
    assert stops


def test_a_trouble_that_only_warns_does_not_hide_what_is_lost(as_mended: Build) -> None:
    timeline = as_mended(LINES)
    place = timeline.design.operations[0].place
    doubt = Trouble("hole-breaks-out", place, 1, {"piece": "board", "hole": "eye", "at": (0.0, 0.0), "radius": 2.0})
    assert _guarded(replace(timeline, troubles=(doubt,))) == []
    assert len(_guarded(replace(timeline, troubles=(doubt,), events=timeline.events[:-1]))) == 1


def test_what_follows_from_an_error_is_no_second_finding(as_mended: Build) -> None:
    timeline = as_mended(LINES)
    trouble = Trouble("volume-not-conserved", timeline.design.operations[-1].place, 1, _UNBALANCED)
    assert _guarded(replace(timeline, troubles=(trouble,), events=timeline.events[:-1])) == []


_UNBALANCED = {"before": 96_000.0, "after": 95_000.0, "operation": "saw"}
