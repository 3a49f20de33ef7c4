"""How a strip lies in the cut it fills: which of its woods are where, and which way its grain runs."""

import math

import pytest

from planbook.solids import AXES, Frame
from planbook.solids.plane import box
from planbook.solids.solid import block as solid_block
from planbook.solids.solid import prism
from planbook.text import Place
from planbook.workshop import At, Member, Piece
from planbook.workshop.fillings import Cavity, cavity, grain_told, laid_in, needed
from planbook.workshop.pieces import member_solids

from .conftest import BOARDS, STICK, Run, block, clean, running

AT = At(1, 1, Place("steps.md"))
FRONT = Frame(AXES["x"], AXES["z"], (0.0, -1.0, 0.0))
UP = AXES["z"]
LOW_RAIL = """
[stock.low]
wood = "black cherry"
size = ["100 mm", "20 mm", "8 mm"]
at = ["0 mm", "0 mm", "100 mm"]
grain = "x"
"""
run = running(BOARDS)
rail = running(BOARDS + LOW_RAIL)


def strip(*woods: tuple[str, float], size: tuple[float, float, float] = (30, 60, 1), grain: str = "x") -> Piece:
    """A strip with its woods one behind the other along y, each so many mm."""
    members, at = [], 0.0
    for wood, deep in woods:
        solid = solid_block((0.0, at, 0.0), (size[0], at + deep, size[2]))
        members.append(Member(wood, wood, AXES[grain], solid, solid.bounds))
        at += deep
    return Piece("strip", solid_block((0.0, 0.0, 0.0), size), tuple(members), AT)


def upright(deep: float, high: float, near: float = 0.0) -> Cavity:
    """A cut 1 mm wide that goes up from z = 0 at x = 70, from y = `near` on so deep."""
    filled = solid_block((70.0, near, 0.0), (71.0, near + deep, high))
    return cavity(filled, UP, FRONT, 1.0)


def depths(laid, filled) -> list[tuple[str, float, float]]:
    """The woods of a strip in a cut from front to back."""
    piece = Piece("shim", filled, laid.members, AT)
    found = [(m.wood, s.bounds[0][1], s.bounds[1][1]) for m, s in member_solids(piece)]
    return [(wood, round(low, 3), round(high, 3)) for wood, low, high in sorted(found, key=lambda each: each[1])]


def test_a_strip_brings_its_woods_along_as_they_lay() -> None:
    cut, filled = upright(45, 10, near=5), solid_block((70.0, 5.0, 0.0), (71.0, 50.0, 10.0))
    laid = laid_in(strip(("maple", 20), ("cherry", 40)), cut, AXES["x"])
    # It is not shifted along y, where it need not be: the joint stays at y = 20.
    assert depths(laid, filled) == [("maple", 5, 20), ("cherry", 20, 50)]
    volumes = [solid.volume for _, solid in member_solids(Piece("shim", filled, laid.members, AT))]
    assert volumes == [pytest.approx(15 * 10), pytest.approx(30 * 10)]
    # Its grain, which ran along x, cannot but stand upright in the cut: across the 45 mm.
    assert (abs(laid.grain[2]), grain_told(laid, cut)) == (1.0, "across its length")
    assert needed(cut) == pytest.approx((45, 10))


def test_a_strip_that_must_be_shifted_is_shifted_the_least() -> None:
    filled = solid_block((70.0, 25.0, 0.0), (71.0, 70.0, 10.0))
    laid = laid_in(strip(("maple", 20), ("cherry", 40)), upright(45, 10, near=25), AXES["x"])
    # The strip ends at y = 60 and the cut at 70: 10 mm, and the joint goes with it.
    assert depths(laid, filled) == [("maple", 25, 30), ("cherry", 30, 70)]


@pytest.mark.parametrize("around", ["y", "z"])
def test_grain_runs_as_that_around_the_cut_where_there_is_room_both_ways(around: str) -> None:
    for grain in "xy":
        cut = upright(20, 15)
        laid = laid_in(strip(("maple", 60), grain=grain), cut, AXES[around])
        assert [abs(each) for each in laid.grain] == list(AXES[around])
        assert grain_told(laid, cut) == ("along its length" if around == "y" else "across its length")


@pytest.mark.parametrize(
    ("deep", "high", "fits"), [(60, 30, True), (30, 60, True), (60.1, 10, False), (40, 30.1, False)]
)
def test_it_fits_either_way_round_and_no_better_than_it_is(deep: float, high: float, fits: bool) -> None:
    assert (laid_in(strip(("maple", 60)), upright(deep, high), AXES["y"]) is not None) == fits


def test_a_strip_with_a_hole_in_the_way_is_no_larger_than_what_is_left() -> None:
    whole = strip(("maple", 60))
    holed = Piece("strip", whole.solid.minus(solid_block((5.0, 28.0, -1.0), (25.0, 32.0, 2.0))), whole.members, AT)
    assert laid_in(holed, upright(50, 15), AXES["y"]) is None
    assert laid_in(holed, upright(28, 15), AXES["y"]) is not None


def test_a_slanting_cut_turns_the_grain_with_it() -> None:
    way = (math.cos(math.radians(30)), 0.0, math.sin(math.radians(30)))
    band = box(-10, -0.5, 20, 1).turned(30)
    cut = cavity(prism(band, FRONT, -40, 0), way, FRONT, 1.0)
    assert (cut.deep, cut.wide, cut.across) == pytest.approx((40, 20, 1))
    laid = laid_in(strip(("maple", 60)), cut, AXES["x"])
    assert [abs(a) for a in laid.grain] == pytest.approx([abs(a) for a in way])


def test_a_cut_that_bends_needs_a_strip_as_long_as_its_way() -> None:
    corner = box(0, 0, 20, 1).plus(box(19, 0, 1, 15))
    cut = cavity(prism(corner, FRONT, -40, 0), (0.8, 0.0, 0.6), FRONT, 1.0)
    # Half of the outline, 70 mm, without one end: 20 + 15 less the corner.
    assert cut.wide == pytest.approx(34, abs=0.01)


def set_in(strip_of: str, face: str) -> tuple[str, ...]:
    saw = (
        'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nentry = ["way"]\n'
        'makes = { disc = "inside", rim = "outside" }'
    )
    cut = f'piece = "{strip_of}"\nface = "{face}"\nthickness = "1 mm"\nblade = "saw"\n'
    return (
        block("mill", f'boards = ["maple", "{strip_of}"]'),
        STICK,
        block("saw", saw),
        block("slice", cut + 'makes = { strip = "layer", rest = "rest" }'),
        block("shim", 'piece = "rim"\nstencil = "round"\nline = "way"\nshim = "strip"\nglue = "glue"'),
    )


def test_a_step_tells_what_to_cut_out_of_the_slice(run: Run) -> None:
    settings = dict(clean(run(*set_in("cherry", "back")))[-1].settings)
    # The wood is 20 mm thick, and the way in through it 10 mm less the kerf of the disc.
    assert settings["strip"] == pytest.approx((20, 9, 1), abs=0.05)
    # The grain around goes across the cut, where no strip's can: it is turned the least, its height upright.
    assert settings["grain"] == "along its length"


def test_a_slice_of_too_low_a_rail_is_refused_with_both_sizes(rail: Run) -> None:
    (trouble,) = rail(*set_in("low", "back")).troubles
    assert trouble.kind == "shim-too-small"
    assert trouble.facts["have"] == pytest.approx((100, 8))
    assert trouble.facts["need"] == pytest.approx((20, 9), abs=0.05)
