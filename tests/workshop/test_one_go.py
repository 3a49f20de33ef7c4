"""What is glued to one piece in one step: clamps and glue are waited for once, from the last joint on."""

import pytest

from .conftest import MILL, Run, block, clean, running
from .test_gluing import BOARDS, TWO_CUTS, sawn_twice, shim

run = running(BOARDS + TWO_CUTS)
DRY = block("wait", 'dry = ["maple"]')


def times(run: Run, *blocks: str) -> list[tuple[float, float, float]]:
    """Start, work and wait of the events after both strips are sliced; the first starts at 0."""
    events = clean(run(*sawn_twice(), *blocks))[6:]
    return [(event.start - events[0].start, event.hands_on, event.wait) for event in events]


def test_clamps_of_a_step_are_waited_for_together(run: Run) -> None:
    first, second, rest = times(run, shim("left") + shim("right") + DRY)
    assert (first[1], second[1]) == (first[1], first[1])
    assert (first[2], second[0]) == (0, first[1])
    # PVA: 60 minutes in the clamp, a day to cure, from the end of the work on the second one.
    assert (second[2], rest[2]) == pytest.approx((60, 1440 - 60))
    assert rest[0] == pytest.approx(second[0] + second[1] + 60)


def test_the_longest_clamp_is_waited_for(run: Run) -> None:
    long = shim("left").replace("glue = ", 'clamp = "3 h"\nglue = ')
    first, second = times(run, long + shim("right"))
    assert (first[2], second[2]) == pytest.approx((0, 180 - second[1]))


def test_another_step_waits_for_the_clamps(run: Run) -> None:
    first, _, second, _ = times(run, shim("left"), DRY, shim("right"), DRY)
    assert (first[2], second[2]) == pytest.approx((60, 60))


def test_clamps_hold_while_something_else_is_glued_in_the_same_step(run: Run) -> None:
    slices = [("maple", "a", "r"), ("r", "b", "s"), ("s", "c", "d")]
    cuts = [
        f'piece = "{piece}"\nface = "back"\nthickness = "3 mm"\nblade = "saw"\nmakes = {{ {layer} = "layer", {rest} = "rest" }}'
        for piece, layer, rest in slices
    ]
    glue = [f'pieces = ["{x}", "{y}"]\nalong = "y"\nglue = "glue"\nmakes = "{x}{y}"' for x, y in ("ba", "dc")]
    first, second = clean(run(MILL, *(block("slice", cut) for cut in cuts), "".join(block("glue", g) for g in glue)))[
        -2:
    ]
    assert first.wait == 0
    assert second.start == pytest.approx(first.start + first.hands_on)
    assert second.wait == pytest.approx(60)
