"""Drawings of boards: to scale, every part named, every cut numbered, nothing over anything else."""

from itertools import combinations

import pytest

from planbook.drawing.cut_board import LARGEST, MARGIN, MOST_CUTS, ROUND, CutBoard, CutLine, CutPart, cut_pictures
from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Picture, Stroke, Words

ROOM = (168.0, 96.0)


def board(parts: int = 2, cuts: int = 4, **more) -> CutBoard:
    each = tuple(CutPart(25 + 223 * n, 4, 220, 170, f"side {n}", "220 × 170 mm") for n in range(parts))
    lines = [CutLine(1, "crosscut", 23.5, 0, 200), CutLine(2, "rip", 2.5, 25, 575)]
    lines += [CutLine(n, "crosscut", 25 + 27.0 * n, 4, 196) for n in range(3, cuts + 1)]
    return CutBoard(**{"length": 600, "width": 200, "wood": "cherry", "parts": each, "cuts": tuple(lines), **more})


def drawn(one: CutBoard, **more) -> Picture:
    (picture,) = cut_pictures(one, *ROOM, **more)
    return picture


def extent(points) -> tuple[float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def test_parts_are_to_scale():
    picture = drawn(board())
    (frame,) = picture.of_layer("board")
    wide, high = extent(frame.points)
    assert wide / high == pytest.approx(3)
    assert wide == pytest.approx(600 * LARGEST)
    for mark in picture.of_layer("part"):
        points = mark.points if isinstance(mark, Stroke) else mark.rings[0]
        assert extent(points) == pytest.approx((220 * wide / 600, 170 * wide / 600))


def test_a_long_board_fills_the_width_and_a_wide_one_stays_within_the_height():
    long = drawn(board(length=3000))
    (frame,) = long.of_layer("board")
    assert extent(frame.points)[0] == pytest.approx(ROOM[0] - 2 * MARGIN)
    square = drawn(board(length=1500, width=1500))
    assert square.height <= ROOM[1] + 0.01


def test_every_part_is_named_with_its_size():
    picture = drawn(board())
    words = [mark.text for mark in picture.marks if isinstance(mark, Words)]
    assert {"side 0", "side 1"} <= set(words)
    assert words.count("220 × 170 mm") == 2


def test_a_name_stays_inside_its_part_and_one_without_room_is_explained_below():
    small = (
        CutPart(30, 10, 20, 15, "a small glue block", "20 × 15 mm"),
        CutPart(60, 10, 300, 100, "side", "300 × 100 mm"),
    )
    one = CutBoard(600, 200, "cherry", small, ())
    picture = drawn(one)
    key = [mark.text for mark in picture.of_layer("key")]
    assert key == ["a", "a small glue block, 20 × 15 mm"]
    (large,) = [mark for mark in picture.of_layer("label") if isinstance(mark, Words) and mark.text == "side"]
    assert width_of(large.text, large.size, large.bold) < 300 * LARGEST


def test_parts_alike_share_one_line_below():
    tiny = tuple(CutPart(30.0 * n, 10, 20, 15, "block", "20 × 15 mm") for n in range(5))
    picture = drawn(CutBoard(600, 200, "cherry", tiny, ()))
    assert [mark.text for mark in picture.of_layer("key")] == ["a", "block, 20 × 15 mm"]
    assert [m.text for m in picture.of_layer("label")] == ["a"] * 5


def test_cuts_are_numbered_once_each_and_the_numbers_stand_apart():
    picture = drawn(board(cuts=9))
    numbers = [mark for mark in picture.of_layer("number") if isinstance(mark, Words)]
    assert sorted(int(mark.text) for mark in numbers) == list(range(1, 10))
    for one, other in combinations(numbers, 2):
        assert max(abs(one.at[0] - other.at[0]), abs(one.at[1] - other.at[1])) >= 2 * ROUND


def test_many_cuts_get_a_picture_of_their_own():
    names, cuts = cut_pictures(board(cuts=MOST_CUTS + 1), *ROOM)
    assert not names.of_layer("cut")
    assert names.of_layer("label")
    assert len(cuts.of_layer("cut")) == MOST_CUTS + 1
    assert not cuts.of_layer("label")
    assert names.alt != cuts.alt


def test_cuts_crowded_on_a_small_spot_are_led_to():
    lines = tuple(CutLine(n, "rip", 50 + 4.0 * n, 100, 120) for n in range(1, 9))
    picture = drawn(CutBoard(2400, 1200, "birch plywood", (), lines))
    assert picture.of_layer("leader")
    numbers = [mark for mark in picture.of_layer("number") if isinstance(mark, Words)]
    assert len(numbers) == 8


def test_waste_is_hatched_and_an_offcut_worth_keeping_is_not_tinted():
    kept = (CutPart(480, 4, 90, 190, "offcut A", "90 × 190 mm"),)
    picture = drawn(board(kept=kept))
    assert any(isinstance(mark, Stroke) for mark in picture.of_layer("waste"))
    fills = [mark.colour for mark in picture.of_layer("offcut") if isinstance(mark, Fill)]
    assert fills == ["#ffffff"]
    assert "offcut A" in [mark.text for mark in picture.of_layer("label")]


def test_a_defect_is_crossed_and_grain_has_an_arrow():
    picture = drawn(board(defects=(CutPart(300, 50, 40, 40, "", ""),), grain="grain"))
    assert len(picture.of_layer("defect")) > 3
    assert [mark.text for mark in picture.of_layer("grain") if isinstance(mark, Words)] == ["grain"]
    assert not drawn(board()).of_layer("grain")


def test_with_black_ink_nothing_is_tinted():
    picture = drawn(board(grain="grain"), ink="black")
    assert {mark.colour for mark in picture.marks if isinstance(mark, Fill)} == {"#ffffff"}


def test_everything_lies_on_the_picture():
    for picture in cut_pictures(board(parts=2, cuts=MOST_CUTS + 6, grain="grain"), *ROOM):
        for mark in picture.marks:
            points = (
                [mark.at] if isinstance(mark, Words) else mark.points if isinstance(mark, Stroke) else mark.rings[0]
            )
            assert all(-0.01 <= x <= picture.width and -0.01 <= y <= picture.height + 0.01 for x, y in points)
