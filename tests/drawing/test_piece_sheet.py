"""Measured sheets: what they tell is enough to make the piece again, each place once, and nothing overlaps."""

import itertools
import math
import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.drawing.marks import Words
from planbook.drawing.measured import measured
from planbook.drawing.ordinates import STEP, spread
from planbook.drawing.piece_sheet import TALLER
from planbook.drawing.piece_views import BIT, SCALES, is_bit, scale_text
from planbook.drawing.stencil_figure import mark_box
from planbook.solids import FACE_FRAMES
from planbook.solids.plane import arc_band, box, circle
from planbook.solids.solid import block, cylinder, nothing, prism
from planbook.units import INCH_32, MM_TENTH

from .conftest import FRONT, SHEET, arch_sawn_off, figures, rebuilt, sheet

WIDE, HIGH = SHEET


def stepped(seed):
    """A board with rectangular notches, grooves and windows: its faces are all square to the axes."""
    rng = random.Random(seed)
    size = [rng.randrange(60, 300), rng.randrange(12, 80), rng.randrange(40, 200)]
    solid = block((0, 0, 0), tuple(size))
    for _ in range(rng.randrange(1, 4)):
        low = [rng.randrange(0, side - 8) for side in size]
        high = [rng.randrange(lo + 4, side + 1) for lo, side in zip(low, size, strict=True)]
        cut = solid.minus(block(tuple(low), tuple(high)))
        if not cut.empty and len(cut.parts) == 1:
            solid = cut
    return solid


@pytest.mark.parametrize("seed", range(25))
def test_the_printed_places_are_enough_to_make_the_piece_again(seed):
    """Between neighbouring places the wood is all there or all away: the piece is rebuilt from the figures alone."""
    solid = stepped(seed)
    told = figures(sheet(solid))
    facts = measured(solid)
    assert all(len(places) <= 16 for places in facts.places)
    printed = sorted({float(Fraction(t)) for t in told["below"]}), sorted({float(Fraction(t)) for t in told["beside"]})
    assert printed[0] == pytest.approx(list(facts.places[0]))
    assert set(printed[1]) == {*facts.places[1], *facts.places[2]}
    built = rebuilt(solid, facts.places)
    assert built.volume == pytest.approx(solid.volume, rel=1e-9)
    assert built.minus(solid).volume == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("seed", range(25))
def test_no_place_is_told_twice(seed):
    told = figures(sheet(stepped(seed)))
    assert len(told["below"]) == len(set(told["below"]))


def test_figures_of_a_groove_lie_as_far_apart_as_it_is_wide():
    """A groove of 20.5 mm in the middle of 80 mm lies from 29.75 to 50.25; what is not exact is rounded to a tenth."""
    for side, sides in ((29.75, ["29.75", "50.25"]), (29.77, ["29.8", "50.2"])):
        solid = block((0, 0, 0), (260, 80, 28)).minus(block((-1, side, 16), (261, 80 - side, 29)))
        assert sorted(figures(sheet(solid))["beside"], key=float) == ["0", "0", "12", "28", *sides, "80"]


def test_small_figures_are_told_as_the_steps_tell_them():
    """1/16 in is 1.5875 mm; 1.753 mm is 0.0690 in, and 0.18 mm 0.0071 in."""
    for depth, inches, metric in ((1.5875, "1/16", "1.59"), (1.753, "0.069", "1.75"), (0.18, "0.007", "0.18")):
        solid = block((0, 0, 0), (100, 20, 50)).minus(block((10, -1, -1), (90, 21, depth)))
        assert inches in figures(sheet(solid, INCH_32, "third"))["beside"]
        assert metric in figures(sheet(solid))["beside"]


def test_a_short_edge_with_a_loose_end_is_left_out():
    frame = ((0, 0), (20, 0), (20, 20), (0, 20), (0, 0))
    assert is_bit(0, [((10, 10), (10, 10 + BIT / 2)), frame])
    assert is_bit(0, [((0, 10), (BIT / 2, 10)), frame])
    assert not is_bit(0, [((10, 10), (10, 10 + 2 * BIT)), frame])
    assert not is_bit(0, [((0, 1), (1, 0)), frame])
    assert not is_bit(1, [((0, 1), (1, 0)), frame])


def test_a_tall_piece_gets_more_height_rather_than_half_the_scale():
    tall = sheet(block((0, 0, 0), (20, 190, 510)), MM_TENTH, "first")
    assert "Scale 1:5" in {mark.text for mark in tall.marks if isinstance(mark, Words)}
    assert HIGH < tall.height <= TALLER * HIGH
    low = sheet(block((0, 0, 0), (200, 190, 250)), MM_TENTH, "first")
    assert low.height <= HIGH


def scale_of(picture):
    (said,) = [m.text for m in picture.of_layer("words") if isinstance(m, Words) and m.text.startswith("Scale ")]
    return [scale_text(scale) for scale in SCALES].index(said.removeprefix("Scale "))


@pytest.mark.parametrize("size", [(116, 95, 70), (81, 121, 44), (200, 119, 154), (573, 125, 18)])
def test_inches_do_not_make_a_drawing_smaller(size):
    """Their figures are longer: 4 9/16 takes more room beside a view than 116."""
    solid = block((0, 0, 0), size).minus(block((9, -1, 9), (size[0] - 9, 11, size[2] - 3.3)))
    assert scale_of(sheet(solid, INCH_32, "third")) == scale_of(sheet(solid, MM_TENTH, "first"))


@pytest.mark.parametrize("seed", range(25))
def test_scales_of_both_editions_are_the_same_or_neighbours(seed):
    one, two = (scale_of(sheet(stepped(seed), *how)) for how in ((INCH_32, "third"), (MM_TENTH, "first")))
    assert abs(one - two) <= 1


@pytest.mark.parametrize("angle", ["first", "third"])
@pytest.mark.parametrize("style", [MM_TENTH, INCH_32], ids=["mm", "in"])
@pytest.mark.parametrize("seed", range(8))
def test_nothing_leaves_the_sheet_and_no_figures_overlap(seed, style, angle):
    picture = sheet(stepped(seed), style, angle)
    assert picture.height <= HIGH
    boxes = []
    for mark in picture.marks:
        left, top, right, bottom = mark_box(mark)
        assert left >= -0.01
        assert top >= -0.01
        assert right <= WIDE + 0.01
        assert bottom <= picture.height + 0.01
        if isinstance(mark, Words):
            boxes.append((left, top, right, bottom))
    for number, (left, top, right, bottom) in enumerate(boxes):
        for other in boxes[number + 1 :]:
            apart = right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top
            near = min(right, other[2]) - max(left, other[0]), min(bottom, other[3]) - max(top, other[1])
            assert apart or min(near) < 0.35, "figures overlap"


def runner():
    """A plate under an arch of R 94 with a groove of round ends between R 75 and R 85."""
    plate = box(0, 0, 200, 60).plus(circle((100, 60), 94).meet(box(0, 60, 200, 160)))
    return prism(plate.minus(arc_band((100, 60), 75, 85, 6, 174, round_ends=True)), FRONT, -8.0, 0.0)


def lying():
    """A rail with a hollow below whose middle lies far beyond it, and a blind hole in its end."""
    rail = block((0, 0, 0), (357, 18, 76)).minus(cylinder(FRONT, (178.5, -379.2), 398.3, -20.0, 10.0))
    return rail.minus(cylinder(FACE_FRAMES["left"], (-9.0, 60.0), 3.0, -30.0, 10.0))


def lines_of(picture, axis):
    """Where lines drawn begin, end or turn, along one axis of the paper, and the highest and lowest points of arcs."""
    layers = ("edge", "hidden", "centre")
    return [point[axis] for layer in layers for mark in picture.of_layer(layer) for point in mark.points]


@pytest.mark.parametrize("angle", ["first", "third"])
@pytest.mark.parametrize(
    "make", [runner, arch_sawn_off, lying, lambda: stepped(3)], ids=["runner", "core", "rail", "block"]
)
def test_every_figure_points_at_a_line(make, angle):
    """ISO 128-2: centre lines are drawn for the middles of arcs and holes; ISO 129-1: a dimension refers to a line."""
    picture = sheet(make(), angle=angle)
    assert len(picture.of_layer("measure line")) > 6
    for mark in picture.of_layer("measure line"):
        axis = 0 if mark.points[0][0] == mark.points[1][0] else 1
        assert min(abs(at - mark.points[0][axis]) for at in lines_of(picture, axis)) < 0.1, "it points at nothing"


def test_a_curved_piece_can_be_made_again_from_its_figures():
    """The arch with its groove, drawn anew from the figures and radii that are printed and nothing else."""
    picture = sheet(runner())
    told = {side: [float(text) for text in texts] for side, texts in figures(picture).items()}
    (said,) = [m.text for m in picture.of_layer("words") if isinstance(m, Words) and "R " in m.text]
    ends, inner, outer, arch = [float(note.split("R ")[1]) for note in said.split("  ·  ")]
    assert told["below"] == [0, told["below"][1], told["below"][2], 100, told["below"][4], told["below"][5], 200]
    left, right = told["below"][2], told["below"][4]
    high, base = max(told["beside"]), 60.0
    rise = next(z for z in told["beside"] if base < z < high)
    middle = (100.0, base)
    plate = box(0, 0, 200, base).plus(circle(middle, arch).meet(box(0, base, 200, high + 1)))
    angle = math.degrees(math.atan2(rise - base, right - 100))
    groove = arc_band(middle, inner, outer, angle, 180 - angle).plus(
        circle((left, rise), ends), circle((right, rise), ends)
    )
    built = prism(plate.minus(groove), FRONT, -8.0, 0.0)
    assert built.volume == pytest.approx(runner().volume, rel=1e-3)
    assert built.minus(runner()).volume < 1e-3 * built.volume
    assert "2 × R" in said


@pytest.mark.parametrize("extra", [0.0, 1.0])
def test_scales_are_those_of_iso_5455(extra):
    """ISO 5455:1979: 5:1, 2:1, 1:1, 1:2, 1:5, 1:10, 1:20, 1:50, 1:100 (1:4 and 1:2.5 are not among them)."""
    assert [scale_text(scale) for scale in SCALES] == [
        "5:1",
        "2:1",
        "1:1",
        "1:2",
        "1:5",
        "1:10",
        "1:20",
        "1:50",
        "1:100",
    ]


def test_nothing_gives_an_empty_sheet():
    assert sheet(nothing()).marks == ()


def test_a_thin_piece_and_a_huge_one_are_drawn():
    for solid in (block((0, 0, 0), (100, 0.2, 60)), block((0, 0, 0), (30_000, 400, 25))):
        assert sheet(solid).of_layer("edge")


@settings(max_examples=200, deadline=None)
@given(st.lists(st.floats(0, 150), max_size=30).map(sorted))
def test_figures_are_spread_in_order_and_moved_as_little_as_need_be(places):
    found = spread(places, STEP)
    assert len(found) == len(places)
    assert all(b - a >= STEP - 1e-9 for a, b in itertools.pairwise(found))
    if all(b - a >= STEP for a, b in itertools.pairwise(places)):
        assert found == pytest.approx(places)
    if places:
        assert math.isclose(sum(found), sum(places), abs_tol=1e-6)


@pytest.mark.parametrize("angle", ["first", "third"])
def test_figures_of_two_views_stand_apart(angle):
    """A thin board with many places along its thickness: its figures are longer than the view is high."""
    thin = block((0, 0, 0), (300, 60, 18))
    for k, z in enumerate((2.0, 5.0, 8.0, 11.0)):
        thin = thin.minus(block((20 + 60 * k, -1, z), (50 + 60 * k, 10 + 3 * k, 19)))
    picture = sheet(thin, angle=angle)
    rows = sorted(w.at[1] for w in picture.of_layer("measure") if isinstance(w, Words) and not w.angle)
    tall, deep = (len(places) for places in (measured(thin).places[2], measured(thin).places[1]))
    gaps = [two - one for one, two in itertools.pairwise(rows)]
    parted = (tall if angle == "first" else deep) - 1
    assert len(rows) == tall + deep
    assert gaps[parted] > 1.5 * STEP
    assert gaps[parted] > gaps[parted - 1] or gaps[parted - 1] > 1.5 * STEP


def test_the_figure_at_the_upper_edge_stands_level_with_its_place():
    picture = sheet(block((0, 0, 0), (100, 20, 50)))
    lines = [mark.points for mark in picture.of_layer("measure line")]
    top = min(lines, key=lambda points: points[0][1])
    assert len({round(y, 6) for _, y in top}) == 1


def test_a_piece_of_many_places_is_drawn_larger_rather_than_told_in_part():
    comb = block((0, 0, 0), (200, 80, 154))
    for k in range(10):
        comb = comb.minus(block((8 + 18 * k, -1, 40 + 9 * k), (16 + 18 * k, 81, 200)))
    picture = sheet(comb)
    assert HIGH < picture.height <= TALLER * HIGH
    assert not any("more places" in m.text for m in picture.of_layer("words") if isinstance(m, Words))
    printed = {float(text) for text in figures(picture)["below"]}
    assert printed == {round(place, 1) for place in measured(comb).places[0]}
    assert len(printed) > 16


def test_edges_too_near_to_be_told_apart_are_not_both_thick():
    """A rounding of 1.5 mm at 1:5 lies 0.3 mm from the edge of the board; ISO 128-2 wants 0.7 mm between thick lines."""
    board = block((0, 0, 0), (570, 150, 18)).minus(block((-1, -1, 16.5), (571, 1.5, 19)))
    picture = sheet(board, angle="third")
    assert "Scale 1:5" in {m.text for m in picture.of_layer("words") if isinstance(m, Words)}
    thick, fine = set(), set()
    for mark in picture.of_layer("edge"):
        for one, two in itertools.pairwise((*mark.points, mark.points[0]) if mark.closed else mark.points):
            if abs(one[1] - two[1]) < 0.01 and abs(one[0] - two[0]) > 100:
                (thick if mark.pen.width >= 0.35 else fine).add(round(one[1], 2))
    assert len(thick) == 4
    assert len(fine) == 2
    assert all(two - one > 0.7 for one, two in itertools.pairwise(sorted(thick)))


def test_figures_are_no_single_tenth_apart():
    """Steps at 30.05 and 30.24 mm would be told as 30.05 and 30.2."""
    solid = block((0, 0, 0), (30.05, 20, 50)).plus(block((0, 0, 0), (30.24, 20, 30)), block((0, 0, 0), (80, 20, 10)))
    told = figures(sheet(solid))["below"]
    assert told == ["0", "30.05", "80"]
