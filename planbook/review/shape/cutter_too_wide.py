"""A cutter is wider than what it is to cut."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA46",
    "cutter-too-wide",
    Severity.ERROR,
    "A router bit, drill or saw cut is wider than the groove or pocket that it is to make.",
    "It cannot make anything narrower than itself.",
    '[tools.bit]\ndiameter = "8 mm"\n\n```groove\nwidth = "6 mm"\ntool = "bit"\n```',
    '[tools.bit]\ndiameter = "6 mm"\n\n```groove\nwidth = "6 mm"\ntool = "bit"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    tool = short(trouble.facts["tool"])
    asked, have = say.pair(trouble.facts["asked"], trouble.facts["have"])
    return Words(f"step {trouble.step} cuts {asked} wide with {tool}, which takes {have}", f"takes {have}")


check = Told(KIND, ("cutter-too-wide",), _words)
