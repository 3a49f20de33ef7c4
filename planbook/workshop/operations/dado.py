"""Cut a dado across the grain."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.channels import Channel, in_the_face
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Length
from planbook.workshop.shop import Outcome, Shop


@dataclass(frozen=True, kw_only=True)
class Dado(Channel):
    """Cut a dado parallel to an `edge` of the face, its near side `at` from that edge, across the grain."""

    KIND: ClassVar[str] = "dado"
    DRAWN: ClassVar[Drawn] = Drawn(weight=250, section=("width", "depth"))

    edge: Face
    """The edge of the face from which it is measured."""
    at: Length
    """From that edge to the near side of the dado."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return in_the_face(self, self.edge, float(self.at), False, shop)
