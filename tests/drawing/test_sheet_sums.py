"""Figures of drawings that a reader adds up: places from either end, the middle, and arcs, measured by hand."""

from fractions import Fraction

from planbook.drawing.sheet_sums import arcs_of, from_the_other_end, mirrored_of
from planbook.solids import FACE_FRAMES, Solid
from planbook.solids.plane import arc_band, box
from planbook.solids.solid import block, cylinder, prism
from planbook.text import Place
from planbook.units import Chain
from planbook.workshop import Piece
from planbook.workshop.timeline import At

FRONT = FACE_FRAMES["front"]


def piece(solid: Solid) -> dict[str, Piece]:
    return {"base": Piece("base", solid, (), At(1, 1, Place("steps.md")))}


def grooved(low: float, high: float) -> dict[str, Piece]:
    return piece(block((0, 0, 0), (200, 80, 30)).minus(block((-1, low, 20), (201, high, 31))))


def lengths(chain: Chain) -> list[float]:
    return [float(mm) for mm in chain.lengths]


def test_places_that_lie_as_far_from_either_end_make_the_whole() -> None:
    """The sides of a groove that lies in the middle; of one beside it there are none."""
    (chain,) = mirrored_of(grooved(29.75, 50.25), ["base"])
    assert lengths(chain) == [29.75, 50.25, 80.0]
    assert list(mirrored_of(grooved(20, 40.5), ["base"])) == []


def test_what_lies_in_the_middle_is_half_of_the_whole() -> None:
    bored = piece(block((0, 0, 0), (90, 20, 60)).minus(cylinder(FRONT, (45, 20), 3, -30, 10)))
    assert [lengths(chain) for chain in mirrored_of(bored, ["base"])] == [[45, 45, 90]]


def test_a_place_that_a_step_sets_from_the_other_end_makes_the_whole_with_it() -> None:
    """A groove from 20 to 40.5 mm of 80 mm: its far side is set 39.5 mm from the other end."""
    (chain,) = from_the_other_end(grooved(20, 40.5), ["base"], [Fraction("39.5"), Fraction(70)])
    assert lengths(chain) == [40.5, 39.5, 80.0]
    assert list(from_the_other_end(grooved(20, 40.5), ["base"], [Fraction(39)])) == []


def test_an_arc_ends_as_far_from_its_middle_as_its_radius() -> None:
    """By hand: an arch of 94 mm that springs 60 mm up is 154 mm high."""
    arch = prism(arc_band((100, 60), 1, 94, 0, 180).plus(box(6, 0, 188, 60)), FRONT, -20, 0)
    assert [60.0, 94.0, 154.0] in [[round(mm, 1) for mm in lengths(chain)] for chain in arcs_of(piece(arch), ["base"])]
