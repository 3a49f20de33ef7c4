"""Proves a design over all that may vary in a second process, while this one goes on with the build as it is drawn.

What is found is the same as in one process: the other one is told the design and sends back the envelope alone, and if
it comes to an end without one, the proof is made here.
"""

import multiprocessing
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from multiprocessing.connection import Connection
from typing import TYPE_CHECKING

from planbook.cache import Cache

if TYPE_CHECKING:
    from planbook.model import Design
    from planbook.workshop import Timeline
    from planbook.workshop.timeline import Envelope

WORTH = 12
"""With fewer operations the proof is done before another process has begun."""


def proved(design: "Design", cache: Cache, meanwhile: "Callable[[Timeline], None]") -> "Timeline":
    """The build with its envelope; `meanwhile` is handed the build before it has one, if there is time for it."""
    from planbook.workshop.kept import keep, prove_or_recall, recalled
    from planbook.workshop.run import build

    if len(design.operations) < WORTH or recalled(design, cache) is not None:
        return prove_or_recall(design, cache)
    with _elsewhere(design) as envelope:
        timeline = build(design)
        if len(timeline.events) < len(design.operations):
            return timeline
        meanwhile(timeline)
        found = envelope()
    if found is None:
        return prove_or_recall(design, cache)
    keep(design, cache, found)
    return replace(timeline, envelope=found)


@contextmanager
def _elsewhere(design: "Design") -> "Iterator[Callable[[], Envelope | None]]":
    """A function that waits for the envelope from another process, which does not outlive this one's interest in it."""
    # The geometry library starts threads, and a process with threads must not be forked.
    context = multiprocessing.get_context("spawn")
    receiver, sender = context.Pipe(duplex=False)
    process = context.Process(target=_prove, args=(sender, design), daemon=True)
    process.start()
    sender.close()
    try:
        yield lambda: _received(receiver)
    finally:
        process.kill()
        process.join()
        receiver.close()


def _received(receiver: Connection) -> "Envelope | None":
    try:
        found: Envelope | None = receiver.recv()
    except (EOFError, OSError):
        return None
    return found


def _prove(sender: Connection, design: "Design") -> None:
    """The work of the other process. Whatever goes wrong here goes wrong again, and is told, where it was asked for."""
    from planbook.workshop.envelope import prove

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        sender.send(prove(design).envelope)
    except Exception:
        sender.close()
