"""A picture that is not seen from the usual side says so, clear of everything else; others say nothing."""

from dataclasses import replace

import pytest

from planbook.drawing.caption import caption_of, cornered, line
from planbook.drawing.marks import Fill, Pen, Stroke, Words
from planbook.drawing.scene import step_picture
from planbook.drawing.side_by_side import TURNED
from planbook.drawing.stage import stages
from planbook.solids.solid import block
from planbook.speech import speaking
from planbook.workshop import Shown

SIZE, WIDE, HIGH = 2.4, 60.0, 40.0
FACES = ("front", "right", "top", "back", "left", "bottom")


def worked(bench, face):
    return bench.event("sand face", face, [Shown(bench.piece("board", block((0, 0, 0), (120, 60, 20))), "worked")])


def said(bench, face, wide=90.0, high=70.0):
    return bench.texts(step_picture(bench.timeline(), worked(bench, face), wide, high), "view")


@pytest.mark.parametrize(
    ("face", "words"),
    [
        ("front", []),
        ("right", []),
        ("top", []),
        ("back", ["Seen from behind"]),
        ("left", ["Seen from the left"]),
        ("bottom", ["Seen from below"]),
    ],
)
def test_the_side_is_told_where_it_is_not_the_usual_one(bench, face, words):
    assert said(bench, face) == words


def test_it_is_told_in_the_language_of_the_booklet(bench):
    with speaking("de"):
        assert said(bench, "back") == ["Von hinten gesehen"]


def test_it_goes_with_what_is_turned_to_the_reader(bench):
    event = worked(bench, "back")
    (stage,) = stages(event)
    assert "back" in stage.choice.words
    assert caption_of(event, stage.choice.words)
    # A piece that was turned about in the picture lies there as nobody sees it from one side: that is told instead.
    about = replace(event, settings=((TURNED, ("board",)),))
    assert caption_of(about, stage.choice.words) == "Turned about in this picture: board"


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("size", [(90.0, 70.0), (60.0, 60.0), (40.0, 30.0)])
def test_it_stands_in_the_picture_and_on_nothing(bench, overlaps, face, size):
    picture = step_picture(bench.timeline(), worked(bench, face), *size)
    boxes = bench.boxes(picture, "view")
    assert overlaps([*boxes, *bench.boxes(picture)]) == []
    assert picture.height <= size[1] + 0.1
    rings = [ring for m in picture.marks if isinstance(m, Fill) for ring in m.rings]
    rings += [m.points for m in picture.marks if isinstance(m, Stroke)]
    for left, top, right, low in boxes:
        assert min(left, top) > 0
        assert right < picture.width
        assert low < picture.height
        assert not any(left < x < right and top < y < low for ring in rings for x, y in ring)


def boxed(left, top, right, low):
    return Fill((((left, top), (right, top), (right, low), (left, low)),), "#000000")


def test_it_takes_the_first_free_corner_from_below():
    text = "Seen from behind"
    assert cornered(text, (), WIDE, HIGH, SIZE).at[0] < WIDE / 4
    assert cornered(text, (), WIDE, HIGH, SIZE).at[1] > 0.9 * HIGH
    left = boxed(0, HIGH - 10, 12, HIGH)
    right = boxed(WIDE - 12, HIGH - 10, WIDE, HIGH)
    top = Stroke(((0.0, 2.0), (20.0, 2.0)), Pen(0.2))
    name = Words((WIDE - 1.0, 3.0), "carcase", SIZE, "end")
    assert cornered(text, (left,), WIDE, HIGH, SIZE).at[0] > WIDE / 2
    found = cornered(text, (left, right), WIDE, HIGH, SIZE)
    assert found.at[1] < HIGH / 4
    assert found.at[0] < WIDE / 4
    assert cornered(text, (left, right, top), WIDE, HIGH, SIZE).at[0] > WIDE / 2
    assert cornered(text, (left, right, top, name), WIDE, HIGH, SIZE) is None


def test_without_a_free_corner_it_stands_below(bench):
    """A board that fills the whole picture leaves a line of its height to the words."""
    plate = bench.event("sand face", "back", [Shown(bench.piece("plate", block((0, 0, 0), (400, 400, 200))), "worked")])
    picture = step_picture(bench.timeline(), plate, 30.0, 30.0)
    (words,) = picture.of_layer("view")
    low = max(p[1] for m in picture.marks if isinstance(m, Fill) for ring in m.rings for p in ring)
    assert isinstance(words, Words)
    assert words.at[1] > low
    assert picture.height <= 30.1
    assert picture.height - low >= line(words.size) - 1e-6
