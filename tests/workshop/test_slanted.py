"""Joints that are square to no axis, by hand: mitred sides, and what is no such joint."""

from math import sqrt

import pytest

from planbook.solids import FACE_FRAMES, Area, Solid
from planbook.solids.solid import block, cylinder, prism
from planbook.workshop.mating import contacts
from planbook.workshop.slanted import slants

TOP = FACE_FRAMES["top"]
LONG, SHORT, THICK, HIGH = 300.0, 200.0, 15.0, 60.0


def side(*corners: tuple[float, float]) -> Solid:
    return prism(Area.of(corners), TOP, 0.0, HIGH)


def frame() -> list[Solid]:
    """Four sides, 15 mm thick, mitred at 45 degrees: 300 by 200 mm outside."""
    x, y, t = LONG, SHORT, THICK
    return [
        side((0, 0), (x, 0), (x - t, t), (t, t)),
        side((x, 0), (x, y), (x - t, y - t), (x - t, t)),
        side((x, y), (0, y), (t, y - t), (x - t, y - t)),
        side((0, y), (0, 0), (t, t), (t, y - t)),
    ]


def test_mitres_of_a_frame_lie_on_two_slants_and_are_as_large_as_they_were_sawn():
    found = slants(frame())
    assert len(found) == 2
    assert all(abs(abs(f.n[0]) - sqrt(0.5)) < 1e-9 and abs(f.n[2]) < 1e-9 for f in found)
    areas = [each.area.size for f in found for each in contacts(frame(), f)]
    assert areas == [pytest.approx(sqrt(2) * THICK * HIGH, rel=1e-3)] * 4


def test_a_frame_has_level_and_upright_axes():
    for f in slants(frame()):
        assert f.u[2] == pytest.approx(0)
        assert f.v == pytest.approx((0, 0, 1))


@pytest.mark.parametrize(
    "solids",
    [
        [block((0, 0, 0), (9, 9, 9)), block((9, 0, 0), (18, 9, 9))],
        # A pin in its hole: facets look against facets, but it is no flat face.
        [
            block((-20, -20, 0), (20, 20, 20)).minus(cylinder(TOP, (0, 0), 8, -1, 21)),
            cylinder(TOP, (0, 0), 8, 0, 20),
        ],
        frame()[:1],
    ],
    ids=["square", "round", "alone"],
)
def test_square_and_round_joints_and_a_piece_by_itself_have_none(solids):
    assert slants(solids) == ()
