"""Pieces of an exploded view lie so that something is seen of each."""

from planbook.drawing.apart_in_sight import WANTED, in_sight
from planbook.drawing.glimpse import glimpse
from planbook.drawing.pulled_apart import spread
from planbook.drawing.views import HOME
from planbook.solids.solid import block

PANEL = block((0, 0, 0), (20, 200, 300))
SHELF = block((20, 0, 140), (320, 200, 160))
PLUGS = [block((-2, y, z), (6, y + 10, z + 10)) for y in (60, 130) for z in (40, 250)]
SOLIDS = [PANEL.minus(*PLUGS), SHELF, *PLUGS]
WHOLES = ["case"] * len(SOLIDS)


def shares(moves):
    def seen(pairs):
        return glimpse(pairs, HOME, range(len(pairs)), HOME.toward, 0.0).areas

    areas = seen(list(zip(SOLIDS, moves, strict=True)))
    return [area / seen([(solid, (0, 0, 0))])[0] for area, solid in zip(areas, SOLIDS, strict=True)]


def test_what_would_be_hidden_is_pulled_farther():
    assert min(shares(spread(SOLIDS, WHOLES))) < 0.05  # plugs behind the panel
    assert min(shares(in_sight(SOLIDS, WHOLES, HOME, 160, 130))) >= WANTED


def test_a_row_stays_a_row():
    moves = in_sight(SOLIDS, WHOLES, HOME, 160, 130)
    assert len(set(moves[2:])) == 1


def test_what_is_seen_stays_where_it_lies():
    solids = [block((0, 0, 0), (100, 100, 20)), block((0, 0, 20), (100, 100, 40))]
    assert in_sight(solids, ["a", "b"], HOME, 160, 130) == spread(solids)
