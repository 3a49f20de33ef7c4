"""The marks that a sheet is measured by, in both units, whatever the paper."""

from dataclasses import replace

import pytest

from planbook.drawing.marks import Mark, Stroke, Words
from planbook.drawing.sheet_check import BARS_WIDTH, check_bars, check_square, instruction, key
from planbook.drawing.sheet_upright import upright_bars
from planbook.drawing.stencil_pens import FRAME, TICK, TRIM
from planbook.drawing.stencil_words import StencilWords
from planbook.solids.plane import box
from planbook.speech import LANGUAGES, speaking


def lengths(marks: tuple[Mark, ...]) -> list[float]:
    found = [mark for mark in marks if isinstance(mark, Stroke) and mark.pen.width > 0.15]
    return [mark.points[1][0] - mark.points[0][0] for mark in found]


def test_bars_are_100_mm_and_4_in() -> None:
    """4 in = 101.6 mm exactly."""
    marks = check_bars((13.7, 250.2))
    assert lengths(marks) == pytest.approx([100.0, 101.6], abs=1e-9)
    said = [mark.text for mark in marks if isinstance(mark, Words)]
    assert "100 mm" in said
    assert "4 in" in said


def test_bars_have_every_millimetre_and_eighth() -> None:
    ticks = [m.points[0][0] for m in check_bars((0, 0)) if isinstance(m, Stroke) and m.pen.width < 0.15]
    assert ticks[:101] == pytest.approx(list(range(101)))
    assert ticks[101:] == pytest.approx([i * 3.175 for i in range(33)])


def test_squares_are_50_mm_and_2_in() -> None:
    squares = [m for m in check_square((5, 7), StencilWords()) if isinstance(m, Stroke)]
    for square, side in zip(squares, (50.0, 50.8), strict=True):
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = square.points
        assert (bx - ax, by - ay, cx - bx, cy - by, dx - cx, dy - cy) == pytest.approx((side, 0, 0, -side, -side, 0))


def test_the_key_explains_what_is_there_and_keeps_its_width() -> None:
    marks = key((0, 0), (60.0, 18.0), ("cut", "waste", "hole", "words"), StencilWords())
    said = [mark.text for mark in marks if isinstance(mark, Words)]
    assert said == ["saw this line", "waste", "drill here"]
    assert {mark.layer for mark in marks} == {"words"}
    assert not key((0, 0), (10.0, 18.0), ("cut",), StencilWords())


def test_the_key_tells_cuts_on_the_line_and_lines_between_papers() -> None:
    marks = key((0, 0), (60.0, 18.0), ("cut", "kerf", "apart", "crop"), StencilWords())
    assert [mark.text for mark in marks if isinstance(mark, Words)] == [
        "saw this line",
        "saw cut lies on the line",
        "cut the papers apart",
        "the paper ends here",
    ]
    assert FRAME in [mark.pen for mark in marks if isinstance(mark, Stroke)]
    assert TICK not in [mark.pen for mark in marks if isinstance(mark, Stroke)]


def test_rows_of_the_key_stand_closer_rather_than_leave_one_out() -> None:
    every = ("cut", "sand to", "kerf side", "waste", "hole", "entry", "edge", "guide")
    wide = [m for m in key((0, 0), (200.0, 18.2), every, StencilWords()) if isinstance(m, Words)]
    narrow = [m for m in key((0, 0), (68.0, 18.2), every, StencilWords()) if isinstance(m, Words)]
    assert len(wide) == len(narrow) == 8
    assert max(m.at[1] for m in narrow) <= 18.2
    assert len({m.at[0] for m in narrow}) == 2
    five = [m for m in key((0, 0), (40.0, 18.2), every[:5], StencilWords()) if isinstance(m, Words)]
    assert len(five) == 5
    assert len({m.at[0] for m in five}) == 1
    # A cropped tile beside its map: six entries in one column, at a line to 7 points of text and 1.5 between.
    six = [m for m in key((0, 0), (57.4, 18.2), (*every[:5], "crop"), StencilWords()) if isinstance(m, Words)]
    assert len(six) == 6
    assert six[1].at[1] - six[0].at[1] >= 8.5 * 25.4 / 72


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_border_of_a_tile_is_told_where_a_cropped_one_has_little_room(language: str) -> None:
    """One line more than there is room for: the line to saw is seen in the sign of the side its cut falls on."""
    layers = ("cut", "kerf side", "waste", "hole", "edge", "crop", "tile")
    with speaking(language):
        words = StencilWords.spoken()
    said = [m.text for m in key((0, 0), (57.4, 18.2), layers, words) if isinstance(m, Words)]
    assert {words.key_side, words.key_crop, words.key_tile} <= {*said}
    assert len(said) >= 6


def test_where_the_paper_ends_looks_different_from_where_a_tile_is_cut() -> None:
    """A break line, with zigzags (ISO 128-2, type 01.1), and a chain line."""
    (crop,) = [m for m in key((0, 0), (60.0, 18.0), ("crop",), StencilWords()) if isinstance(m, Stroke)]
    assert not crop.pen.dashes
    assert TRIM.dashes
    assert len({y for _, y in crop.points}) > 2


@pytest.mark.parametrize("at", [(0.0, 0.0), (112.4, 251.3), (3.3, 5.5)])
def test_the_sample_of_hatching_is_the_same_wherever_it_stands(at: tuple[float, float]) -> None:
    def lines(where: tuple[float, float]) -> list[tuple[tuple[float, float], ...]]:
        marks = [m for m in key(where, (60.0, 18.0), ("waste",), StencilWords()) if isinstance(m, Stroke)]
        return [tuple((round(x - where[0], 6), round(y - where[1], 6)) for x, y in mark.points) for mark in marks]

    assert len(lines(at)) == 4
    assert lines(at) == lines((20.0, 20.0))


def test_a_page_names_the_bars_and_squares_that_are_on_it() -> None:
    words = StencilWords()
    tall = box(0, 0, 20, 150)
    for drawn, said in (
        ((), words.measure),
        (upright_bars((tall,), (20, 150)), words.measure_upright),
        (check_square((0, 0), words), words.measure_squares),
    ):
        (line,) = instruction((8, 250), 102.0, drawn, words)
        assert line.text == f"{words.check} {said}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_to_measure_is_told_whole_in_every_language(language: str) -> None:
    with speaking(language):
        words = StencilWords.spoken()
    corrected = replace(words, check=words.corrected.format(across="100.6", along="99.85"))
    for each in (words, corrected):
        for drawn in ((), upright_bars((box(0, 0, 20, 150),), (20, 150)), check_square((0, 0), words)):
            (line,) = instruction((8, 250), BARS_WIDTH, drawn, each)
            assert not line.text.endswith("…")
