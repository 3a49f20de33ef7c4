"""Which pieces were on the bench in a step, and what became of the others; it judges no sentence."""

from dataclasses import dataclass

from planbook.model import Step
from planbook.model.sizes import folded
from planbook.workshop import Event, Timeline


@dataclass(frozen=True)
class Benches:
    """The bench of every moment, by the folded names of pieces."""

    timeline: Timeline

    def of(self, step: Step) -> set[str]:
        """The pieces that were there before or after any operation of a step."""
        there: set[str] = set()
        for event in self.timeline.events:
            if event.at.step < step.number:
                there = _names(event)
            elif event.at.step == step.number:
                there |= _names(event)
        return there

    def made(self, name: str) -> Event | None:
        """The event that first brought a piece to the bench."""
        return next((event for event in self.timeline.events if name in _names(event)), None)

    def gone(self, name: str, step: Step) -> Event | None:
        """The last event before a step that took a piece off the bench."""
        last, there = None, False
        for event in self.timeline.events:
            if event.at.step > step.number:
                break
            now = name in _names(event)
            if there and not now:
                last = event
            there = now
        return last


def _names(event: Event) -> set[str]:
    return {folded(name) for name in event.bench}
