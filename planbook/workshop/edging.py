"""Edges of faces worked to a profile all along: rounded over or chamfered; knows neither by name."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from planbook.solids import FACE_FRAMES, Area, Frame, Path, Point2, Solid
from planbook.solids.frames import dot, plus, times
from planbook.solids.plane import Ring
from planbook.solids.solid import SKIN, joined, prism
from planbook.solids.turned import closed_profile, inner_rings, main_level, outer_rings, rim_cutter, worked_rim
from planbook.workshop.cutting import cut, line_cue, span
from planbook.workshop.fields import FaceNames, OffMiddle, PieceName, Text, ToolName
from planbook.workshop.limits import check_edge, check_room
from planbook.workshop.pieces import face_frame, reshaped
from planbook.workshop.shop import Outcome, Shop, Work
from planbook.workshop.snags import snag
from planbook.workshop.timeline import Cue, Piece, Show, Shown, Treated, Use

TOO_TIGHT = (
    "The drawings show part of these edges square, where they turn too tightly to be drawn round; "
    "round them all the same."
)
GAP = 1.0
"""Gaps of joints are no wider than this (mm); where wood goes on this far before a face, that has no edge there."""
UNDRAWN = "The drawings still show the edges worked in this step square."


@dataclass(frozen=True, kw_only=True)
class Edging(Work):
    """Work the edges of `faces`: the straight ones to the `sides` named, or the rims that `outline` names.

    With neither it is recorded and printed, and the solid keeps its corners: a rounded rim of many arcs makes
    everything that is measured afterwards slower. `edges` says in words which edges are meant.
    """

    EACH: ClassVar[bool] = True
    DONE: ClassVar[Literal["rounded", "chamfered"]]
    """What is done to the edges."""

    piece: PieceName
    faces: FaceNames
    tool: ToolName
    edges: Text = ""
    """In words, for the reader, which edges are meant."""
    sides: FaceNames | None = None
    """Which straight edges: those where a face meets these sides."""
    outline: Literal["none", "outer", "inner", "all"] = "none"
    """Which rims of the faces are worked: the outer one, those of openings, or all. With `none` and no `sides` it
    is printed, and the drawings keep the edge square.
    """
    rim: OffMiddle | None = None
    """Where one of several rims is meant (and no `sides`): a point near it, right and up from the middle of a face."""

    def edged(self, profile: Sequence[Point2], size: float, field: str, words: str, shop: Shop) -> Outcome:
        """Take the wood outside a profile off. Raises Snag; rims that cannot be worked are only recorded."""
        self._one_way(shop)
        piece = shop.dry(self.piece, self.where("piece", "pieces"))
        tool = shop.tool(self.tool, self.where("tool"))
        cutters: list[Solid | None] = []
        cues: list[Cue] = []
        metres = 0.0
        for face in self.faces:
            cues += [Cue(self.DONE, (), piece.name, f"{face} {side}".strip()) for side in self.sides or ("",)]
            frame = FACE_FRAMES[face]
            low, high = span(piece.solid, frame)
            check_room(piece, self.KIND, "deep", size, high - low, self.where(field), shop)
            # The largest flat face: a knob or a foot may stand out before it.
            level = main_level(piece.solid, frame)
            if self.sides:
                cutters += [self._straight(piece, face, side, profile, size, field, shop) for side in self.sides]
                metres += sum(_length(piece, face, side) for side in self.sides) / 1000
                cues += _worked(piece, face, self.sides, profile)
            else:
                section = piece.solid.section(frame, level - SKIN)
                before = piece.solid.section(frame, level + GAP)
                rings = self._rings(section if self.outline != "none" else _closed(section))
                for ring in self._meant(rings, piece, face):
                    cutter = rim_cutter(ring, frame, level, profile) if self.outline != "none" else None
                    edges = _edges(ring, before)
                    free = sum(Path(edge).length for edge in edges) > Path((*ring, ring[0])).length - 1e-6
                    if cutter and not free:  # no bit comes nearer to wood that stands before the face
                        cutter = cutter.minus(prism(before.offset(size), frame, level - size - 1, level + 1))
                    cutters += [cutter] if self.outline != "none" else []
                    metres += sum(Path(edge).length for edge in edges) / 1000
                    if cutter and free:
                        worked = worked_rim(ring, frame, level, profile)
                        cues.append(Cue("cut line", (*worked, worked[0]), piece.name))
                    else:
                        cues += _square(edges, frame, level, piece)
        return self._outcome(piece, cutters, tool.name, tool.kind, metres, cues, (field, size), words, shop)

    def _one_way(self, shop: Shop) -> None:
        """Raise Snag where straight edges are named and rims as well."""
        for name, given in (("outline", self.outline != "none"), ("rim", self.rim is not None)):
            if self.sides and given:
                raise snag("one-of-two", self.written.place, shop.at.step, fields=("sides", name), operation=self.KIND)

    def _rings(self, area: Area) -> tuple[Ring, ...]:
        """The rims that are meant: all of them where none are named."""
        outer = outer_rings(area) if self.outline != "inner" else ()
        inner = inner_rings(area) if self.outline != "outer" else ()
        return (*outer, *inner)

    def _meant(self, rings: Sequence[Ring], piece: Piece, face: str) -> Sequence[Ring]:
        """The rim nearest to the point that is written, or all of them."""
        if self.rim is None or not rings:
            return rings
        middle, (right, up) = face_frame(piece, face, "middle"), self.rim
        spot = FACE_FRAMES[face].local(middle.world(float(right), float(up), 0.0))[:2]
        return (min(rings, key=lambda ring: Path((*ring, ring[0])).distance_to_edge(spot)),)

    def _straight(
        self, piece: Piece, face: str, side: str, profile: Sequence[Point2], size: float, field: str, shop: Shop
    ) -> Solid:
        """What the profile takes off along the straight edge between two sides of the piece's box."""
        check_edge(face, side, self.where("sides"), shop)
        out, up = FACE_FRAMES[side].n, FACE_FRAMES[face].n
        low, high = span(piece.solid, FACE_FRAMES[side])
        check_room(piece, self.KIND, "wide", size, high - low, self.where(field), shop)
        corner = plus(times(out, piece.solid.reach(out)), times(up, piece.solid.reach(up)))
        along = (out[1] * up[2] - out[2] * up[1], out[2] * up[0] - out[0] * up[2], out[0] * up[1] - out[1] * up[0])
        frame = Frame(out, up, along, corner)
        section = Area.of((-d, z) for d, z in closed_profile(profile))
        start, end = span(piece.solid, frame)
        return prism(section, frame, start - 1.0, end + 1.0)

    def _outcome(
        self,
        piece: Piece,
        cutters: list[Solid | None],
        tool: str,
        kind: str,
        metres: float,
        cues: list[Cue],
        size: tuple[str, float],
        words: str,
        shop: Shop,
    ) -> Outcome:
        real = [cutter for cutter in cutters if cutter is not None]
        place = self.where("sides", "faces")
        done = cut(piece, joined(real), "dust", place, shop) if real else None
        if done is not None and len(done.parts) > 1:
            raise snag("cut-splits", place, shop.at.step, piece=piece.name, operation=self.KIND)
        solid = done.parts[0] if done else piece.solid
        treated = [Treated(face, "sanded", shop.at, 0.0, words) for face in self.faces]
        made = reshaped(piece, solid, shop, treated)
        return Outcome(
            taken=(piece,),
            made=(made,),
            lost=done.lost if done else (),
            uses=(Use(tool, kind, metres, "m"),),
            show=Show(self.faces[0], (Shown(made, "worked"),), tuple(cues)),
            hands_on=shop.minutes(self.KIND, metres),
            settings=(
                ("faces", self.faces),
                ("sides", self.sides or ()),
                size,
                ("edges", self.edges),
                ("recorded", UNDRAWN if not cutters else TOO_TIGHT if len(real) < len(cutters) else ""),
            ),
        )


def _closed(section: Area) -> Area:
    """A section without the gaps of its joints, whose edges nobody works."""
    return section.offset(GAP / 2).offset(-GAP / 2)


def _edges(ring: Ring, before: Area) -> list[Ring]:
    """The stretches of a rim that are edges: where wood goes on before the face, a section has a line there too."""
    return [path.points for path in Path((*ring, ring[0])).outside(before.offset(GAP))]


def _square(edges: Sequence[Ring], frame: Frame, level: float, piece: Piece) -> list[Cue]:
    """The lines of edges that stay square."""
    face = frame.at(frame.world(0.0, 0.0, level))
    return [line_cue(edge, face, piece.name, closed=False) for edge in edges]


def _worked(piece: Piece, face: str, sides: Sequence[str], profile: Sequence[Point2]) -> list[Cue]:
    """Lines on what a profile leaves along straight edges of a face, as far as there is wood, where they are in sight
    with the face (as of a rim, in the first quarter of the profile).
    """
    frame, solid = FACE_FRAMES[face], piece.solid
    far, drop = profile[len(profile) // 4]
    level = solid.reach(frame.n)
    wood = solid.section(frame, level - SKIN)
    left, low, right, high = wood.bounds
    lines: list[tuple[Point2, Point2]] = []
    for side in sides:
        out = FACE_FRAMES[side].n
        u, v = ((solid.reach(out) - far) * dot(out, way) for way in (frame.u, frame.v))
        if abs(dot(out, frame.u)) > 0.5:
            lines.append(((u, low), (u, high)))
            left, right = (left, u) if dot(out, frame.u) > 0 else (u, right)
        else:
            lines.append(((left, v), (right, v)))
            low, high = (low, v) if dot(out, frame.v) > 0 else (v, high)
    kept = wood.in_box(left, low, right, high).offset(SKIN)
    found = [path for ends in lines for path in Path(ends).inside(kept)]
    return [Cue("cut line", tuple(frame.world(*p, level + drop) for p in path.points), piece.name) for path in found]


def _length(piece: Piece, face: str, side: str) -> float:
    normals = FACE_FRAMES[face].n, FACE_FRAMES[side].n
    return sum(e for k, e in enumerate(piece.solid.extent) if all(abs(n[k]) < 0.5 for n in normals))
