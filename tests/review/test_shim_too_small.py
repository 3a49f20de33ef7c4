"""What is said of a strip that does not fill the cut it is meant for."""

from types import SimpleNamespace

import pytest

from planbook.review.say import Say
from planbook.review.shape.shim_too_small import check
from planbook.text import Place
from planbook.workshop import Trouble

SAY = Say(SimpleNamespace(design=SimpleNamespace(card=SimpleNamespace(units="mm"))))


@pytest.mark.parametrize(
    ("facts", "headline"),
    [
        ({"thick": 0.7, "wide": 1.1}, "step 9 closes a cut 1.1 mm wide with `strip`, which is only 0.7 mm thick"),
        (
            {"have": (60.0, 12.0), "need": (20.0, 18.0)},
            "step 9 needs a strip of 20 mm × 18 mm for its cut, but `strip` is only 60 mm × 12 mm",
        ),
        (
            {"have": (60.0, 12.02), "need": (60.0, 12.04)},
            "step 9 needs a strip of 60 mm × 12.04 mm for its cut, but `strip` is only 60 mm × 12.02 mm",
        ),
        (
            {"have": (60.0, 30.0), "need": (50.0, 15.0)},
            "step 9 needs a strip of 50 mm × 15 mm for its cut, and `strip` has no place where one is left whole",
        ),
        (
            {"wood": 700.0, "cut": 760.0},
            "step 9 closes a cut of 0.76 cm³ with `strip`, which has only 0.7 cm³ of wood",
        ),
    ],
)
def test_a_strip_is_told_by_what_it_lacks(facts, headline):
    words = check.words(Trouble("shim-too-small", Place("steps.md"), 9, {"shim": "strip", **facts}), SAY)
    assert words.headline == headline
