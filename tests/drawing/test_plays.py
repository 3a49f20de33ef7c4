"""Figures that tell how much play there is: a tongue in a groove and a shelf between two sides, measured by hand."""

from fractions import Fraction

import pytest

from planbook.drawing.plays import READ, levels_of, met, plays_of, turning_of, widths_of
from planbook.solids import FACE_FRAMES
from planbook.solids.plane import arc_band, box
from planbook.solids.solid import block, joined, prism
from planbook.text import Place
from planbook.workshop import Piece
from planbook.workshop.timeline import At, Member

Vec = tuple[float, float, float]


def piece(name: str, low: Vec, high: Vec, *cut: tuple[Vec, Vec]) -> Piece:
    solid = block(low, high).minus(*(block(*each) for each in cut)) if cut else block(low, high)
    return Piece(name, solid, (), At(1, 1, Place("steps.md")))


BASE = piece("base", (0, 0, 0), (200, 80, 30), ((-1, 29.75, 20), (201, 50.25, 31)))
TONGUE = piece("tongue", (0, 30, 20), (200, 50, 60))
BOTH = {"base": BASE, "tongue": TONGUE}


def test_faces_that_look_at_one_another_meet_and_those_that_lie_in_line_do_not() -> None:
    assert met(TONGUE, BASE, 1) == ((30, pytest.approx(29.75), -1.0), (50, pytest.approx(50.25), 1.0))
    assert met(TONGUE, BASE, 0) == ()


def test_the_figures_of_a_groove_and_of_its_tongue_keep_within_what_the_fit_leaves() -> None:
    """A gap of 0.25 mm that may be 0.05 mm off is the sum of four figures."""
    fit = (("tongue",), ("base",), Fraction("0.05"))
    ((lengths, leeway),) = plays_of(BOTH, list(BOTH), [fit])
    assert list(map(float, lengths)) == [20, 20.5, 29.75, 50.25]
    assert leeway == Fraction("0.05") / 4


def test_where_nothing_is_asked_they_keep_half_the_play() -> None:
    ((_, leeway),) = plays_of(BOTH, list(BOTH), [])
    assert float(leeway) == pytest.approx(0.5 / 2 / 4)


def test_what_touches_all_round_asks_for_nothing() -> None:
    snug = {"base": BASE, "tongue": piece("tongue", (0, 29.75, 20), (200, 50.25, 60))}
    assert list(plays_of(snug, list(snug), [])) == []


def test_a_rail_between_two_sides_and_the_shelf_whose_shoulders_hold_them_apart() -> None:
    """The sides stand 560 mm apart, which the shelf alone tells: from 7 to 567 mm. The rail is 559.4 mm long."""
    left = piece("left", (-20, 0, 0), (0, 100, 300), ((-7, -1, 200), (1, 101, 218)))
    right = piece("right", (560, 0, 0), (580, 100, 300), ((559, -1, 200), (567, 101, 218)))
    notched = (((-8, 88, 199), (0, 101, 219)), ((560, 88, 199), (568, 101, 219)))
    shelf = piece("shelf", (-7, 0, 200), (567, 90, 218), *notched)
    rail = piece("rail", (0.3, 20, 50), (559.7, 40, 90))
    pieces = {each.name: each for each in (left, right, shelf, rail)}
    ((lengths, leeway),) = plays_of(pieces, list(pieces), [])
    assert list(map(float, lengths)) == [7, 559.4, 560, 567]
    assert float(leeway) == pytest.approx(0.6 / 2 / 4)


def test_the_width_of_a_slot_is_read_off_the_drawing_as_its_step_makes_it() -> None:
    """By hand: the groove lies from 29.75 to 50.25 mm."""
    assert list(widths_of(BOTH, list(BOTH), [Fraction("20.5")])) == [((Fraction("29.75"), Fraction("50.25")), READ)]
    assert list(widths_of(BOTH, list(BOTH), [Fraction(21)])) == []


def test_what_no_one_figure_tells_is_told_by_the_boards_that_fill_it() -> None:
    """A shutter of 95 mm runs between two faces 95.6 mm apart: a core of 79.6 mm and two runners of 8 mm."""
    ends = [(0, 12), (12, 20), (20, 99.6), (99.6, 107.6), (107.6, 119.6)]
    boards = [piece(f"board {n}", (0, low, 0), (50, high, 20)) for n, (low, high) in enumerate(ends)]
    wood = [Member("", "", (1, 0, 0), each.solid, each.solid.bounds) for each in boards]
    cheeks = (block((0, 0, 0), (50, 12, 60)), block((0, 107.6, 0), (50, 119.6, 60)))
    box = Piece("box", joined([*(each.solid for each in boards), *cheeks]), tuple(wood), boards[0].at)
    shutter = piece("shutter", (0, 12.3, 20), (50, 107.3, 50))
    pieces = {each.name: each for each in (*boards, box, shutter)}
    fit = (("shutter",), ("box",), Fraction("0.15"))
    found = [lengths for lengths, _ in plays_of(pieces, [*(each.name for each in boards), "shutter"], [fit])]
    assert any({8, Fraction("79.6"), 95} <= set(lengths) for lengths in found)


def test_the_radius_of_a_strip_that_runs_about_a_middle_has_its_share_of_what_the_fit_leaves() -> None:
    """The strip of 76.4 to 83.6 mm runs in a groove of 75 to 85 mm; a fit that leaves 0.2 mm is the sum of four."""
    at, frame = At(1, 1, Place("steps.md")), FACE_FRAMES["front"]
    groove, strip = arc_band((100, 0), 75, 85, 10, 170), arc_band((100, 0), 76.4, 83.6, 30, 100)
    past = Piece("past", prism(box(0, 0, 200, 100).minus(groove), frame, -20, 0), (), at)
    pieces = {"past": past, "strip": Piece("strip", prism(strip, frame, -20, 0), (), at)}
    fit = (("strip",), ("past",), Fraction("0.2"))
    found = list(turning_of(pieces, ["strip"], [fit]))
    assert {(round(float(mm), 2), leeway) for (mm,), leeway in found} == {
        (76.4, Fraction("0.05")),
        (83.6, Fraction("0.05")),
    }
    assert list(turning_of(pieces, ["strip"], [])) == []


def test_a_shelf_in_one_level_with_a_side_hangs_on_how_deep_both_are_from_where_they_meet() -> None:
    """By hand: it is 95 mm deep with shoulders of 10 mm, which stop at the end of a slot 14 mm from the front of 100 mm.

    What is left of its slot to the back is 86 mm; the shelf is 85 mm deep there, 0.1 mm behind the back.
    """
    side = piece("side", (-20, 0, 0), (0, 100, 300), ((-7, 14, 200), (1, 101, 218)))
    shelf = piece("shelf", (-7, 4.9, 200), (200, 99.9, 218), ((-8, 4, 199), (0, 14.9, 219)))
    pieces = {each.name: each for each in (side, shelf)}
    ((lengths, leeway),) = levels_of(pieces, list(pieces), [("shelf", "side", "back", Fraction("0.2"))])
    assert list(map(float, lengths)) == [10, 14, 85, 86, 95, 100]
    assert float(leeway) == pytest.approx(0.2 / 4)
