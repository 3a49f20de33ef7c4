"""How pieces are laid out for a picture: none runs into another, and none goes further than it must."""

import random
from itertools import combinations

import pytest

from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import At, Member, Piece
from planbook.workshop.cutting import laid_apart, pulled, stacked_apart

AT = At(1, 1, Place("steps.md"))


def piece(name, low, high):
    solid = block(low, high)
    return Piece(name, solid, (Member(name, "white oak", (1.0, 0.0, 0.0), solid, solid.bounds),), AT)


def boxes(shown):
    found = []
    for each in shown:
        low, high = each.piece.solid.bounds
        found.append([(a + by, b + by) for a, b, by in zip(low, high, each.apart, strict=True)])
    return found


def meeting(shown):
    """The volume that the boxes of two pieces have in common, reckoned side by side."""
    shares = []
    for one, two in combinations(boxes(shown), 2):
        sides = [max(0.0, min(a[1], b[1]) - max(a[0], b[0])) for a, b in zip(one, two, strict=True)]
        shares.append(sides[0] * sides[1] * sides[2])
    return shares


@pytest.mark.parametrize("axis", ["x", "y", "z"])
@pytest.mark.parametrize("seed", range(6))
def test_no_two_pieces_run_into_one_another(axis, seed):
    chance = random.Random(seed)
    made = []
    for n in range(7):
        low = [chance.uniform(0, 300) for _ in range(3)]
        made.append((piece(f"p{n}", low, [a + chance.uniform(10, 250) for a in low]), "new"))
    shown = laid_apart(made, axis)
    assert [each.piece.name for each in shown] == [f"p{n}" for n in range(7)]
    assert max(meeting(shown)) < 1e-3


def test_a_base_under_standing_boards_lies_clear_of_them():
    boards = [(piece(f"board {k}", (90 * k, 0, 0), (90 * k + 88, 20, 400)), "new") for k in range(3)]
    base = (piece("base", (0, -30, -16), (260, 50, 12)), "new")
    before, after = stacked_apart([*boards, base], "x"), laid_apart([*boards, base], "x")
    assert max(meeting(before)) > 0
    assert max(meeting(after)) == 0
    assert [a.apart for a in after[:3]] == [b.apart for b in before[:3]]
    # Down is the shortest way: 12 mm, and the gap.
    x, y, z = after[3].apart
    assert (x, y) == before[3].apart[:2]
    assert z == pytest.approx(-12 - 0.16 * 400)


def test_what_lies_apart_stays_as_it_was_spread():
    boards = [(piece(f"board {k}", (0, 20 * k, 0), (200, 20 * k + 20, 100)), "new") for k in range(5)]
    assert [s.apart for s in laid_apart(boards, "y")] == [s.apart for s in stacked_apart(boards, "y")]
    assert laid_apart([], "x") == ()


FRONT = FACE_FRAMES["front"]
BODY = block((0, 0, 0), (200, 100, 150))


def parted(hole, deep=100):
    """What is sawn out of the front of a body so deep, and the rest with a kerf of 2 mm around; how far each moves."""
    (left, low), (right, high) = hole
    body = block((0, 0, 0), (200, deep, 150)).minus(block((left, -1, low), (right, deep + 1, high)))
    heart = block(
        (left + 2, 0, low + 2), (min(right, 200) - 2 * (right < 200), deep, min(high, 150) - 2 * (high < 150))
    )
    made = [(Piece(name, solid, (), AT), "new") for name, solid in (("body", body), ("heart", heart))]
    return {shown.piece.name: shown.apart for shown in pulled(made, FRONT)}


def test_what_fills_an_opening_slides_out_where_it_is_open():
    """Open at the right from x = 120: the heart begins at 122 and goes past 200, and 6 mm more. At the top likewise."""
    assert parted(((120, 50), (201, 100)))["heart"] == pytest.approx((200 - 122 + 6, 0, 0))
    assert parted(((50, 90), (150, 151)))["heart"] == pytest.approx((0, 0, 150 - 92 + 6))


def test_of_a_large_heart_the_tray_around_it_moves_the_other_way():
    assert parted(((10, 10), (190, 151))) == {"heart": (0, 0, 0), "body": pytest.approx((0, 0, -(150 - 12 + 6)))}


def test_what_is_shut_in_all_around_or_thin_comes_out_of_the_face():
    shut, thin = parted(((50, 50), (150, 100)))["heart"], parted(((50, 50), (201, 100)), deep=9)["heart"]
    assert shut[0] == thin[0] == 0
    assert shut[1] < -100  # past its own depth, so that the mouth is seen behind it
    assert -30 < thin[1] < -9
