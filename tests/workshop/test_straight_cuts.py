"""Straight cuts: rips, crosscuts, mitres and bevels, against volumes worked out by hand."""

import math

import pytest

from .conftest import JOINTS, MILL_ALL, Run, block, lost, made, running, worked

run = running(JOINTS, MILL_ALL)


def test_rip_takes_a_kerf_beyond_the_fence(run: Run) -> None:
    (event,) = worked(
        run(block("rip", 'piece = "rail"\nface = "top"\nwidth = "40 mm"\nblade = "saw"\noffcut = "strip"'))
    )
    assert made(event) == {"rail": pytest.approx(100 * 20 * 40), "strip": pytest.approx(100 * 20 * 18)}
    assert lost(event) == pytest.approx(100 * 20 * 2)
    assert event.uses[0].amount == pytest.approx(0.1)


@pytest.mark.parametrize(("guide", "setting"), [("fence", "fence"), ("sled", "stop")])
def test_what_leads_a_rip_is_set_and_measured_from_the_side_that_stays(run: Run, guide: str, setting: str) -> None:
    body = f'piece = "rail"\nface = "top"\nwidth = "40 mm"\nblade = "saw"\nguide = "{guide}"'
    (event,) = worked(run(block("rip", body)))
    assert event.settings[:3] == (("face", "top"), ("measured from", "bottom"), (setting, 40.0))


def test_crosscut_of_a_last_bit_narrower_than_the_kerf(run: Run) -> None:
    (event,) = worked(run(block("crosscut", 'piece = "rail"\nface = "left"\nlength = "99 mm"\nblade = "saw"')))
    assert made(event) == {"rail": pytest.approx(99 * 20 * 60)}
    assert lost(event) == pytest.approx(20 * 60)
    assert event.made[0].solid.bounds[0][0] == pytest.approx(1)


def test_the_wrong_way_of_the_grain_is_doubted_and_done(run: Run) -> None:
    timeline = run(
        block("rip", 'piece = "rail"\nface = "right"\nwidth = "50 mm"\nblade = "saw"'),
        block("crosscut", 'piece = "post"\nface = "right"\nlength = "10 mm"\nblade = "saw"'),
        block(
            "dado",
            'piece = "rail"\nface = "front"\nedge = "top"\nat = "9 mm"\nwidth = "6 mm"\ndepth = "5 mm"\ntool = "bit"',
        ),
    )
    assert [t.kind for t in timeline.troubles] == ["against-the-grain"] * 3
    assert [t.facts["grain"] for t in timeline.troubles] == ["x", "z", "x"]
    assert len(timeline.events) == 4


def test_a_mitre_keeps_its_long_side(run: Run) -> None:
    body = 'piece = "rail"\nend = "right"\nlong = "top"\nangle = "45 deg"\nblade = "saw"\noffcut = "corner"'
    (event,) = worked(run(block("mitre", body)))
    assert made(event)["rail"] == pytest.approx((100 * 60 - 60 * 60 / 2) * 20)
    # The kerf is 2 mm across the cut, 2√2 mm along the bottom: so much less is the side of the corner.
    side = 60 - 2 * math.sqrt(2)
    assert made(event)["corner"] == pytest.approx(side**2 / 2 * 20)
    assert event.made[0].solid.extent[0] == pytest.approx(100)


def test_a_mitre_to_a_length_and_a_bevel(run: Run) -> None:
    mitre = 'piece = "rail"\nend = "left"\nlong = "front"\nangle = "30 deg"\nto = "90 mm"\nblade = "saw"'
    bevel = 'piece = "post"\nedge = "right"\nwide = "back"\nangle = "45 deg"\nblade = "saw"'
    first, second = worked(run(block("mitre", mitre), block("bevel", bevel)))
    short = 90 - 20 * math.tan(math.radians(30))
    assert made(first)["rail"] == pytest.approx((90 + short) / 2 * 20 * 60)
    assert made(second)["post"] == pytest.approx(20 * 20 / 2 * 60)
