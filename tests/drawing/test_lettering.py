"""Widths of words and how names are broken."""

import pytest

from planbook.drawing.lettering import LONGEST, elided, shortened, width_of, wrapped


def test_widths_are_those_of_the_typeface():
    """Source Sans Pro has digits of one width, 497 of 1000 units (its own horizontal metrics)."""
    assert width_of("0000", 10) == pytest.approx(4 * 4.97)
    assert width_of("1", 3.0) == width_of("8", 3.0)
    assert width_of("iii", 3) < width_of("mmm", 3)
    assert width_of("drawer", 3, bold=True) > width_of("drawer", 3)


def test_other_scripts_are_estimated():
    assert width_of("木箱", 2.0) == pytest.approx(4.0)
    assert width_of("a\u0483", 2.0) <= width_of("a", 2.0) + 0.01 or width_of("\u0483", 2.0) >= 0
    assert width_of("", 3) == 0


def test_names_break_between_words():
    assert wrapped("left drawer front", 2.8, 18) == ("left drawer", "front")
    assert wrapped("rim", 2.8, 18) == ("rim",)


@pytest.mark.parametrize(
    "text", ["a very long name that goes on and on", "x" * 39, "木" * 30, "mm mm mm mm mm mm mm mm"]
)
@pytest.mark.parametrize("width", [9.0, 20.0])
def test_no_line_is_too_wide_and_there_are_at_most_three(text, width):
    lines = wrapped(text, 2.8, width)
    assert 1 <= len(lines) <= 3
    assert all(width_of(line, 2.8) <= width for line in lines)


def test_long_names_are_shortened_with_an_ellipsis():
    assert shortened("x" * 90) == "x" * (LONGEST - 1) + "…"
    assert shortened("x" * LONGEST) == "x" * LONGEST
    assert shortened(" left\n\tcheek\x00 ") == "left cheek"
    assert elided("left cheek", 2.8, 8).endswith("…")
    assert elided("left cheek", 2.8, 80) == "left cheek"
