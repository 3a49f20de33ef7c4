"""The pictures of a puzzle: its lines are named, it is tried lying on the table, its far edges are told in words."""

from pathlib import Path

import pytest
from shapely.geometry import LineString
from shapely.geometry import box as box_of

from planbook.drawing.far_edges import without_far_edges
from planbook.drawing.laid_flat import laid_flat
from planbook.drawing.line_names import with_lines_told
from planbook.drawing.marks import Words
from planbook.drawing.scene import step_picture
from planbook.drawing.steps import drawn_step
from planbook.model import Mention, Prose, Step
from planbook.reader import read_design
from planbook.solids import Solid
from planbook.solids.frames import FACE_FRAMES
from planbook.solids.plane import box, circle
from planbook.solids.solid import block, prism
from planbook.speech import speaking
from planbook.text import Place
from planbook.workshop import Cue, Shown
from planbook.workshop.run import build

SAMPLES = Path(__file__).parents[2] / "designs"
HERE = Place("steps.md")
LINE = ((60.0, 0.0, 0.0), (60.0, 0.0, 60.0))


def step(*names: str) -> Step:
    return Step(1, "Saw it", (Prose("Saw it.", HERE, tuple(Mention(name, 0, HERE) for name in names)),), HERE)


def sawn(bench, line="collar"):
    halves = [Shown(bench.piece(f"half {k}", block((61 * k, 0, 0), (61 * k + 59, 20, 60))), "new") for k in (0, 1)]
    return bench.event("saw", "front", halves, [Cue("cut line", LINE, "half 0", line=line)])


@pytest.mark.parametrize(("said", "told"), [(("Collar",), True), (("half 0",), False), ((), False)])
def test_a_line_has_its_name_where_the_words_of_the_step_call_it_so(bench, said, told) -> None:
    event = with_lines_told(sawn(bench), step(*said))
    picture = step_picture(bench.timeline(), event, 98.0, 64.0)
    names = [mark.text for mark in picture.of_layer("name") if isinstance(mark, Words)]
    assert ("collar" in names) == told
    if told:
        with speaking("en", {"collar": "neck band"}):
            again = step_picture(bench.timeline(), event, 98.0, 64.0)
        assert "neck band" in [mark.text for mark in again.of_layer("name") if isinstance(mark, Words)]


def test_where_a_line_is_called_as_a_piece_is_the_words_mean_that(bench) -> None:
    event = with_lines_told(sawn(bench, "half 0"), step("half 0"))
    assert event is not None
    assert event.show is not None
    assert {cue.line for cue in event.show.cues} == {""}


def locking() -> list[Solid]:
    """Three boards in a row, each with a round tab in the next, 10 mm thick and upright."""
    front, tab = FACE_FRAMES["front"], circle((0, 30), 8)
    faces = [box(60 * k, 0, 59, 60) for k in range(3)]
    for k in (0, 1):
        knob = tab.moved(60 * (k + 1) + 4, 0)
        faces[k], faces[k + 1] = faces[k].plus(knob), faces[k + 1].minus(knob.offset(1))
    return [prism(face, front, -10, 0) for face in faces]


def test_a_layer_that_locks_is_tried_lying_together(bench) -> None:
    shown = [Shown(bench.piece(f"part {k}", solid), "worked", (9.0 * k, 0, 0)) for k, solid in enumerate(locking())]
    event = bench.event("dry fit", "front", shown)
    found = laid_flat(event).show
    assert found.face == "top"
    assert {s.apart for s in found.pieces} == {(0.0, 0.0, 0.0)}
    # 60 mm high and 10 mm thick as it stands; what looked to the front now looks up.
    assert [round(e) for e in found.pieces[0].piece.solid.extent[1:]] == [60, 10]
    two = bench.event("dry fit", "front", shown[:2])
    assert laid_flat(two) is two
    board = Shown(bench.piece("board", block((0, -50, -20), (180, 50, 0))), "worked")
    standing = bench.event("dry fit", "front", [*shown, board])
    assert laid_flat(standing) is standing


def test_edges_on_the_far_side_are_left_to_words(bench) -> None:
    piece = bench.piece("part", block((0, 0, 0), (50, 20, 50)))
    near, far = (tuple((x, y, 25.0) for x in (0.0, 50.0)) for y in (0.0, 20.0))
    told = [Cue("rounded", (), "part", face) for face in ("front", "back")]
    event = bench.event("round over", "front", [Shown(piece, "worked")], [Cue("cut line", near, "part"), *told])
    assert without_far_edges(event).show.cues == event.show.cues
    both = bench.event(
        "round over", "front", [Shown(piece, "worked")], [*event.show.cues, Cue("cut line", far, "part")]
    )
    assert without_far_edges(both).show.cues == event.show.cues
    # Where no words tell of it, a line stays.
    alone = bench.event("saw", "front", [Shown(piece, "worked")], [Cue("cut line", far, "part")])
    assert without_far_edges(alone).show.cues == alone.show.cues


def test_no_leader_runs_over_a_name_in_another_language(bench) -> None:
    """The German names of the rails and what falls off them are longer, and stand in the corners of the picture."""
    design = read_design(SAMPLES / "dory-stool").design
    assert design is not None
    timeline, own = build(design), design.translations["de"]
    rails = next(each for each in design.steps if each.title == "Saw the rails")
    event = drawn_step(timeline, rails)
    with speaking("de", own.words):
        picture = step_picture(timeline, event, 98.0, 64.0)
    names = [box_of(*corners) for corners in bench.boxes(picture)]
    leaders = [LineString(leader) for leader in bench.leaders(picture)]
    assert len(names) == len(leaders) == 4
    assert not any(leader.intersects(name) for leader in leaders for name in names)
