"""What one cut takes off several pieces that are held together stays level in the picture."""

import pytest

from planbook.drawing.steps import drawn_event
from planbook.solids import FACE_FRAMES
from planbook.solids.plane import circle
from planbook.solids.solid import block, prism
from planbook.workshop import Shown

FRONT = FACE_FRAMES["front"]


def sliced(bench):
    """A drum and the two halves of its cradle, each sliced: what comes off moves as far as each is large."""
    drum = prism(circle((100, 50), 40), FRONT, -60, 0)
    whole = block((0, 0, 0), (200, 60, 100)).minus(prism(circle((100, 50), 41), FRONT, -61, 1))
    halves = block((0, -1, 0), (100, 61, 100)), block((100, -1, 0), (200, 61, 100))
    solids = {"drum": drum, "left": whole.meet(halves[0]), "right": whole.meet(halves[1])}
    events = []
    for far, (name, solid) in enumerate(solids.items(), 20):
        layer, rest = solid.split((0, -1, 0), -10)
        shown = [
            Shown(bench.piece(f"{name} layer", layer), "new", (0.0, -float(far), 0.0)),
            Shown(bench.piece(f"{name} rest", rest), "new"),
        ]
        events.append(bench.event("slice", "front", shown))
    return events


def test_layers_of_one_cut_stay_where_they_were_to_one_another(bench):
    """Pieces about a curve lie in each other's boxes, and hide nothing of one another: no row is made of them."""
    apart = {s.piece.name: s.apart for s in drawn_event(sliced(bench)).show.pieces}
    assert {apart[f"{name} rest"] for name in ("drum", "left", "right")} == {(0.0, 0.0, 0.0)}
    assert {apart[f"{name} layer"] for name in ("drum", "left", "right")} == {(0.0, -22.0, 0.0)}


def test_slices_off_one_piece_stay_spread(bench):
    slices = [
        Shown(bench.piece(f"slice {k}", block((0, 0, 10 * k), (50, 50, 10 * k + 8))), "new", (0.0, 0.0, 20.0 * k))
        for k in range(3)
    ]
    shown = drawn_event([bench.event("slice", "top", slices)]).show.pieces
    assert [s.apart[2] for s in shown] == pytest.approx([0, 20, 40])
