"""What a cut may not be: larger than the piece, or narrower than its cutter; knows no operation by name."""

from planbook.model import Tool
from planbook.solids import FACE_FRAMES
from planbook.solids.frames import dot
from planbook.text import Place
from planbook.workshop.shop import Shop
from planbook.workshop.snags import snag
from planbook.workshop.spots import diameter_of
from planbook.workshop.timeline import Piece

NOISE = 1e-9


def check_room(
    piece: Piece, what: str, way: str, asked: float, have: float, place: Place, shop: Shop, whole: bool = False
) -> None:
    """Raise Snag where a cut asks for more wood than there is; `whole` allows it to take all there is."""
    if asked > have + NOISE or (asked > have - NOISE and not whole):
        facts = {"piece": piece.name, "operation": what, "way": way, "asked": asked, "have": have}
        raise snag("cut-too-large", place, shop.at.step, **facts)


def check_cutter(tool: Tool, width: float, place: Place, shop: Shop) -> None:
    """Raise Snag where a cutter (or the kerf of a saw) is wider than what it is to cut, mm."""
    have = max(diameter_of(tool, shop), shop.kerf(tool))
    if have > width + NOISE:
        raise snag("cutter-too-wide", place, shop.at.step, tool=tool.name, have=have, asked=width)


def check_edge(face: str, edge: str, place: Place, shop: Shop) -> None:
    """Raise Snag where two sides have no edge in common."""
    if abs(dot(FACE_FRAMES[face].n, FACE_FRAMES[edge].n)) > 0.5:
        raise snag("no-such-edge", place, shop.at.step, face=face, edge=edge)
