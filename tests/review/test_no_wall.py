"""What is said of a wall of an opening that is to be lined and is none."""

from planbook.review.say import Say
from planbook.review.shape.no_hollow import _words
from planbook.text import Place
from planbook.workshop import Trouble


def test_a_wall_that_is_none_is_named_with_its_opening() -> None:
    facts = {"piece": "case", "face": "front", "wall": "bottom"}
    words = _words(Trouble("no-hollow", Place("steps.md", 3, 1), 7, facts), Say("mm"))
    assert words.headline == "step 7 lines the bottom of the opening in the front of `case`, but no flat wall is there"
    assert words.hint
