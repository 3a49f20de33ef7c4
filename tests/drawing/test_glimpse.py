"""What samples say is seen agrees with the exact picture, and the exact picture is not asked for views not taken."""

import pytest

from planbook.drawing import views
from planbook.drawing.glimpse import glimpse
from planbook.drawing.look import plain_look
from planbook.drawing.views import ORDER, choose
from planbook.solids.solid import block, nothing
from planbook.solids.visible import isometric

STILL = (0.0, 0.0, 0.0)
TOP = (0.0, 0.0, 1.0)


@pytest.mark.parametrize("way", ORDER)
def test_samples_see_what_the_exact_picture_shows(bench, way):
    placed = (
        (bench.piece("drum", bench.drum()), (0.0, 0.0, 40.0)),
        (bench.piece("rim", bench.rim()), STILL),
        (bench.piece("bored", bench.bored()), (20.0, -90.0, 10.0)),
    )
    exact = plain_look(placed, isometric(*way))
    seen = glimpse([(piece.solid, by) for piece, by in placed], isometric(*way), range(3), TOP, 0.97)
    for number, (piece, _) in enumerate(placed):
        assert seen.areas[number] == pytest.approx(exact.area_of(number), abs=0.02 * piece.solid.surface)
    tops = sum(f.area for f in exact.faces if f.normal[2] > 0.97)
    assert sum(seen.facing) == pytest.approx(tops, abs=0.02 * sum(piece.solid.surface for piece, _ in placed))


def test_of_eight_views_only_those_that_may_be_taken_are_drawn(bench, monkeypatch):
    drawn = []
    monkeypatch.setattr(views, "plain_look", lambda placed, view: drawn.append(view) or plain_look(placed, view))
    walls = [block((20, -9, -9), (24, 29, 29)), block((-9, -24, -9), (29, -20, 29)), block((-9, -9, 24), (29, 29, 28))]
    hidden = bench.piece("hidden", block((0, 0, 0), (10, 10, 10)))
    placed = ((hidden, STILL), *((bench.piece(f"wall {n}", wall), STILL) for n, wall in enumerate(walls)))
    choice = choose(placed, "bottom", [0])
    assert choice.unseen == ()
    assert len(set(drawn)) <= 2


def test_of_an_empty_solid_nothing_is_seen():
    seen = glimpse([(block((0, 0, 0), (10, 10, 10)), STILL), (nothing(), STILL)], isometric(0), range(2), TOP, 0.97)
    assert seen.areas[0] > 0
    assert (seen.areas[1], seen.facing[1]) == (0.0, 0.0)
