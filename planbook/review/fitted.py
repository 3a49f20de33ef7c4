"""The fits of a design with what was measured of them; each rule judges its own kind."""

from collections.abc import Iterator

from planbook.model import Fit
from planbook.review.pointing import texts
from planbook.review.say import Say, name_list, short
from planbook.workshop import Fitted, Proof, Timeline

MOTIONS = {"slide": "slides", "swing": "swings", "lift out": "is lifted"}
"""The kinds of fits in which a piece moves, and what it does then."""
TOLERANCE = 0.005
"""Measures closer than this (mm) to what was asked count as kept."""


def measured(timeline: Timeline, *kinds: str) -> Iterator[tuple[Fit, Fitted]]:
    """The fits of certain kinds that could be measured."""
    for found in timeline.fits:
        if found.kind in kinds:
            yield timeline.design.fits[found.name], found


def proofs(timeline: Timeline) -> Iterator[tuple[Fit, Fitted, Proof]]:
    """The fits with what they measured as drawn and over the envelope; none where the build was carried out once."""
    envelope = timeline.envelope
    for found in timeline.fits if envelope else ():
        proof = envelope.proof(found.name) if envelope else None
        if proof is not None:
            yield timeline.design.fits[found.name], found, proof


def below(found: float | None, asked: float | None) -> bool:
    """Whether a measure is less than what was asked."""
    return found is not None and asked is not None and found < asked - TOLERANCE


def pieces_of(fit: Fit, field: str, joint: str = "and") -> str:
    """The pieces that a field of a fit names; `everything else` where it is left out."""
    node = fit.fields.get(field)
    return name_list(texts(node), joint) if node is not None else "everything else"


def stage_words(stage: str) -> str:
    """Where on its way a motion was: `at the start of its way`, `after 38 % of its way`."""
    return {"0 %": "at the start of its way", "100 %": "at the end of its way"}.get(stage, f"after {stage} of its way")


def spot_note(found: Fitted, say: Say) -> tuple[str, ...]:
    """A note that says where a motion is narrowest, and what would be touched first."""
    if found.where is None:
        return ()
    touched = f", against {short(found.touches)}" if found.touches else ""
    word = "in the way" if (found.least or 0.0) < 0 else "narrowest"
    return (f"{word} at {say.spot(found.where)}{touched}",)
