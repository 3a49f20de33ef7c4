"""Pieces that are copied from a template or a line of a stencil."""

import math

import pytest

from .conftest import JOINTS, MILL_ALL, Run, block, disc, made, running, worked

run = running(JOINTS, MILL_ALL)


def test_a_template_is_copied_as_it_lies_or_aligned(run: Run) -> None:
    body = 'piece = "rail"\ntemplate = "pattern"\nface = "front"\ntool = "bit"'
    (event,) = worked(run(block("template copy", body)))
    assert made(event) == {"rail": pytest.approx(90 * 50 * 20)}
    assert event.made[0].solid.bounds[0] == pytest.approx((5, 0, 5))
    (aligned,) = worked(run(block("template copy", body + '\norigin = "lower right"')))
    assert aligned.made[0].solid.bounds[0] == pytest.approx((10, 0, 0))


def test_a_template_turned_over_makes_the_twin(run: Run) -> None:
    bevel = block("mitre", 'piece = "pattern"\nend = "right"\nlong = "bottom"\nangle = "30 deg"\nblade = "saw"')
    copy = 'piece = "rail"\ntemplate = "pattern"\nface = "front"\ntool = "bit"\nturned_over = true'
    event = worked(run(bevel, block("template copy", copy)))[1]
    slope = 50 * math.tan(math.radians(30))
    assert made(event)["rail"] == pytest.approx((90 * 50 - 50 * slope / 2) * 20)
    assert event.made[0].solid.hits((-10, 10, 54.9), (200, 10, 54.9))[0] == pytest.approx(15 + slope, abs=0.1)


LINE = 'piece = "rail"\nstencil = "round"\nline = "disc"\ntool = "bit"'


def test_a_pattern_can_come_from_a_line_of_a_stencil(run: Run) -> None:
    stick = block("stick", 'piece = "rail"\nstencil = "round"')
    event = worked(run(stick, block("template copy", LINE)))[1]
    assert made(event)["rail"] == pytest.approx(disc(20) * 20, rel=1e-6)
    assert event.show is not None
    assert event.show.face == "front"


@pytest.mark.parametrize(
    ("body", "trouble"),
    [
        (LINE.replace('line = "disc"\n', ""), "missing-field"),
        (LINE.replace('"disc"', '"way"'), "line-not-closed"),
        (LINE.replace('"disc"', '"disk"'), "line-unknown"),
        (LINE + "\nturned_over = true", "one-of-two"),
        (LINE + '\ntemplate = "pattern"', "one-of-two"),
        ('piece = "rail"\ntemplate = "pattern"\ntool = "bit"', "missing-field"),
        ('piece = "rail"\ntool = "bit"', "one-of-two"),
    ],
)
def test_a_pattern_that_cannot_be_made_out_is_a_trouble(run: Run, body: str, trouble: str) -> None:
    stick = block("stick", 'piece = "rail"\nstencil = "round"')
    assert [t.kind for t in run(stick, block("template copy", body)).troubles] == [trouble]
