"""Boards that are thicker or thinner than drawn keep touching their neighbours."""

import pytest

from planbook.workshop.varying import thickened


def test_boards_that_touch_are_pushed_along_when_they_are_thicker() -> None:
    stack = [((0.0, y, 0.0), (100.0, y + 20.0, 50.0)) for y in (0.0, 20.0, 40.0)]
    for by in (0.1, -0.1):
        thick = thickened(stack, by)
        assert [hi[1] - lo[1] for lo, hi in thick] == pytest.approx([20 + by] * 3)
        assert [a[1][1] for a in thick[:-1]] == [b[0][1] for b in thick[1:]]
        assert thick[0][0][1] + thick[-1][1][1] == pytest.approx(60)


def test_a_board_between_two_others_is_not_squeezed() -> None:
    """Two sides and a shelf between them, which stands on a step of its own."""
    left, shelf, right = (
        ((0.0, 0.0, 0.0), (18.0, 200.0, 300.0)),
        ((18.0, 0.0, 100.0), (282.0, 200.0, 118.0)),
        ((282.0, 0.0, 0.0), (300.0, 200.0, 300.0)),
    )
    thick = thickened([left, shelf, right], 0.2)
    assert thick[0][1][0] == thick[1][0][0]
    assert thick[1][1][0] == thick[2][0][0]
    assert thick[1][1][0] - thick[1][0][0] == pytest.approx(264)
    assert thick[1][1][2] - thick[1][0][2] == pytest.approx(18.2)
