"""Equal pieces that are numbered on share one name; what differs in more than its place keeps its own."""

from dataclasses import replace

import pytest

from planbook.drawing.sets import with_sets
from planbook.drawing.stage import names, stages
from planbook.solids.solid import block
from planbook.speech import speaking
from planbook.workshop import Shown


def pegs(bench, *numbers, long=20.0):
    return [
        Shown(bench.piece(f"peg {n}", block((40.0 * n, 0, 0), (40.0 * n + 10, 10, long))), "new", (0.0, 0.0, 5.0))
        for n in numbers
    ]


def texts(shown):
    return [each.text for each in with_sets(shown, range(len(shown)))]


def test_equal_pieces_share_a_name_that_stands_on_one_of_them(bench):
    board = Shown(bench.piece("board", block((0, -90, 0), (200, -20, 20))), "worked")
    (stage,) = stages(bench.event("cut plugs", "top", [*pegs(bench, 1, 2, 3, 4), board]))
    found = {name.text: name for name in names(stage)}
    assert sorted(found) == ["board", "peg 1 to 4"]
    assert len(found["peg 1 to 4"].faces) >= 4, "the leader may end on any of them"


@pytest.mark.parametrize(("numbers", "told"), [((1, 2), ["peg 1", "peg 2"]), ((3, 1, 2), ["peg 1 to 3"])])
def test_two_are_named_one_by_one_and_their_order_does_not_matter(bench, numbers, told):
    assert texts(pegs(bench, *numbers)) == told


def test_large_pieces_keep_their_own_names(bench):
    assert texts(pegs(bench, 1, 2, 3, long=60.0)) == ["peg 1", "peg 2", "peg 3"]


def test_a_gap_in_the_numbers_parts_a_set(bench):
    assert texts(pegs(bench, 1, 2, 3, 5, 6, 7, 9)) == ["peg 1 to 3", "peg 5 to 7", "peg 9"]


def test_a_mirrored_or_longer_piece_or_one_of_another_wood_is_not_the_same(bench):
    same = pegs(bench, 1, 2, 3)
    assert texts([*same, *pegs(bench, 4, long=21.0)]) == ["peg 1 to 3", "peg 4"]
    left = block((160, 0, 0), (170, 10, 20)).minus(block((160, 0, 0), (163, 3, 3)))
    right = block((200, 0, 0), (210, 10, 20)).minus(block((207, 0, 0), (210, 3, 3)))
    hands = [Shown(bench.piece(f"peg {n}", solid), "new") for n, solid in ((1, left), (2, right), (3, left))]
    assert texts(hands) == ["peg 1", "peg 2", "peg 3"]
    dark = Shown(bench.piece("peg 4", pegs(bench, 4)[0].piece.solid, "black walnut"), "new")
    assert texts([*same, dark]) == ["peg 1 to 3", "peg 4"]
    assert texts([*same[:2], replace(same[2], role="context")]) == ["peg 1", "peg 2", "peg 3"]


def test_the_name_is_said_in_the_language_of_the_booklet(bench):
    with speaking("fr"):
        assert texts(pegs(bench, 1, 2, 3)) == ["peg 1 à 3"]
