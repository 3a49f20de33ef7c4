"""Take the masking off again."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.solids import FACE_FRAMES
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import FaceNames, PieceName
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Show, Shown


@dataclass(frozen=True, kw_only=True)
class Unmask(Work):
    """Take the tape off `faces`, or off every face that is masked; a finish may still be soft."""

    KIND: ClassVar[str] = "unmask"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=90)

    piece: PieceName
    faces: FaceNames | None = None
    """The faces that are laid bare; all that are masked if left out."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.piece(self.piece, self.where("piece", "pieces"))
        masked = tuple(t.face for t in piece.treated if t.how == "masked")
        faces = self.faces or masked
        bare = [face for face in faces if face not in masked]
        if bare or not faces:
            facts = {"piece": piece.name, "face": bare[0] if bare else "", "masked": masked}
            raise snag("not-masked", self.where("faces", "piece", "pieces"), shop.at.step, **facts)
        left = tuple(t for t in piece.treated if t.how != "masked" or t.face not in faces)
        made = replace(piece, at=shop.at, treated=left)
        metres = sum(piece.solid.face(FACE_FRAMES[face]).perimeter for face in faces) / 1000
        return Outcome(
            taken=(piece,),
            made=(made,),
            show=Show(faces[0], (Shown(made, "worked"),)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(("faces", faces),),
        )
