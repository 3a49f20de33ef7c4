"""A piece with its top to the front, where that draws it larger: true views, the same figures, and a note that says so."""

import random
from fractions import Fraction

import pytest

from planbook.drawing.marks import Words
from planbook.drawing.measured import measured
from planbook.drawing.piece_sheet import piece_sheet
from planbook.drawing.tipped import tipped, tipped_spots
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block, cylinder
from planbook.units import INCH_32, MM_TENTH

from .conftest import SHEET, figures, rebuilt, sheet

NOTE = "Drawn with its top to the front."


def base():
    """A base of 260 x 80 x 28 mm with a groove along the middle of its top."""
    return block((0, 0, 0), (260, 80, 28)).minus(block((-1, 30, 16), (261, 50, 29)))


def said(picture):
    return " ".join(mark.text for mark in picture.of_layer("words") if isinstance(mark, Words))


@pytest.mark.parametrize(("style", "angle"), [(MM_TENTH, "first"), (INCH_32, "third")])
def test_a_flat_piece_is_tipped_where_that_draws_it_larger(style, angle):
    """By hand, in a width of 168 mm: 1:2 takes 130 + 7 + 40 mm as it lies and 130 + 7 + 14 mm tipped, and the figures."""
    picture = sheet(base(), style, angle)
    assert "Scale 1:2" in said(picture)
    assert NOTE in said(picture)
    assert picture.alt.endswith(f"scale 1:2. {NOTE}")


def test_a_piece_that_is_not_drawn_larger_so_stays_as_it_stands():
    for size in ((200, 80, 28), (260, 28, 80), (570, 120, 18)):
        picture = sheet(block((0, 0, 0), size))
        assert NOTE not in said(picture)
        assert NOTE not in picture.alt


def test_its_figures_make_the_same_piece():
    """Along z stands the depth, along y the height from the top downwards: a groove 12 mm deep from 30 to 50 mm."""
    told = {side: sorted(map(Fraction, texts)) for side, texts in figures(sheet(base())).items()}
    assert told == {"below": [0, 260], "beside": [0, 0, 12, 28, 30, 50, 80]}
    turned = measured(tipped(base()))
    assert turned.size == pytest.approx((260, 28, 80))
    assert turned.places[1] == pytest.approx((0, 12, 28))
    assert turned.places[2] == pytest.approx((0, 30, 50, 80))


@pytest.mark.parametrize("seed", range(8))
def test_the_printed_places_of_a_tipped_piece_are_enough_to_make_it_again(seed):
    rng = random.Random(seed)
    long, deep, high = rng.randrange(250, 270), rng.randrange(60, 84), rng.randrange(12, 30)
    solid = block((0, 0, 0), (long, deep, high))
    for _ in range(3):
        x, y, z = (rng.randrange(4, side - 6) for side in (long, deep, high))
        solid = solid.minus(block((x, y, z), (x + 5, deep + 1, high + 1)), block((-1, y - 3, z), (4, y, z + 3)))
    picture, turned = sheet(solid), tipped(solid)
    assert NOTE in said(picture)
    told = {side: {float(text) for text in texts} for side, texts in figures(picture).items()}
    xs, ys, zs = measured(turned).places
    assert told == {"below": {round(x, 3) for x in xs}, "beside": {round(place, 3) for place in (*ys, *zs)}}
    built = rebuilt(turned, (xs, ys, zs))
    assert built.volume == pytest.approx(solid.volume, rel=1e-9)
    assert built.minus(turned).volume == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("face", ["left", "front", "top"])
def test_holes_are_known_again_once_their_piece_is_tipped(face):
    """A hole in a face of a block; its place is told by its axis and its middle from the lower corner."""
    solid = block((5, 5, 5), (65, 45, 25)).minus(cylinder(FACE_FRAMES[face], _on(face), 3.0, -30.0, 90.0))
    (hole,) = measured(solid).rounds
    (turned,) = measured(tipped(solid)).rounds
    ((axis, middle),) = tipped_spots({(hole.axis, hole.middle): 7}, solid)
    assert axis == turned.axis
    assert middle == pytest.approx(turned.middle, abs=1e-6)


def _on(face):
    """A point on a face, in its frame, that is 20, 15 and 9 mm from the lower corner of the block as far as it goes."""
    frame = FACE_FRAMES[face]
    u, v, _ = frame.local((25.0, 20.0, 14.0))
    return (u, v)


def test_places_left_out_are_told_by_the_side_that_they_lie_along():
    """Along its depth, which stands upright once it is tipped."""
    solid = block((0, 0, 0), (260, 60, 20))
    for k in range(19):
        solid = solid.minus(block((-1, 1 + 3 * k, 15), (261, 2 + 3 * k, 21)))
    picture = piece_sheet("comb", solid, *SHEET, MM_TENTH, "first")
    assert NOTE in said(picture)
    assert picture.missing == ("the depth",)
