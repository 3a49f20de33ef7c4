"""Over which range the fits of a design are proved, and where each is worst, as they are printed."""

from planbook.booklet.editions import Edition
from planbook.review.corners import corner_words, range_words
from planbook.speech import called, say
from planbook.workshop import Fitted, Timeline


def proved_range(timeline: Timeline, edition: Edition) -> str:
    """`Proved for kerf 0.9 to 1.3 mm (narrow blade), indoor humidity 25 to 65 %.`; nothing where nothing varied."""
    envelope = timeline.envelope
    if envelope is None or not envelope.spreads or not envelope.proofs:
        return ""
    still = f" {_still(envelope.unmoving)}" if envelope.unmoving else ""
    ranges = range_words(envelope.spreads, lambda mm: _length(mm, edition))
    return say("Proved for {ranges}.", ranges=ranges) + still


def worst_of(fit: Fitted, timeline: Timeline, edition: Edition) -> tuple[str, str]:
    """The worst measure of a fit over the envelope and its corner in words; nothing where it was built once."""
    proof = timeline.envelope.proof(fit.name) if timeline.envelope else None
    if proof is None:
        return "", ""
    parts = []
    if fit.asked_least is not None and proof.least.least is not None:
        parts.append((proof.least.least, proof.least_at))
    if fit.asked_most is not None and proof.most.most is not None:
        parts.append((proof.most.most, proof.most_at))
    measures = say(" to ").join(edition.gap(mm) for mm, _ in parts)
    corners = dict.fromkeys(
        corner_words(corner, lambda mm: _length(mm, edition), lambda name: say("the {name}", name=called(name)))
        for _, corner in parts
    )
    return f"{measures} {edition.system}" if parts else "", "; ".join(corners)


def _length(mm: float, edition: Edition) -> str:
    return f"{edition.gap(mm)} {edition.system}"


def _still(woods: tuple[str, ...]) -> str:
    return say("How much {woods} moves is not known; it is taken not to.", woods=say(" and ").join(woods))
