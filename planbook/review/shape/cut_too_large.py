"""A cut asks for more wood than the piece has there."""

from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA45",
    "cut-too-large",
    Severity.ERROR,
    "A groove, rabbet, mortise, tenon or rounded edge is deeper, wider or longer than the piece it is cut into.",
    "It would come out on the other side, or take the piece whole.",
    '```groove\nwidth = "6 mm"\ndepth = "20 mm"   (in a board 20 mm thick)\n```',
    '```groove\nwidth = "6 mm"\ndepth = "8 mm"   (in a board 20 mm thick)\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, kind, way = short(trouble.facts["piece"]), trouble.facts["operation"], trouble.facts["way"]
    asked, have = say.length(trouble.facts["asked"]), say.length(trouble.facts["have"])
    return Words(
        f"step {trouble.step} needs {asked} of {piece} for its `{kind}`, and there it is {have} {way}",
        f"{piece} is {have} {way}",
    )


check = Told(KIND, ("cut-too-large",), _words)
