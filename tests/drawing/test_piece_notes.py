"""Notes and letters on a measured sheet: what they tell of holes and roundings, and where they stand."""

import math
from fractions import Fraction

import pytest
from shapely.geometry import LineString, Polygon

from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Words
from planbook.drawing.measured import measured
from planbook.drawing.paper import Paper
from planbook.drawing.piece_notes import NOTE, SheetWords, lettered, noted, rounds_told
from planbook.drawing.piece_views import View
from planbook.drawing.rounded import Rounded
from planbook.drawing.stencil_figure import mark_box
from planbook.solids.plane import arc_band, box, circle
from planbook.solids.solid import block, cylinder, prism
from planbook.solids.turned import cone
from planbook.units import INCH_32, MM_TENTH, bored_alike

from .conftest import FRONT, TOP, figures, sheet


def test_letters_stay_on_the_paper_and_off_the_edges():
    """A hole in a view that is hardly higher than the letter, at the top of the paper."""
    bored = block((0, 0, 0), (575, 18, 90)).minus(cylinder(TOP, (47, 9), 1.6, 60, 91))
    picture = sheet(bored, INCH_32, "third")
    (letter,) = [mark for mark in picture.of_layer("letter") if isinstance(mark, Words)]
    left, top, right, bottom = mark_box(letter)
    assert min(left, top) > 0
    assert right < picture.width
    assert bottom < picture.height
    ground = Polygon([(left, top), (right, top), (right, bottom), (left, bottom)])
    assert not any(LineString(mark.points).intersects(ground) for mark in picture.of_layer("edge"))


def test_holes_and_radii_are_told_with_their_number():
    board = prism(box(0, 0, 120, 80, 9), FRONT, -20.0, 0.0)
    for u in (20, 100):
        board = board.minus(cylinder(FRONT, (u, 40), 3.0, -30.0, 10.0))
    board = board.minus(cylinder(TOP, (60, 10), 4.0, 70.0, 100.0))
    picture = sheet(board)
    said = " ".join(m.text for m in picture.of_layer("words") if isinstance(m, Words))
    assert "4 × R 9" in said
    assert "2 × Ø 6, through" in said
    assert "Ø 8, 10 deep" in said
    assert {"20", "60", "100", "120"} <= set(figures(picture)["below"])
    crosses, from_the_side, upon_another = 2 * 3, 2 * 3, 1
    assert len(picture.of_layer("centre")) == crosses + from_the_side - upon_another
    assert len({m.text for m in picture.of_layer("letter") if isinstance(m, Words)}) == 3


def test_a_countersunk_hole_is_one_hole_with_two_diameters():
    board = block((0, 0, 0), (120, 18, 60)).minus(cylinder(FRONT, (40, 30), 3.0, -30.0, 10.0))
    board = board.minus(cone(FRONT, (40, 30), (-3.0, 3.0), (0.0, 6.0)))
    facts = measured(board)
    (hole,) = facts.rounds
    assert hole.sunk == pytest.approx(12.0, abs=0.05)
    assert facts.places[0] == (0.0, 40.0, 120.0)
    assert facts.places[2] == (0.0, 30.0, 60.0)
    assert not facts.freeform
    said = " ".join(m.text for m in sheet(board).of_layer("words") if isinstance(m, Words))
    assert "Ø 6, through, countersunk to Ø 12" in said


@pytest.mark.parametrize("angle", ["first", "third"])
def test_the_letter_of_a_round_at_the_upper_edge_is_not_cut_off(angle):
    arch = prism(circle((0, 0), 94).meet(box(0, 60, 200, 120, 0)), FRONT, -12.0, 0.0)
    picture = sheet(arch, angle=angle)
    (ground,) = (Polygon(m.rings[0]).bounds for m in picture.of_layer("ground"))
    assert min(ground[:2]) >= 0
    assert ground[2] <= picture.width
    assert ground[3] <= picture.height


def test_the_ground_of_a_letter_breaks_no_line_of_a_thin_arch():
    arch = prism(circle((0, 0), 80).minus(circle((0, 0), 73)).meet(box(0, 0, 90, 90, 0)), FRONT, -60.0, 0.0)
    picture = sheet(arch)
    grounds = [Polygon(m.rings[0]) for m in picture.of_layer("ground")]
    edges = [LineString(m.points) for m in picture.of_layer("edge")]
    assert len(grounds) == 2
    assert not any(ground.intersects(edge) for ground in grounds for edge in edges)


def test_a_counterbored_hole_is_one_note_with_its_whole_depth():
    board = block((0, 0, 0), (120, 60, 18)).minus(cylinder(TOP, (40, 30), 2.5, -1, 19))
    through = board.minus(cylinder(TOP, (40, 30), 6.0, 10, 19))
    said = " ".join(m.text for m in sheet(through).of_layer("words") if isinstance(m, Words))
    assert "A: Ø 5, through, counterbored to Ø 12, 8 deep" in said
    assert "B:" not in said
    blind = block((0, 0, 0), (120, 60, 18)).minus(
        cylinder(TOP, (40, 30), 2.5, 6, 19), cylinder(TOP, (40, 30), 6.0, 14, 19)
    )
    said = " ".join(m.text for m in sheet(blind).of_layer("words") if isinstance(m, Words))
    assert "A: Ø 5, 12 deep, counterbored to Ø 12, 4 deep" in said


def test_two_holes_that_only_share_a_middle_keep_their_own_notes():
    """A blind hole from below and a wider one from above with wood between them."""
    board = block((0, 0, 0), (120, 60, 18)).minus(
        cylinder(TOP, (40, 30), 2.5, -1, 6), cylinder(TOP, (40, 30), 6.0, 14, 19)
    )
    said = " ".join(m.text for m in sheet(board).of_layer("words") if isinstance(m, Words))
    assert "Ø 5, 6 deep" in said
    assert "Ø 12, 4 deep" in said
    assert "counterbored" not in said


def test_a_piece_without_a_stencil_is_not_said_to_follow_one() -> None:
    words = SheetWords()
    assert "stencil" in words.freeform
    assert "stencil" in words.by_stencil
    bare = words.without_stencil()
    assert not [text for text in (bare.freeform, bare.by_stencil) if "stencil" in text]
    assert bare.by_stencil.format(sides="the width")


def test_a_note_wider_than_the_sheet_is_broken_between_words():
    notes = ["A: R 9", "Curves and roundings without a radius follow the stencil and the steps."]
    x, rows = noted(notes, 60.0, 30.0)
    assert (x, rows[:2]) == (0.0, ["", "A: R 9"])
    assert " ".join(rows[2:]) == notes[1]
    assert len(rows) > 3
    assert all(width_of(row, NOTE) <= 60.0 for row in rows)
    assert noted(notes, 160.0, 30.0) == (30.0, ["  ·  ".join(notes)])


def test_rows_of_notes_begin_under_one_another():
    """Beside the scale on a wide sheet, below it on a slim one, of which the scale takes too much."""
    notes = ["A: R 9", "Curves and roundings without a radius follow the stencil and the steps.", "B: R 12"]
    assert noted(notes[:1], 60.0, 30.0) == (30.0, ["A: R 9"])
    x, rows = noted(notes, 110.0, 30.0)
    assert x == 30.0
    assert len(rows) > 1
    assert all(width_of(row, NOTE) <= 80.0 for row in rows)


def test_a_note_is_not_broken_between_a_sign_and_its_figure():
    note = "A: 4 × Ø 4.5, through, counterbored to Ø 10, 6 deep"
    for width in range(12, 60):
        _, rows = noted([note], float(width), 0.0)
        assert " ".join(filter(None, rows)) == note
        assert not any(row.endswith(("Ø", "×")) or row.startswith("×") for row in rows)


def notes(solid):
    return rounds_told(measured(solid), MM_TENTH, SheetWords(), "first")[0]


def test_a_radius_about_a_point_beside_the_piece_tells_where_that_is():
    """A strip bent about (0, 0) from 40 to 120 degrees: its lower left corner is at (60 cos 120, 50 sin 40) mm."""
    strip = prism(arc_band((0, 0), 50, 60, 40, 120), FRONT, 0, 30)
    middle = f"middle 30 right and {50 * math.sin(math.radians(40)):.1f} down from 0"
    assert notes(strip) == ["A: R 50", "B: R 60", f"A, B: {middle}"]


def test_a_rounded_corner_tells_its_radius_alone():
    assert notes(prism(box(0, 0, 80, 40, 9), FRONT, 0, 10)) == ["A: 4 × R 9"]


def test_a_letter_stands_by_that_of_several_arcs_to_which_nothing_else_is_as_near():
    """A 6 mm arc hemmed in by lines 1.8 mm off every place for its letter, and one alike with bare paper around it."""
    view = View("front", 0, 2, False, Paper(1.0, 0.0, 0.0), (0.0, 100.0), (100.0, 0.0))
    hemmed, bare = (
        Rounded(1, (middle, 50.0), 6.0, (0.0, 10.0), True, False, True, True, (middle + 6.0, 50.0))
        for middle in (20.0, 60.0)
    )
    turns = [math.radians(each) for each in range(-90, 91, 2)]
    arcs = [tuple((x + 6.0 * math.cos(t), 50.0 + 6.0 * math.sin(t)) for t in turns) for x in (20.0, 60.0)]
    fence = [((x, 40.0), (x, 60.0)) for x in (21.9, 30.2)] + [((20.0, y), (31.0, y)) for y in (43.4, 56.6)]
    for alike, at in (([hemmed, bare], (68.4, 50.0)), ([hemmed], (28.4, 50.0))):
        (letter,) = (m for m in lettered({"A": alike}, (100, 10, 100), [view], [*arcs, *fence]) if isinstance(m, Words))
        assert (letter.at[0], letter.at[1] - 0.36 * letter.size) == pytest.approx(at)


def test_a_hole_into_a_groove_goes_through_and_one_into_wood_does_not():
    """From above into a groove of 8 mm in the underside, 12 mm of wood below it; a blind one beside it."""
    board = block((0, 0, 0), (100, 60, 20)).minus(block((20, -1, -1), (40, 61, 8)))
    into = board.minus(cylinder(TOP, (30, 30), 2.0, 5.0, 21.0))
    blind = board.minus(cylinder(TOP, (70, 30), 2.0, 8.0, 21.0))
    beside = board.minus(cylinder(TOP, (40, 30), 2.0, 7.0, 21.0))
    told = [rounds_told(measured(each), MM_TENTH, SheetWords(), "first")[0][0] for each in (into, blind, beside)]
    assert told[:2] == ["A: Ø 4, through", "A: Ø 4, 12 deep"]
    assert "through" not in told[2]


def test_a_hole_with_a_step_of_its_own_is_told_with_it():
    board = block((0, 0, 0), (100, 60, 20))
    for x in (30, 50, 70):
        board = board.minus(cylinder(TOP, (x, 30), 2.0, 8.0, 21.0))
    steps = {(2, (30.04, 30.0)): 7, (2, (70.0, 30.0)): 7, (1, (50.0, 30.0)): 7}
    told, _ = rounds_told(measured(board), MM_TENTH, SheetWords(), "first", steps)
    assert told == ["A: 2 × Ø 4, 12 deep, bored in step 7", "B: Ø 4, 12 deep"]


def test_the_end_of_a_slot_is_told_as_the_bit_that_leaves_it():
    """By hand: 5 mm is 12.6/64 in, and twice 13/64 in is more than the 25/64 in by which a bit of 10 mm is known."""
    slot = block((0, 0, 0), (120, 20, 60)).minus(prism(box(30, 20, 60, 10, 5), FRONT, -30.0, 10.0))
    told = [
        rounds_told(measured(slot), style, SheetWords(), "third")[0]
        for style in (INCH_32, bored_alike(INCH_32, [Fraction(10)]), bored_alike(MM_TENTH, [Fraction(10)]))
    ]
    assert [each.replace("\u00a0", " ") for (each,) in told] == [
        "A: 2 × R 3/16",
        "A: 2 × R 5 mm (≈ 13/64 in)",
        "A: 2 × R 5",
    ]
