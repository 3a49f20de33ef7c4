"""The envelope of a build kept between runs: a changed sentence proves nothing anew; how it is proved is elsewhere."""

from dataclasses import replace
from functools import cache as once

from pydantic import TypeAdapter, ValidationError

from planbook.cache import Cache, Forgetful
from planbook.model import Design
from planbook.model.digest import built_digests, digest
from planbook.workshop.envelope import prove
from planbook.workshop.run import build
from planbook.workshop.timeline import Envelope, Timeline


def prove_or_recall(design: Design, cache: Cache) -> Timeline:
    """The nominal build with its envelope, which is taken from the cache if nothing that it hangs on has changed."""
    envelope = recalled(design, cache)
    if envelope is not None:
        timeline = build(design)
        if len(timeline.events) == len(design.operations):
            return replace(timeline, envelope=envelope)
    timeline = prove(design)
    if timeline.envelope is not None:
        keep(design, cache, timeline.envelope)
    return timeline


def recalled(design: Design, cache: Cache) -> Envelope | None:
    """The envelope that is kept for a design, or None."""
    if isinstance(cache, Forgetful) or not design.operations:
        return None
    return _restored(cache.get(_key(design)))


def keep(design: Design, cache: Cache, envelope: Envelope) -> None:
    """Keep the envelope of a design, unless it names lines of it."""
    if design.operations and not isinstance(cache, Forgetful) and not _placed(envelope):
        cache.put(_key(design), _envelopes().dump_json(envelope))


def _key(design: Design) -> str:
    return digest("envelope", built_digests(design)[-1], design.fits, design.varies)


def _placed(envelope: Envelope) -> bool:
    """Whether it names lines of the design, which a changed sentence may move."""
    found = (fitted for proof in envelope.proofs for fitted in (proof.least, proof.most))
    return bool(envelope.breaks) or any(fitted.before for fitted in found)


def _restored(data: bytes | None) -> Envelope | None:
    if data is None:
        return None
    try:
        return _envelopes().validate_json(data)
    except ValidationError:
        return None


@once
def _envelopes() -> TypeAdapter[Envelope]:
    return TypeAdapter(Envelope)
