"""Names of lines stand beside their lines, parallel to them, off every line, and once."""

import math

from planbook.drawing.marks import Words
from planbook.drawing.stencil_art import ArtLine, StencilArt, laid
from planbook.drawing.stencil_figure import Figure, draw_figure
from planbook.drawing.stencil_room import words_box
from planbook.drawing.stencil_words import StencilWords
from planbook.solids import Path
from planbook.solids.plane import arc_points, box
from planbook.units import MM_TENTH

SLOPE = Path(((10.0, 20.0), (110.0, 70.0)))
"""Rises by one half: at atan(1/2), to the left of the paper's right as it is seen (Euclid I.47 for its length)."""
LEVEL = Path(((10.0, 10.0), (110.0, 10.0)))


def drawn(*lines: ArtLine, wide: float = 120.0, high: float = 120.0) -> Figure:
    art = StencilArt(1, 1, "Tern", "front", ("panel",), box(0, 0, wide, high), lines)
    return draw_figure(laid(art), StencilWords(), MM_TENTH)


def named(figure: Figure, name: str) -> Words:
    (words,) = [mark for mark in figure.marks if isinstance(mark, Words) and mark.text == name]
    return words


def on_paper(path: Path) -> Path:
    return path.mirrored("v")


def test_a_name_runs_along_its_line_and_close_to_it() -> None:
    figure = drawn(ArtLine("wing edge", SLOPE), ArtLine("tail line", LEVEL))
    words = named(figure, "wing edge")
    assert math.isclose(words.angle, -math.degrees(math.atan(0.5)), abs_tol=0.5)
    assert on_paper(SLOPE).distance_to_edge(words.at) < 6.0
    assert named(figure, "tail line").angle == 0.0


def test_a_name_along_a_steep_line_reads_upwards_however_it_leans() -> None:
    for lean in (-8.0, 0.0, 8.0):
        steep = Path(((60.0 - lean, 10.0), (60.0 + lean, 110.0)))
        words = named(drawn(ArtLine("wing edge", steep), ArtLine("tail line", LEVEL.moved(0, 105.0))), "wing edge")
        assert math.isclose(words.angle, -90.0 + math.degrees(math.atan2(2 * lean, 100.0)), abs_tol=0.5)


def test_names_keep_off_every_line() -> None:
    figure = drawn(ArtLine("wing edge", SLOPE), ArtLine("tail line", LEVEL), ArtLine("mantle", SLOPE.moved(0, 6)))
    for name in ("wing edge", "tail line", "mantle"):
        shape = words_box(named(figure, name))
        assert not any(on_paper(line).inside(shape) for line in (SLOPE, LEVEL, SLOPE.moved(0, 6))), name


def test_a_line_that_is_the_only_one_is_named_too_as_steps_call_it_so() -> None:
    way_in = ArtLine("way in", Path(((60.0, -5.0), (60.0, 10.0))), "entry")
    figure = drawn(ArtLine("outline", LEVEL), way_in)
    assert on_paper(LEVEL).distance_to_edge(named(figure, "outline").at) < 6.0
    assert math.dist(named(figure, "way in").at, (60.0, 5.0)) < 20.0


def test_a_line_with_two_uses_is_named_once() -> None:
    figure = drawn(ArtLine("drawer", LEVEL), ArtLine("drawer", LEVEL, "sand to"), ArtLine("lip", SLOPE))
    assert [mark.text for mark in figure.marks if isinstance(mark, Words)].count("drawer") == 1


def test_a_name_stands_outside_a_tab_and_not_in_it() -> None:
    tab = Path(tuple(arc_points((60.0, 60.0), 8.0, math.radians(-60), math.radians(240))))
    words = named(drawn(ArtLine("throat", tab), ArtLine("tail line", LEVEL)), "throat")
    assert math.dist(words.at, (60.0, -60.0)) > 8.0


def test_a_name_without_room_beside_its_line_is_led_to_it() -> None:
    """Lines 3 mm apart leave no room for letters of 2.6 mm between them; beside the last of each side there is."""
    lines = [ArtLine(f"line {n}", LEVEL.moved(0, 3.0 * n)) for n in range(5)]
    figure = drawn(*lines, high=40.0)
    said = {mark.text for mark in figure.marks if isinstance(mark, Words)}
    assert {f"line {n}" for n in range(5)} <= said
