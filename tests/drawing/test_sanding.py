"""Which faces the picture of a step shows as sanded, and what it says of those that look away."""

from dataclasses import replace

import pytest

from planbook.drawing.marks import Stroke
from planbook.drawing.sanding import faces_away, sanded_faces
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.stage import stages
from planbook.drawing.steps import drawn_event
from planbook.drawing.views import HOME, isometric
from planbook.solids import FACE_FRAMES
from planbook.solids.solid import block
from planbook.speech import speaking
from planbook.workshop import Cue, Shown

SIZE = (200.0, 120.0, 80.0)


def on(solid, face: str, name: str = "box") -> Cue:
    frame = FACE_FRAMES[face]
    return Cue("sand", (frame.world(*solid.face(frame).middle, solid.reach(frame.n)),), name, face)


def sanded(bench, *faces: str, kind: str = "sand face", solid=None):
    solid = solid or block((0, 0, 0), SIZE)
    shown = [Shown(bench.piece("box", solid), "worked")]
    return bench.event(kind, faces[0], shown, [on(solid, face) for face in faces])


def ticks(picture) -> int:
    return len([mark for mark in picture.of_layer("sand") if isinstance(mark, Stroke)])


def test_sanding_to_a_depth_and_sanding_flush_are_one_picture(bench):
    one, two = sanded(bench, "front", "back"), sanded(bench, "right", "bottom", kind="sand flush")
    both = drawn_event([one, two])
    assert sanded_faces(both.show.cues) == ("front", "back", "right", "bottom")
    assert ticks(step_picture(bench.timeline(), both, 98, 64)) > ticks(step_picture(bench.timeline(), one, 98, 64))


def test_what_is_sanded_in_a_step_about_something_else_is_shown_where_it_still_is(bench):
    solid = block((0, 0, 0), SIZE)
    trimmed = block((0, 0, 0), (SIZE[0], SIZE[1] - 15, SIZE[2]))
    cut = ((0.0, 105.0, 0.0), (200.0, 105.0, 0.0), (200.0, 105.0, 80.0))
    trim = bench.event("trim", "back", [Shown(bench.piece("box", trimmed), "worked")], [Cue("cut line", cut, "box")])
    event = drawn_event([sanded(bench, "right", "back", solid=solid), trim])
    assert event.operation.kind == "trim"
    assert sanded_faces(event.show.cues) == ("right",), "the back that was sanded is sawn off"
    assert ticks(step_picture(bench.timeline(), event, 98, 64))


def test_ticks_go_along_with_a_piece_that_is_moved_to_its_place(bench):
    plate, rim = block((0, 0, 40), (200, 120, 50)), bench.piece("rim", block((0, 0, 0), (200, 120, 6)))
    sand = bench.event("sand face", "bottom", [Shown(bench.piece("box", plate), "worked")], [on(plate, "bottom")])
    sand = replace(sand, made=tuple(s.piece for s in sand.show.pieces))
    down = bench.piece("box", plate.moved((0.0, 0.0, -34.0)))
    glue = bench.event("glue", "top", [Shown(rim, "worked"), Shown(down, "worked", (0.0, 0.0, 20.0))])
    event = drawn_event([sand, glue])
    assert event.operation.kind == "glue"
    (cue,) = event.show.cues
    assert (cue.text, cue.piece, cue.points[0][2]) == ("bottom", "box", 6)
    assert "out of sight: bottom" in faces_away([(event.show.cues, HOME)])


def test_the_view_looks_at_most_of_the_faces(bench):
    left = stages(sanded(bench, "front", "left", "back"))[0].look.view
    assert all(sum(a * b for a, b in zip(FACE_FRAMES[f].n, left.toward, strict=True)) > 0 for f in ("front", "left"))
    assert stages(sanded(bench, "front", "right", "left"))[0].look.view == HOME
    # One face more is worth no look from below the floor.
    assert stages(sanded(bench, "front", "right", "bottom"))[0].look.view == HOME


def test_faces_that_look_away_are_named_below_the_picture(bench):
    event = sanded(bench, "front", "back", "right", "bottom")
    picture = step_picture(bench.timeline(), event, 98, 64)
    assert bench.texts(picture, "also") == ["Faces to be sanded too, out of sight: back and bottom."]
    _, top, _, bottom = bench.boxes(picture, "also")[0]
    drawn = max(y for m in picture.marks if isinstance(m, Stroke) for _, y in m.points)
    assert drawn < top
    assert bottom < picture.height <= 64
    assert not bench.texts(step_picture(bench.timeline(), sanded(bench, "front", "right"), 98, 64), "also")


def test_the_scale_leaves_room_for_these_words(bench):
    tall = block((0, 0, 0), (60, 60, 200))
    one, two = (sanded(bench, *faces, solid=tall) for faces in (("front",), ("front", "back")))
    assert step_scale(bench.timeline(), two, 98, 64) < step_scale(bench.timeline(), one, 98, 64)


def test_of_several_pieces_each_is_named_unless_all_are_alike():
    solid = block((0, 0, 0), SIZE)
    cues = [on(solid, face, name) for name in ("left box", "right box") for face in ("front", "back")]
    assert faces_away([(cues, HOME)]) == "Faces to be sanded too, out of sight: back (each piece)."
    cues.append(on(solid, "bottom", "lid"))
    assert faces_away([(cues, HOME)]) == (
        "Faces to be sanded too, out of sight: back (left box, right box); bottom (lid)."
    )
    assert faces_away([(cues[:1], HOME)]) == ""


def edged(kind, *edges: str) -> list[Cue]:
    return [Cue(kind, (), "box", edge) for edge in edges]


def test_edges_about_a_face_that_looks_away_are_named_as_well():
    both = [*edged("rounded", "front", "back"), *edged("chamfered", "left")]
    assert faces_away([(both, HOME)]) == (
        "Edges to be rounded too, out of sight: back. Edges to be chamfered too, out of sight: left."
    )
    assert faces_away([(edged("rounded", "back"), HOME), (edged("rounded", "back"), isometric(2, above=True))]) == ""


def test_an_edge_is_in_sight_where_its_chamfer_is():
    assert faces_away([(edged("chamfered", "top front", "front right"), HOME)]) == ""
    # The lower front edge is an outline, of whose chamfer nothing is seen.
    assert faces_away([(edged("chamfered", "top front", "bottom front"), HOME)]) == (
        "Edges to be chamfered too, out of sight: bottom."
    )
    assert faces_away([(edged("chamfered", "back left", "top front"), HOME)]) == (
        "Edges to be chamfered too, out of sight: back."
    )


@pytest.mark.parametrize("language", ["de", "fr", "es"])
@pytest.mark.parametrize("kind", ["sand", "rounded", "chamfered"])
def test_other_languages_say_it_too(language, kind):
    cues = [replace(on(block((0, 0, 0), SIZE), face), kind=kind) for face in ("front", "back")]
    english = faces_away([(cues, HOME)])
    with speaking(language):
        said = faces_away([(cues, HOME)])
    assert said != english
    assert "{" not in said
    assert "back" not in said


def test_a_small_spot_has_a_tick_of_its_own(bench):
    """Ends of two tongues, 18 x 40 mm, on a board of 300 x 250 mm: nothing else of the face is sanded."""
    solid = block((0, 0, 0), (20, 250, 300))
    spots = [((20.0, y, 200.0), (20.0, y + 18, 200.0), (20.0, y + 18, 240.0), (20.0, y, 240.0)) for y in (60.0, 170.0)]
    cues = [Cue("sand", ring, "side", "right") for ring in spots]
    event = bench.event("sand flush", "right", [Shown(bench.piece("side", solid), "worked")], cues)
    picture = step_picture(bench.timeline(), event, 98, 64, scale=0.13)
    # Without what is shown larger beside it.
    alone = picture.marks[: picture.marks.index(picture.of_layer("inset")[0])]
    marks = {mark.points for mark in alone if isinstance(mark, Stroke) and mark.layer == "sand"}
    assert 2 <= len(marks) <= 6
    assert len({round(line[0][0] / 8) for line in marks}) == 2
    assert not picture.missing
