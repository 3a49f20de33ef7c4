"""How an operation says that it cannot be done; never seen outside the workshop."""

from typing import Any

from planbook.text import Place
from planbook.workshop.timeline import Trouble


class Snag(Exception):  # noqa: N818 - a fact about the design, not a failure of the program
    """The operation cannot be carried out; `troubles` say why (none if an earlier trouble is the cause)."""

    def __init__(self, *troubles: Trouble) -> None:
        super().__init__(*(t.kind for t in troubles))
        self.troubles = troubles


def snag(kind: str, place: Place, step: int, also: tuple[tuple[Place, str], ...] = (), /, **facts: Any) -> Snag:
    """A snag with one trouble."""
    return Snag(Trouble(kind, place, step, facts, also))
