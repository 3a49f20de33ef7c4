"""Mask faces, so that no finish or glue gets on them."""

from dataclasses import dataclass, replace
from typing import ClassVar

from planbook.solids import FACE_FRAMES, Solid
from planbook.workshop.cutting import line_cue, stacked_apart
from planbook.workshop.drawn import Drawn
from planbook.workshop.fields import FaceNames, PieceName, SupplyName
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.timeline import Cue, Show, Treated, Use


@dataclass(frozen=True, kw_only=True)
class Mask(Work):
    """Cover `faces` with `tape`: a finish leaves them bare until they are unmasked."""

    KIND: ClassVar[str] = "mask"
    EACH: ClassVar[bool] = True
    DRAWN: ClassVar[Drawn] = Drawn(weight=100)

    piece: PieceName
    faces: FaceNames
    tape: SupplyName
    """The tape, by its name among the supplies."""

    def work(self, shop: Shop) -> Outcome:
        """Carry it out. Raises Snag."""
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tape = shop.supply(self.tape, self.where("tape"), "other")
        faces = tuple(dict.fromkeys(self.faces))
        covered = [Treated(f, "masked", shop.at, piece.solid.face(FACE_FRAMES[f]).size, tape.name) for f in faces]
        kept = tuple(t for t in piece.treated if t.how != "masked" or t.face not in faces)
        made = replace(piece, at=shop.at, treated=(*kept, *covered))
        metres = rim_length(piece.solid, faces) / 1000
        return Outcome(
            taken=(piece,),
            made=(made,),
            uses=(Use(tape.name, tape.kind, metres, "m"),),
            show=Show(faces[0], stacked_apart([(made, "worked")], "x"), rim_cues(piece.solid, faces, piece.name)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(("faces", faces), ("area", sum(t.area for t in covered))),
        )


def rim_length(solid: Solid, faces: tuple[str, ...]) -> float:
    """The length of the edges round faces, mm."""
    return sum(solid.face(FACE_FRAMES[face]).perimeter for face in faces)


def rim_cues(solid: Solid, faces: tuple[str, ...], piece: str) -> tuple[Cue, ...]:
    """The edges round faces, drawn."""
    cues = []
    for face in faces:
        frame = FACE_FRAMES[face]
        on_face = frame.at(frame.world(0.0, 0.0, solid.reach(frame.n)))
        cues += [line_cue(ring, on_face, piece) for ring in solid.face(frame).rings]
    return tuple(cues)
