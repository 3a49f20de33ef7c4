"""The simulated build: runs the steps of a design in order and leaves a timeline."""

from planbook.workshop.timeline import (
    At,
    Cue,
    Event,
    Fate,
    Fitted,
    Lost,
    Member,
    Piece,
    Show,
    Shown,
    Stuck,
    Timeline,
    Treated,
    Trouble,
    Use,
)

__all__ = [
    "At",
    "Cue",
    "Event",
    "Fate",
    "Fitted",
    "Lost",
    "Member",
    "Piece",
    "Show",
    "Shown",
    "Stuck",
    "Timeline",
    "Treated",
    "Trouble",
    "Use",
]
