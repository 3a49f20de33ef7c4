"""Lines to cut are kept to their wood: no end and no middle hangs in the air beside it."""

import math
from itertools import pairwise

import pytest

from planbook.drawing.along_wood import SHORT, along_wood, without_crumbs
from planbook.drawing.marks import Picture
from planbook.drawing.scene import step_picture
from planbook.solids.solid import block
from planbook.workshop import Cue, Shown

BOARD = (((0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)), ())
BEYOND = (((60.0, 0.0), (90.0, 0.0), (90.0, 20.0), (60.0, 20.0)), ())


@pytest.mark.parametrize("kerf", [0.2, 0.6, 1.1])
def test_a_line_runs_along_its_wood_and_no_further(kerf):
    (run,) = along_wood([((-10.0, 20.0 + kerf), (70.0, 20.0 + kerf))], [BOARD], 1.6)
    assert run[0][0] == pytest.approx(0.0, abs=1.3)
    assert run[-1][0] == pytest.approx(40.0, abs=1.3)
    assert {y for _, y in run} == {20.0 + kerf}


def test_a_gap_between_two_pieces_of_wood_has_no_line():
    runs = along_wood([((0.0, 20.5), (90.0, 20.5))], [BOARD, BEYOND], 1.6)
    assert [(round(run[0][0]), round(run[-1][0])) for run in runs] == [(0, 41), (59, 90)]


def test_a_line_that_is_nowhere_near_its_wood_stays_whole():
    lines = [((0.0, 30.0), (40.0, 30.0))]
    assert along_wood(lines, [BOARD], 1.6) == lines
    assert along_wood(lines, [], 1.6) == lines


def test_a_crumb_is_drawn_only_where_there_is_nothing_longer():
    long, crumb = ((0.0, 0.0), (2 * SHORT, 0.0)), ((9.0, 9.0), (9.5, 9.0))
    assert without_crumbs([crumb, long]) == [long]
    assert without_crumbs([crumb]) == [crumb]


def test_the_middle_of_a_cut_is_not_drawn_where_another_part_was_pulled_away(bench):
    """A board with a gap in its edge: the middle of the cut belongs to the block that came out of the gap."""
    board = bench.piece("board", block((0, 0, 0), (160, 60, 20)).minus(block((60, 40, -1), (100, 61, 21))))
    plug = bench.piece("plug", block((61, 41, 0), (99, 60, 20)))
    line = Cue("cut line", ((0.0, 60.5, 20.0), (160.0, 60.5, 20.0)), "board")
    shown = [Shown(board, "new"), Shown(plug, "new", (0.0, 60.0, 0.0))]
    picture = step_picture(bench.timeline(), bench.event("saw", "top", shown, [line]), 90.0, 70.0)
    lengths = cut_lengths(picture)
    assert len(lengths) == 2
    assert lengths[0] == pytest.approx(lengths[1], rel=0.06)
    gap = math.dist(ends(picture)[0][1], ends(picture)[1][0])
    assert gap == pytest.approx(lengths[0] * 40 / 60, rel=0.12)


def ends(picture: Picture):
    """First and last point of each line, left to right (a line has a bed and a pen)."""
    lines = {(mark.points[0], mark.points[-1]) for mark in picture.of_layer("cut line")}
    return sorted(tuple(sorted(line)) for line in lines)


def cut_lengths(picture: Picture) -> list[float]:
    lines = {mark.points for mark in picture.of_layer("cut line")}
    return [sum(math.dist(a, b) for a, b in pairwise(line)) for line in lines]
