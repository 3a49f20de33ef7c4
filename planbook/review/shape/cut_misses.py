"""A cut meets no wood, or leaves none of what it should make."""

from planbook.review.pointing import operation_at
from planbook.review.rule import Told, Words
from planbook.review.say import Say, short
from planbook.text import Kind, Severity
from planbook.workshop import Trouble

KIND = Kind(
    "SHA01",
    "cut-misses",
    Severity.ERROR,
    "A saw cut lies beside the wood, or asks for more wood than the piece has there.",
    "The blade would run in the air, or there would be nothing left to name.",
    '```slice\npiece = "board"   (12 mm thick)\nthickness = "14 mm"\n```',
    '```slice\npiece = "board"   (12 mm thick)\nthickness = "4 mm"\n```',
)


def _words(trouble: Trouble, say: Say) -> Words:
    facts, piece = trouble.facts, short(trouble.facts["piece"])
    if "kerf" in facts:
        asked, kerf = say.pair(facts["asked"], facts["kerf"])
        headline = (
            f"step {trouble.step} takes {asked} off {piece}, which the kerf of {kerf} takes whole: no offcut is left"
        )
        return Words(headline, "no wood is left for it")
    if "depth" in facts:
        asked, depth = say.pair(facts["asked"], facts["depth"])
        if _shortens(trouble, say):
            headline = f"step {trouble.step} shortens {piece} to {asked}, but it measures {depth} there"
            return Words(headline, f"{piece} measures {depth}")
        headline = f"step {trouble.step} needs {asked} of {piece} (kerf included), which measures {depth} there"
        return Words(headline, f"{piece} measures {depth}")
    return Words(
        f"step {trouble.step} cuts beside {piece}: the blade meets no wood", "meets no wood", at=facts["piece"]
    )


def _shortens(trouble: Trouble, say: Say) -> bool:
    """Whether a length is asked that is to stay."""
    operation = operation_at(trouble.place, say.timeline.design)
    return operation is not None and operation.kind == "trim" and "to" in operation.fields.table()


check = Told(KIND, ("cut-misses",), _words)
