"""Turn a piece over or stand it up, so that it lies as it will in the object."""

from dataclasses import dataclass, replace
from typing import ClassVar, Literal

from planbook.solids import AXES, FACE_FRAMES, Vec3
from planbook.solids.frames import dot
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import Angle, PieceName, Triple
from planbook.workshop.pieces import moved, turned, turned_vector
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Piece, Show, Shown, Treated

SAME = 0.9999
"""Cosine between two directions that count as one."""
MINUTES = 1.0


@dataclass(frozen=True, kw_only=True)
class Turn(Work):
    """Turn a piece left round about an axis by `angle`; `to` says where its lower front left corner comes to lie.

    With `about`, it is turned about that place instead of its own middle, as what swings or slides in a round groove.
    The papers stuck on it are turned with it.
    """

    KIND: ClassVar[str] = "turn"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=150, laid="opened", taken_out=True)

    piece: PieceName
    axis: Literal["x", "y", "z"]
    """The axis about which it is turned, left round as seen against the axis."""
    angle: Angle
    """How far."""
    about: Triple | None = None
    """A place that the axis goes through; the middle of the piece if left out."""
    to: Triple | None = None
    """Where its lower front left corner comes to lie; where the turn leaves it if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.piece(self.piece, self.where("piece", "pieces"))
        axis, degrees = AXES[self.axis], float(self.angle)
        x, y, z = self.about or piece.solid.middle
        found = turned(piece, axis, degrees, (float(x), float(y), float(z)))
        if self.to is not None:
            low = found.solid.bounds[0]
            x, y, z = (float(want) - have for want, have in zip(self.to, low, strict=True))
            found = moved(found, (x, y, z))
        made = replace(found, at=shop.at, treated=_faces_turned(piece, axis, degrees))
        return Outcome(
            taken=(piece,),
            made=(made,),
            show=Show("front", (Shown(made, "worked"),)),
            hands_on=MINUTES,
            settings=(("about", self.axis), ("angle", self.angle)),
        )


def _faces_turned(piece: Piece, axis: Vec3, degrees: float) -> tuple[Treated, ...]:
    """What was done to the faces, under the names that they have now; a face that has none any more is left out."""
    found: list[Treated] = []
    for each in piece.treated:
        if each.face not in FACE_FRAMES:
            found.append(each)
            continue
        now = turned_vector(FACE_FRAMES[each.face].n, axis, degrees)
        name = next((face for face, frame in FACE_FRAMES.items() if dot(frame.n, now) > SAME), None)
        if name is not None:
            found.append(replace(each, face=name))
    return tuple(found)
