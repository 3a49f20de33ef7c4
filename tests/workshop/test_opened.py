"""The finished object opened, as its fits tell."""

import pytest

from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop.opened import DRAWN, opened
from planbook.workshop.timeline import At, Fitted, Piece, Way

MILLED = At(1, 1, Place("steps.md", 1, 1))


def _piece(name: str, x: float) -> Piece:
    return Piece(name, block((x, 0, 0), (x + 10, 10, 10)), (), MILLED)


def _fit(kind: str, way: Way, before: At | None = None) -> Fitted:
    return Fitted(f"{way.piece} {kind}", kind, 1.0, None, before=before, way=way)


BOX = (_piece("case", 0), _piece("drawer", 20), _piece("lid", 40))
OUT = _fit("slide", Way("drawer", (0.0, -100.0, 0.0)))


def test_what_slides_is_drawn_out_and_still_held() -> None:
    found = opened(BOX, [OUT])
    assert set(found) == {"drawer"}
    assert found["drawer"].solid.bounds[0] == pytest.approx((20, -100 * DRAWN, 0))


def test_what_swings_turns_about_its_axis_all_the_way() -> None:
    lid = _fit("swing", Way("lid", axis=(0.0, 0.0, 1.0), about=(40.0, 0.0, 0.0), degrees=90.0))
    assert opened(BOX, [OUT, lid])["lid"].solid.bounds == (
        pytest.approx((30, 0, 0)),
        pytest.approx((40, 10, 10)),
    )


def test_what_would_run_into_what_is_open_stays_shut() -> None:
    into = _fit("lift out", Way("lid", (-20.0, -70.0, 0.0)))
    assert set(opened(BOX, [OUT, into])) == {"drawer"}


def test_the_first_of_two_ways_counts() -> None:
    assert opened(BOX, [OUT, _fit("slide", Way("drawer", (0.0, 50.0, 0.0)))])["drawer"].solid.bounds[0][1] < 0


def test_fits_before_a_joint_closes_and_gaps_move_nothing() -> None:
    early = _fit("lift out", Way("lid", (0.0, 0.0, 50.0)), before=MILLED)
    assert opened(BOX, [early, Fitted("gap", "gap", 1.0, 2.0)]) == {}
