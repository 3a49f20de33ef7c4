"""Words of a hole stand near it: level, in two lines or upright, rather than at the end of a long leader."""

import math

from planbook.drawing.marks import Stroke, Words
from planbook.drawing.stencil_art import ArtHole, ArtRegion, StencilArt, laid
from planbook.drawing.stencil_figure import Figure, draw_figure
from planbook.drawing.stencil_words import StencilWords
from planbook.solids import Area
from planbook.solids.plane import box
from planbook.units import INCH_32, MM_TENTH, LengthStyle

HOLE = (60.0, -30.0)
"""On paper, where lengths count downwards."""
FAR = box(20, -115, 80, 25)
"""Level room 60 mm from the hole."""


def drawn(room: Area, style: LengthStyle = MM_TENTH, waste: tuple[ArtRegion, ...] = ()) -> Figure:
    holes = (ArtHole("eye", (60.0, 30.0), 4.0, None),)
    art = StencilArt(1, 1, "Tern", "top", ("panel",), box(0, 0, 120, 120), (), holes, waste, None)
    return draw_figure(laid(art), StencilWords(), style, room=room, beside=False)


def hole_words(figure: Figure) -> list[Words]:
    return [mark for mark in figure.marks if isinstance(mark, Words) and ("Ø" in mark.text or "through" in mark.text)]


def longest(figure: Figure) -> float:
    lines = [m.points for m in figure.marks if isinstance(m, Stroke) and m.layer == "words" and len(m.points) == 2]
    return max((math.dist(*points) for points in lines if math.dist(points[0], HOLE) < 3), default=0.0)


def test_words_stand_upright_in_a_narrow_strip_near_their_hole() -> None:
    figure = drawn(FAR.plus(box(66, -55, 6, 40)))
    (words,) = hole_words(figure)
    assert words.angle == -90.0
    assert longest(figure) < 12
    assert longest(drawn(FAR)) > 40


def test_words_are_not_turned_to_stand_on_waste() -> None:
    figure = drawn(FAR.plus(box(66, -55, 6, 40)), waste=(ArtRegion("offcut", box(64, 0, 20, 60), True),))
    assert {words.angle for words in hole_words(figure)} == {0.0}


def test_words_stand_in_two_lines_where_there_is_room_for_half_of_them() -> None:
    figure = drawn(FAR.plus(box(68, -35, 13, 9)))
    assert [words.text for words in hole_words(figure)] == ["Ø 4 mm,", "through"]
    assert {words.angle for words in hole_words(figure)} == {0.0}
    assert longest(figure) < 12


def test_a_second_unit_in_brackets_is_not_broken() -> None:
    figure = drawn(FAR.plus(box(68, -35, 24, 9)), INCH_32)
    lines = [words.text for words in hole_words(figure)]
    assert " ".join(lines) == "Ø 4 mm (≈\u00a05/32\u00a0in), through"
    assert len(lines) == 2
    assert all(line.count("(") == line.count(")") for line in lines)


def test_words_that_have_room_on_one_line_stay_on_it() -> None:
    (words,) = hole_words(drawn(box(0, -120, 120, 120)))
    assert (words.text, words.angle) == ("Ø 4 mm, through", 0.0)
