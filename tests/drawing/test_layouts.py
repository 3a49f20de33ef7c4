"""How the paper of a picture is used: columns of names no wider than they pay, numbers and a key where those pay more."""

import pytest

from planbook.drawing.columns import Room, arranged
from planbook.drawing.layouts import KEYED, laid_out, sheet_of
from planbook.drawing.marks import Stroke, Words
from planbook.drawing.names import wanted
from planbook.drawing.scene import step_picture, step_scale
from planbook.drawing.stage import stages
from planbook.solids.solid import block
from planbook.workshop import Shown

ROOM = (98.0, 64.0)


def row(bench, count: int, name: str, apart: float = 70.0):
    """Low blocks in a row, which make a wide picture, no two alike: each is named."""
    blocks = [block((apart * k, 0, 0), (apart * k + 50, 40 + 0.1 * k, 15)) for k in range(count)]
    return bench.event("glue", "top", [Shown(bench.piece(f"{name} {k}", b), "worked") for k, b in enumerate(blocks)])


def scale_of(bench, event):
    scale = step_scale(bench.timeline(), event, *ROOM)
    assert scale is not None
    return scale


def asked(width: float, *names: str):
    """Names of blocks side by side over a drawing 40 mm high, as far apart as there is room."""
    step = width / len(names)
    rings = [
        ((k * step, 0.0), (k * step + 0.8 * step, 0.0), (k * step + 0.8 * step, 40.0), (k * step, 40.0))
        for k in range(len(names))
    ]
    return [wanted(name, [((ring, ()),)]) for name, ring in zip(names, rings, strict=True)], (0.0, 0.0, width, 40.0)


def test_long_names_are_broken_where_the_drawing_gains_by_it():
    room = Room(98.0, 64.0, 2.8, 2.0)
    long = arranged(*asked(160.0, "forward cradle block", "aftermost bulkhead frame"), room)
    short = arranged(*asked(160.0, "forward", "aftermost"), room)
    assert long is not None
    assert short is not None
    assert [label.side for label in long.labels] == ["left", "right"]
    assert all(len(label.lines) > 1 for label in long.labels)
    assert [" ".join(label.lines) for label in long.labels] == ["forward cradle block", "aftermost bulkhead frame"]
    assert long.paper.scale > 0.85 * short.paper.scale


def test_names_stay_whole_where_the_largest_scale_is_reached_anyway():
    layout = arranged(*asked(160.0, "forward cradle block", "aftermost bulkhead"), Room(98.0, 64.0, 2.8, 0.2))
    assert layout is not None
    assert [label.lines for label in layout.labels] == [("forward cradle block",), ("aftermost bulkhead",)]


def test_names_stay_whole_where_the_height_is_what_is_short(bench):
    tall = [block((0, 0, 70 * k), (40, 40 + 0.1 * k, 70 * k + 50)) for k in range(4)]
    shown = [Shown(bench.piece(f"forward cradle block {k}", b), "worked") for k, b in enumerate(tall)]
    picture = step_picture(bench.timeline(), bench.event("glue", "top", shown), *ROOM)
    assert sorted(bench.texts(picture)) == [f"forward cradle block {k}" for k in range(4)]


def test_many_long_names_give_way_to_a_key_where_the_drawing_grows_much(bench):
    event = row(bench, 8, "aftermost bulkhead", 80.0)
    views = stages(event, two=True)
    sheet = sheet_of(*ROOM, "colour", None)
    (layout,), listed = laid_out(views, sheet)
    assert sorted(listed.values()) == [f"aftermost bulkhead {k}" for k in range(8)]
    picture = step_picture(bench.timeline(), event, *ROOM)
    assert [m.text for m in picture.of_layer("key") if isinstance(m, Words)][1::2] == list(listed.values())
    assert picture.height <= ROOM[1] + 0.1
    short = row(bench, 8, "b", 80.0)
    assert layout.paper.scale > scale_of(bench, short) / KEYED


def test_the_numbers_of_a_key_are_those_of_the_pieces_list(bench):
    """One piece, one number; what the list does not have is told by a letter."""
    event, numbers = row(bench, 8, "aftermost bulkhead", 80.0), {f"aftermost bulkhead {k}": 30 - k for k in range(7)}
    picture = step_picture(bench.timeline(), event, *ROOM, numbers=numbers)
    words = [m.text for m in picture.of_layer("key") if isinstance(m, Words)]
    told = {name: tag for tag, name in zip(words[::2], words[1::2], strict=True)}
    assert told == {**{name: str(number) for name, number in numbers.items()}, "aftermost bulkhead 7": "a"}
    assert sorted(bench.texts(picture)) == sorted(told.values())


def test_a_picture_has_the_key_that_its_own_scale_was_found_with(bench):
    """Whatever smaller scale it shares: names come back only where they leave it that scale."""
    event = row(bench, 8, "aftermost bulkhead", 80.0)
    own = scale_of(bench, event)
    for share in (1.0, 0.9, 0.8, 0.7, 0.6, 0.5):
        picture = step_picture(bench.timeline(), event, *ROOM, scale=own * share)
        faces = [p[0] for m in picture.of_layer("face") for ring in m.rings for p in ring]
        whole = step_picture(bench.timeline(), event, *ROOM, scale=own)
        first = [p[0] for m in whole.of_layer("face") for ring in m.rings for p in ring]
        assert (max(faces) - min(faces)) / (max(first) - min(first)) == pytest.approx(share, rel=0.08)


@pytest.mark.parametrize("name", ["hull", "aftermost bulkhead", "a very long name indeed for a block"])
@pytest.mark.parametrize("count", [2, 5, 6, 9])
def test_nothing_touches_and_all_is_named_either_way(bench, overlaps, crossings, name, count):
    picture = step_picture(bench.timeline(), row(bench, count, name), *ROOM)
    assert overlaps([*bench.boxes(picture), *bench.boxes(picture, "key")]) == []
    assert crossings(bench.leaders(picture)) == []
    numbers = [m for m in picture.of_layer("name") if isinstance(m, Words)]
    assert len(numbers) >= count
    left, top, right, bottom = bench.extent(picture)
    assert min(left, top) >= 0
    assert right <= picture.width
    assert bottom <= picture.height
    assert all(isinstance(m, Stroke) for m in picture.of_layer("leader"))
