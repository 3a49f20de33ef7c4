"""In inches one length is one figure: in settings, lists and measured drawings of the samples, and in rows of holes."""

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path

import pytest

from planbook.booklet import Edition
from planbook.drawing.measured import measured
from planbook.drawing.piece_figures import figure
from planbook.drawing.sheet_sums import arcs_of, from_the_other_end, mirrored_of
from planbook.pipeline import settled_lengths
from planbook.reader import read_design
from planbook.takeoff import lengths_set, places_set, rows_of, single_pieces, stages_of
from planbook.takeoff.pieces import piece_rows
from planbook.units import MM_PER_INCH, LengthStyle, Quantity, read_length, show_fine, show_length
from planbook.workshop import Timeline
from planbook.workshop.pieces import as_cut
from planbook.workshop.run import build

DESIGNS = Path(__file__).parents[2] / "designs"
SAMPLES = sorted(path.name for path in DESIGNS.iterdir() if (path / "design.toml").is_file())
CHORDS = 0.02
"""Solids are made of chords that lie so far within a curve, mm."""
SMALL = float(MM_PER_INCH / 8)
HALF = float(MM_PER_INCH / 64)
EXACT = 1e-4
RULE = 25.4 / 128
"""What a rule of inches shows no longer, mm: half of 1/64 in."""
PENCIL = 0.3
"""What is marked with a pencil may be off so much, mm (common practice)."""
READ = 0.05
"""What is lost besides, mm, where figures are told to a thousandth of an inch or once more rounded for a row."""


@cache
def told(name: str) -> tuple[Timeline, LengthStyle]:
    design = read_design(DESIGNS / name).design
    assert design is not None
    timeline = build(design)
    return timeline, settled_lengths(timeline, Edition(units="in"))


def drawn(timeline: Timeline) -> Iterator[float]:
    """Every length that a measured drawing tells: places, depths of holes, radii."""
    single = single_pieces(timeline)
    for name in single:
        facts = measured(as_cut(timeline.pieces[name], single).solid)
        yield from (place for places in facts.places for place in places if place)
        for each in facts.rounds:
            if each.whole and not each.through and not each.sunk:
                yield each.along[1] - each.along[0]
            elif not each.whole:
                yield each.radius


def figures(name: str) -> list[tuple[float, str]]:
    """The lengths of a sample in order, mm, each as it is printed where it stands, without the unit."""
    timeline, style = told(name)
    given = [size.value for size in timeline.sizes.values() if size.is_length and size.value > 0]
    lists = [side for row in piece_rows(timeline) for side in (row.final.length, row.final.width, row.final.thickness)]
    settings = [length for lengths in lengths_set(timeline).values() for length in lengths if length > 0]
    said = {(float(mm), show_fine(Quantity(mm, 1), style)) for mm in (*given, *lists, *settings)}
    return sorted(
        {*((mm, text.removesuffix(" in")) for mm, text in said), *((mm, figure(mm, style)) for mm in drawn(timeline))}
    )


def read(text: str) -> float:
    return float(read_length(text if "mm" in text else f"{text} in"))


def as_read(mm: Fraction, style: LengthStyle) -> float:
    return read(show_fine(Quantity(mm, 1), replace(style, brief=True)).removesuffix(" in"))


@pytest.mark.parametrize("name", SAMPLES)
def test_one_length_is_one_figure_wherever_it_stands(name: str) -> None:
    found = [(mm, text) for mm, text in figures(name) if "mm" not in text]
    for (low, first), (high, second) in combinations(found, 2):
        if high - low < EXACT:
            assert first == second, (low, high)


@pytest.mark.parametrize("name", SAMPLES)
def test_what_is_measured_on_chords_is_told_as_the_length_that_the_step_sets(name: str) -> None:
    timeline, style = told(name)
    for length in (length for lengths in lengths_set(timeline).values() for length in lengths):
        near = [mm for mm in drawn(timeline) if abs(mm - length) < CHORDS]
        assert {figure(mm, style) for mm in near} <= {figure(float(length), style)}, float(length)


@pytest.mark.parametrize("name", SAMPLES)
def test_no_fraction_stands_for_another_length_that_is_told_in_thousandths(name: str) -> None:
    found = [(mm, text) for mm, text in figures(name) if "mm" not in text and mm >= SMALL]
    decimals = [read(text) for _, text in found if re.fullmatch(r"\d+\.\d+", text)]
    fractions = [(mm, read(text)) for mm, text in found if not re.fullmatch(r"\d+\.\d+", text)]
    for mm, as_read in fractions:
        if abs(as_read - mm) > EXACT:
            assert all(abs(as_read - other) >= HALF - EXACT for other in decimals), (mm, as_read)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_places_of_a_row_add_up_as_they_are_printed(name: str) -> None:
    timeline, style = told(name)
    for chain in rows_of(timeline):
        *parts, total = (Fraction(read_length(show_length(mm, style))) for mm in chain.lengths)
        assert sum(parts) == total, [show_length(mm, style) for mm in chain.lengths]


@pytest.mark.parametrize("name", SAMPLES)
def test_what_is_sawn_glued_and_taken_off_adds_up_as_it_is_printed(name: str) -> None:
    timeline, style = told(name)
    for chain in stages_of(timeline):
        *parts, total = (as_read(mm, style) for mm in chain.lengths)
        # A caliper reads the rest of what is rounded to a thousandth of an inch.
        most = min(RULE, float(min(chain.parts)) / 2) + 0.0254 * len(parts)
        assert abs(sum(parts) - total) <= most, [show_fine(Quantity(mm, 1), style) for mm in chain.lengths]


def test_the_boards_of_a_drawer_come_to_the_length_that_it_is_trimmed_from() -> None:
    """By hand: 9 mm, 90.7 mm and 9 mm, less 2.4 mm, are 106.3 mm, which is 4.185 in."""
    _, style = told("curlew-box")
    front, tray, off, drawer = (as_read(Fraction(mm), style) for mm in ("9", "90.7", "2.4", "106.3"))
    assert abs(2 * front + tray - off - drawer) < 0.1


@pytest.mark.parametrize("name", SAMPLES)
def test_a_place_and_its_mirror_come_to_the_whole_as_near_as_both_can_be_marked(name: str) -> None:
    timeline, style = told(name)
    single = single_pieces(timeline)
    pieces = {one: as_cut(timeline.pieces[one], single) for one in single}
    for chain in (*mirrored_of(pieces, single), *from_the_other_end(pieces, single, places_set(timeline))):
        low, high, whole = (read(figure(float(mm), style)) for mm in chain.lengths)
        assert abs(low + high - whole) <= PENCIL + READ, (low, high, whole)


@pytest.mark.parametrize("name", SAMPLES)
def test_an_arc_and_its_middle_come_to_where_it_ends_as_they_are_printed(name: str) -> None:
    timeline, style = told(name)
    single = single_pieces(timeline)
    for chain in arcs_of({one: as_cut(timeline.pieces[one], single) for one in single}, single):
        low, high, whole = (read(figure(float(mm), style)) for mm in chain.lengths)
        assert abs(low + high - whole) <= PENCIL + READ, (low, high, whole)


def test_screws_of_one_row_stand_equally_far_apart_from_whichever_end_they_are_told() -> None:
    """By hand: four screws 160 mm apart, from 47 mm on the shelf and from 47.7 mm on the rail."""
    _, style = told("tide-shelf")
    for first in (Fraction(47), Fraction("47.7")):
        places = [as_read(first + 160 * k, style) for k in range(4)]
        assert len({round(b - a, 6) for a, b in pairwise(places)}) == 1, places
