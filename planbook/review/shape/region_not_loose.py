"""A name is given to a part that does not come loose."""

from planbook.review.regions import regions_of, stencil_of
from planbook.review.rule import Told, Words
from planbook.review.say import Say, known_note, meant, short
from planbook.text import Kind, Severity
from planbook.units import near
from planbook.workshop import Trouble

KIND = Kind(
    "SHA05",
    "region-not-loose",
    Severity.ERROR,
    "A cut names a part from a region in which nothing comes loose.",
    "The line does not go around it, or the region's point lies beside it.",
    '[stencils.outline]\nregions = { corner = ["200 mm", "10 mm"] }   (beside the board)',
    '[stencils.outline]\nregions = { corner = ["90 mm", "10 mm"] }',
)


def _words(trouble: Trouble, say: Say) -> Words:
    piece, region, parts = (trouble.facts[key] for key in ("piece", "region", "parts"))
    made = f"step {trouble.step} makes {short(piece)} from region {short(region)}"
    stencil = stencil_of(trouble, say.timeline)
    if stencil and region not in regions_of(stencil):
        known = regions_of(stencil)
        close = near(region, known)
        headline = f"{made}, which stencil {short(stencil.name)} does not have"
        notes = () if close else known_note("regions", known)
        return Words(headline, "no such region", notes, meant(close), region)
    fell = "the wood stays in one part" if parts == 1 else f"the cut makes {parts} parts"
    return Words(
        f"{made}, but no part comes loose there", "nothing comes loose", (f"{fell}, none of them there",), at=piece
    )


check = Told(KIND, ("region-not-loose",), _words)
