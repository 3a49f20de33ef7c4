"""On which faces glue goes: those that meet or fill one another, none of which a gap is left at; sizes by hand."""

import pytest

from planbook.solids import FACE_FRAMES, Area, Solid
from planbook.solids.solid import block, prism
from planbook.text import Place
from planbook.workshop import At, Piece, Shown
from planbook.workshop.glue_apart import AHEAD
from planbook.workshop.gluing import _spread
from planbook.workshop.mating import contacts

FACES = {"x": ("right", 1, 2), "y": ("back", 0, 2), "z": ("top", 0, 1)}


def glued(axis: str, **solids: Solid) -> dict[tuple[str, str, float], float]:
    """The area of glue, mm2, by piece, axis and level."""
    place = At(1, 1, Place("steps.md"))
    shown = [Shown(Piece(name, solid, (), place), "worked") for name, solid in solids.items()]
    met = contacts(list(solids.values()), FACE_FRAMES[AHEAD[axis]])
    found: dict[tuple[str, str, float], float] = {}
    for cue in _spread(shown, axis, met):
        for across, (_, i, j) in FACES.items():
            k = "xyz".index(across)
            if max(p[k] for p in cue.points) - min(p[k] for p in cue.points) < 1e-6:
                key = (cue.piece, across, round(cue.points[0][k], 2))
                found[key] = found.get(key, 0.0) + Area.of([(p[i], p[j]) for p in cue.points]).size
    return found


def test_a_shelf_in_its_dado_is_glued_at_its_end_and_on_the_walls_that_it_touches():
    side = block((0, 0, 0), (20, 150, 300)).minus(block((13, -1, 100), (21, 151, 118)))
    shelf = block((13, 0, 100), (400, 150, 118))
    assert glued("x", side=side, shelf=shelf) == {
        ("side", "x", 13): pytest.approx(150 * 18),
        ("shelf", "x", 13): pytest.approx(150 * 18),
        **{(name, "z", z): pytest.approx(150 * 7, rel=1e-3) for name in ("side", "shelf") for z in (100, 118)},
    }


def test_a_dado_that_nothing_stands_in_and_an_end_with_air_stay_dry():
    """The second dado is for a shelf that comes later, and the rail is a third of a millimetre short of the side."""
    cuts = [block((13, -1, z), (21, 151, z + 18)) for z in (100, 200)]
    side = block((0, 0, 0), (20, 150, 300)).minus(*cuts)
    shelf, rail = block((13, 0, 100), (400, 150, 118)), block((20.3, 100, 60), (400, 118, 100))
    found = glued("x", side=side, shelf=shelf, rail=rail)
    assert not [key for key in found if key[1] == "x" and key[0] == "rail"]
    assert not [key for key in found if key[2] > 118]
    assert found["rail", "z", 100] == pytest.approx(379.7 * 18)


@pytest.mark.parametrize(("play", "filled"), [(0.2, True), (0.4, False)])
def test_glue_fills_a_little_play_of_a_tongue(play, filled):
    slot = block((-1, 20 - play, 0), (21, 40 + play, 99))
    side, rail = block((0, 0, 0), (20, 60, 99)).minus(slot), block((20, 10, 0), (200, 50, 99))
    rail = rail.plus(block((0, 20, 0), (20, 40, 99)))
    walls = {key for key in glued("x", side=side, rail=rail) if key[1] == "y"}
    assert bool(walls) is filled
    if filled:
        assert walls == {("side", "y", 19.8), ("rail", "y", 20), ("rail", "y", 40), ("side", "y", 40.2)}


def test_no_glue_goes_where_an_opening_or_a_groove_is():
    holed = block((0, 0, 0), (100, 10, 80)).minus(*(block((x, -1, 20), (x + 20, 11, 60)) for x in (10, 50)))
    whole = block((0, 10, 0), (100, 20, 80))
    found = glued("y", holed=holed, whole=whole)
    assert found == {("holed", "y", 10): pytest.approx(6400), ("whole", "y", 10): pytest.approx(6400)}


def test_both_faces_of_a_mitre_are_glued():
    top, place = FACE_FRAMES["top"], At(1, 1, Place("steps.md"))
    front = prism(Area.of([(0, 0), (300, 0), (285, 15), (15, 15)]), top, 0, 60)
    left = prism(Area.of([(0, 200), (0, 0), (15, 15), (15, 185)]), top, 0, 60)
    shown = [Shown(Piece(name, solid, (), place), "worked") for name, solid in (("front", front), ("left", left))]
    cues = list(_spread(shown, "y", []))
    assert sorted(cue.piece for cue in cues) == ["front", "left"]
    for cue in cues:
        assert {(round(x, 2), round(y, 2)) for x, y, _ in cue.points} == {(0, 0), (15, 15)}
        assert {round(z, 2) for _, _, z in cue.points} == {0, 60}
