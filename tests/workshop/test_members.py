"""Which wood of a piece is where, told by boxes as far as they tell it: the same as cutting every member out."""

from pathlib import Path

import pytest

from planbook.reader import read_design
from planbook.solids.in_box import overlap
from planbook.workshop.members import alone, near, told_apart, volumes
from planbook.workshop.pieces import member_solids, settled
from planbook.workshop.run import build
from planbook.workshop.timeline import Piece

DESIGNS = Path(__file__).parents[2] / "designs"


def _glued(name: str) -> list[Piece]:
    """Pieces of several members of a sample, each once."""
    design = read_design(DESIGNS / name).design
    assert design is not None
    made = [piece for event in build(design).events for piece in event.made if len(piece.members) > 1]
    return list({id(piece.solid): piece for piece in made}.values())


@pytest.mark.parametrize("name", ["curlew-box", "tide-shelf", "pebble-box"])
def test_volumes_are_those_of_the_members_cut_out(name: str) -> None:
    pieces = _glued(name)
    assert len(pieces) > 5
    for piece in pieces:
        found = {id(member): volume for member, volume in volumes(piece)}
        cut = {id(member): solid.volume for member, solid in member_solids(piece)}
        assert found.keys() == cut.keys(), piece.name
        for key, volume in cut.items():
            # A board that its box tells may have gained the millionths of a millimetre by which joints overlap.
            assert found[key] == pytest.approx(volume, rel=1e-4, abs=1.0), piece.name
        assert sum(found.values()) == pytest.approx(piece.solid.volume, rel=1e-5)


def test_the_boxes_of_members_that_are_not_cut_hold_no_other_kind() -> None:
    cut = 0
    for piece in _glued("curlew-box"):
        members = near(piece)
        boxed, doubtful = told_apart(members, [member.wood for member in members])
        assert {*map(id, boxed), *map(id, doubtful)} == {*map(id, members)}
        cut += len(doubtful)
        for one in boxed:
            assert not any(other.wood != one.wood and overlap(one.box, other.box) for other in boxed)
    assert cut > 0


def test_layers_side_by_side_need_no_cut() -> None:
    piece = next(piece for piece in _glued("pebble-box") if piece.name == "blank")
    boxed, doubtful = told_apart(piece.members, range(len(piece.members)))
    assert doubtful == ()
    assert boxed == piece.members


def test_members_are_cut_down_by_their_boxes_to_what_their_regions_leave() -> None:
    by_box = 0
    for piece in _glued("pebble-box"):
        members = near(piece)
        by_box += sum(alone(members))
        kept = settled(piece)
        assert len(kept) == len(members), piece.name
        for member, was in zip(kept, members, strict=True):
            cut = piece.solid.meet(was.region)
            # By the same millionths of a millimetre as above.
            assert member.region.volume == pytest.approx(cut.volume, rel=1e-4, abs=1.0), piece.name
    assert by_box > 20
