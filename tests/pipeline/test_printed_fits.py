"""In inches the samples fit as they are printed: figures of drawings and settings, taken from one another as read."""

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from pathlib import Path

import pytest

from planbook.booklet import Edition
from planbook.drawing.measured import measured
from planbook.drawing.piece_alike import alike
from planbook.drawing.piece_figures import figure
from planbook.drawing.plays import met
from planbook.pipeline import settled_lengths
from planbook.reader import read_design
from planbook.takeoff import sides_of, single_pieces
from planbook.units import MM_PER_INCH, LengthStyle, read_length
from planbook.workshop import Timeline
from planbook.workshop.pieces import as_cut
from planbook.workshop.run import build

DESIGNS = Path(__file__).parents[2] / "designs"
SAME, AXES = 0.002, (0, 1, 2)
FINEST = float(4 * MM_PER_INCH / 2000)
"""Four figures to the thousandth of an inch may be so much off, mm: nothing finer is set with a caliper."""


def printed(mm: float, style: LengthStyle) -> float:
    text = figure(mm, style)
    return float(read_length(text if text.endswith("mm") else f"{text} in")) if mm else 0.0


def sheets_of(timeline: Timeline, style: LengthStyle) -> list[tuple[float, float]]:
    """Every two places on a measured drawing: how far they lie apart, and how far as printed."""
    single = single_pieces(timeline)
    pieces = {name: as_cut(timeline.pieces[name], single) for name in single}
    drawn = [measured(pieces[names[0]].solid).places for names in alike(pieces)]
    pairs = (pair for places in drawn for axis in AXES for pair in combinations(places[axis], 2))
    return [(high - low, printed(high, style) - printed(low, style)) for low, high in pairs]


@pytest.mark.parametrize(
    ("name", "told"),
    [("tide-shelf", True), ("heron-puzzle", False), ("curlew-box", True), ("pebble-box", False), ("dory-stool", False)],
)
def test_a_fit_taken_from_the_printed_figures_stays_within_its_limits(name: str, told: bool) -> None:
    """`told` says whether both sides of some fit stand on drawings; else one of them follows a stencil or a step."""
    design = read_design(DESIGNS / name).design
    assert design is not None
    timeline = build(design)
    style = replace(settled_lengths(timeline, Edition(units="in")), brief=True)
    sheets, judged = sheets_of(timeline, style), 0
    for first, second, left in sides_of(timeline):
        pairs = [(timeline.pieces[a], timeline.pieces[b]) for a in first for b in second]
        for one, other, axis in ((a, b, axis) for a, b in pairs for axis in AXES):
            for (low, below, way), (high, above, back) in combinations(met(one, other, axis), 2):
                if way == back:
                    continue
                spans = (high - low, above - below)
                for span in spans:
                    for as_read in (read for true, read in sheets if abs(true - span) < SAME):
                        # Half of what a play may be off is for either of what goes in and what it goes into.
                        assert abs(as_read - span) <= max(float(left), FINEST) / 2 + SAME, (one.name, span)
                judged += all(any(abs(true - span) < SAME for true, _ in sheets) for span in spans)
    assert bool(judged) == told


def test_the_play_of_rails_that_nothing_is_asked_of_is_read_off_the_drawings() -> None:
    """By hand: the sides of the shelf stand 560 mm apart and its rail is 0.6 mm (0.024 in) shorter."""
    design = read_design(DESIGNS / "tide-shelf").design
    assert design is not None
    timeline = build(design)
    style = replace(settled_lengths(timeline, Edition(units="in")), brief=True)
    assert [figure(mm, style) for mm in (7.0, 567.0, 559.4)] == ["0.276", "22.323", "22.024"]
    assert Fraction("22.323") - Fraction("0.276") - Fraction("22.024") == Fraction("0.023")
