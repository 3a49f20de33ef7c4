"""Faces that are masked before a finish."""

import pytest

from .conftest import JOINTS, MILL_ALL, Run, block, running, worked

run = running(JOINTS, MILL_ALL)


def test_masked_faces_stay_bare(run: Run) -> None:
    mask = block("mask", 'piece = "rail"\nfaces = ["front", "top"]\ntape = "tape"')
    oil = block("finish", 'pieces = ["rail"]\nfinish = "oil"\ncoats = 1')
    off = block("unmask", 'piece = "rail"')
    first, second, third = worked(run(mask, oil, off))
    assert first.uses[0].amount == pytest.approx(2 * (160 + 120) / 1000)
    assert second.uses[0].amount == pytest.approx((2 * (6000 + 2000 + 1200) - 6000 - 2000) / 1e6)
    assert {t.face for t in second.made[0].treated if t.how == "finished"} == {"back", "left", "right", "bottom"}
    assert not any(t.how == "masked" for t in third.made[0].treated)
