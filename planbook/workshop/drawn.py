"""What an operation says about the picture of its step; draws nothing, and knows no operation."""

from dataclasses import dataclass
from typing import Literal

Laid = Literal["clear", "opened", "one by one", "level", "moved", "together"]
Fastens = Literal["", "hole", "hardware"]
Follows = Literal["", "sawn", "sanded", "bored"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """How an operation is drawn, besides what its `Show` holds: all that a picture asks about its sort."""

    weight: int
    """A picture is about the heaviest operation of its step, that which changes most. No two weigh the same."""
    laid: Laid = "clear"
    """How its pieces lie. Those that stand through one another, to be cut to their joint later, are laid apart; unless
    they are "moved" by the operation itself, as far as they go. Those that stand in one another are drawn apart where
    what was done is between them ("opened"), or where it is done to each by itself ("one by one"). What one cut took
    off pieces that are held together comes off them as far ("level"). What is only tried in one another and locks lies
    flat, as it is tried ("together"), and moves like the others that do.
    """
    work: str = ""
    """Operations with the same word are one work to a reader, and one picture if a step has them all."""
    holds_on: bool = False
    """Whether what is made of its pieces in the same step is still as its settings say."""
    taken_out: bool = False
    """Whether a part of the object is taken out of it for this, so that the others no longer stand about it."""
    old_edges: bool = False
    """Whether it leaves nothing of the wood that it takes away, which had edges that are missed now. A hole or a groove
    has none; what was sawn apart lies beside the piece, and so does what is to be glued.
    """
    section: tuple[str, ...] = ()
    """The settings that tell the size of the section of its cut; none if it has no section."""
    rounds: bool = False
    """Whether that section shows only where the piece has its outline: amid its wood it is two lines side by side."""
    fastens: Fastens = ""
    """Whether its holes are shown with what another operation of the step puts into them, or it puts that in."""
    follows: Follows = ""
    """What is done along the lines of a stencil, or at its holes; nothing that the stencil tells, if left out."""
