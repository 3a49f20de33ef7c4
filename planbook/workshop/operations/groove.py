"""Cut a groove along the grain."""

from dataclasses import dataclass
from typing import ClassVar

from planbook.workshop.channels import Channel, in_the_face
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Face, Length
from planbook.workshop.shop import Outcome, Shop


@dataclass(frozen=True, kw_only=True)
class Groove(Channel):
    """Cut a groove parallel to an `edge` of the face, its near side `at` from that edge, along the grain."""

    KIND: ClassVar[str] = "groove"
    DRAWN: ClassVar[Drawn] = Drawn(weight=240, section=("width", "depth"))

    edge: Face
    """The edge of the face from which it is measured."""
    at: Length
    """From that edge to the near side of the groove."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        return in_the_face(self, self.edge, float(self.at), True, shop)
