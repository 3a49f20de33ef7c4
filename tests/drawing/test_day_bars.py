"""The picture of the days: bars in their place, numbers that fit, pages that are not too tall."""

from dataclasses import replace
from itertools import pairwise

import pytest

from planbook.drawing.day_bars import EDGE, LABEL, OVER, DayBars, DayWords, RestBar, WorkBar, day_pictures
from planbook.drawing.lettering import width_of
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.svg import svg
from planbook.speech import speaking

WIDTH, MINUTES = 169.0, 180.0
SCALE = (WIDTH - LABEL - EDGE) / MINUTES
DAY = DayBars(
    "Day 1",
    "1 h 10 min",
    (WorkBar(1, 0, 15), WorkBar(2, 15, 55, marked=True), WorkBar(12, 100, 101)),
    (RestBar(2, 55, 1495, marked=True), RestBar(12, 101, 150), RestBar(13, 160, 170)),
)


def only(days=(DAY,), height=150.0):
    (picture,) = day_pictures(days, MINUTES, WIDTH, height)
    return picture


def test_bars_lie_where_their_time_is():
    works = [mark.rings[0] for mark in only().of_layer("work") if isinstance(mark, Fill)]
    assert [(ring[0][0], ring[1][0]) for ring in works] == [
        (pytest.approx(LABEL + a * SCALE), pytest.approx(LABEL + b * SCALE)) for a, b in ((0, 15), (15, 55), (100, 101))
    ]


def test_what_decides_is_darker_and_has_a_heavy_line():
    soft, dark, _ = [mark.colour for mark in only().of_layer("work") if isinstance(mark, Fill)]
    assert int(dark[1:3], 16) < int(soft[1:3], 16)
    assert len(only().of_layer("marked")) == 2  # the work and the rest of step 2


def test_a_number_stands_in_its_bar_only_where_it_fits():
    steps = [mark.text for mark in only().of_layer("step") if isinstance(mark, Words)]
    assert sorted(steps) == ["1", "12", "12", "13", "2", "2"]  # one for the minute of work on step 12, one for its rest
    bars = {mark.rings[0] for mark in only().of_layer("work") if isinstance(mark, Fill)}
    for words in (mark for mark in only().of_layer("step") if mark in only().marks and isinstance(mark, Words)):
        half = width_of(words.text, words.size, bold=True) / 2
        over = [
            ring for ring in bars if ring[0][0] <= words.at[0] <= ring[1][0] and ring[0][1] <= words.at[1] <= ring[2][1]
        ]
        assert all(ring[0][0] <= words.at[0] - half and words.at[0] + half <= ring[1][0] for ring in over)


def test_every_bar_of_work_has_its_number_though_some_stand_above():
    """Bars of 1, 2 and 1 minutes, side by side: each has a line up to its number, and no number touches another."""
    short = (WorkBar(21, 60, 61), WorkBar(22, 61, 63), WorkBar(23, 63, 64), WorkBar(24, 64, 120), WorkBar(25, 179, 180))
    before = DayBars("Day 1", "", (WorkBar(20, 0, 180),), ())
    picture = only((before, DayBars("Day 2", "", short, ())))
    words = [mark for mark in picture.of_layer("step") if isinstance(mark, Words)]
    assert [mark.text for mark in words] == ["20", "24", "21", "22", "23", "25"]
    above = words[2:]
    tops = [mark.rings[0][0][1] for mark in picture.of_layer("work") if isinstance(mark, Fill)]
    feet = [mark.rings[0][2][1] for mark in picture.of_layer("work") if isinstance(mark, Fill)]
    assert all(feet[0] < mark.at[1] - mark.size and mark.at[1] < tops[1] for mark in above)
    ends = [(m.at[0] - half, m.at[0] + half) for m in above for half in (width_of(m.text, m.size, bold=True) / 2,)]
    assert all(one[1] < other[0] for one, other in pairwise(ends))
    lines = [mark.points for mark in picture.of_layer("step line")]
    middles = [LABEL + minute * SCALE for minute in (60.5, 62, 63.5, 179.5)]
    assert [line[0][0] for line in lines] == pytest.approx(middles)
    assert [line[1][0] for line in lines] == pytest.approx([mark.at[0] for mark in above])


def test_bars_of_rest_never_cover_one_another():
    boxes = [mark.points for mark in only().of_layer("rest") if isinstance(mark, Stroke) and mark.closed]
    assert len(boxes) == 3
    spans = [(min(p[0] for p in b), min(p[1] for p in b), max(p[0] for p in b), max(p[1] for p in b)) for b in boxes]
    for k, one in enumerate(spans):
        for other in spans[k + 1 :]:
            assert one[2] <= other[0] + 1e-9 or other[2] <= one[0] + 1e-9 or one[3] <= other[1] or other[3] <= one[1]


def test_rest_that_runs_on_ends_in_a_point_within_the_picture():
    longest = max(
        (m for m in only().of_layer("rest") if isinstance(m, Stroke) and m.closed),
        key=lambda m: max(p[0] for p in m.points),
    )
    assert LABEL + MINUTES * SCALE < max(point[0] for point in longest.points) <= WIDTH


def test_everything_lies_in_the_picture():
    for picture in day_pictures([DAY] * 30, MINUTES, WIDTH, 150):
        assert picture.height <= OVER * 150
        for mark in picture.marks:
            points = (
                mark.rings[0] if isinstance(mark, Fill) else mark.points if isinstance(mark, Stroke) else (mark.at,)
            )
            assert all(-0.01 <= x <= WIDTH + 0.01 and -0.5 <= y <= picture.height + 0.01 for x, y in points)
            if isinstance(mark, Words) and mark.anchor == "start":
                assert mark.at[0] + width_of(mark.text, mark.size, mark.bold) <= WIDTH


def test_many_days_are_parted_and_none_is_lost():
    days = [DayBars(f"Day {n}", "", (WorkBar(n, 0, 60),), ()) for n in range(1, 41)]
    pictures = day_pictures(days, MINUTES, WIDTH, 150)
    names = [m.text for p in pictures for m in p.of_layer("day") if isinstance(m, Words)]
    assert names == [day.name for day in days]
    assert len(pictures) == 3


def test_a_day_taller_than_the_room_still_has_a_picture():
    tall = DayBars("Day 1", "", (), tuple(RestBar(n, 0, 900) for n in range(60)))
    assert len(day_pictures([tall, DAY], MINUTES, WIDTH, 100)) == 2


def test_the_hours_are_as_close_as_they_can_be_read():
    def hours(minutes):
        (picture,) = day_pictures([DayBars("Day 1", "", (), ())], minutes, WIDTH, 150)
        return [m.text for m in picture.of_layer("hour") if isinstance(m, Words)]

    assert hours(60) == ["0 h", "¼ h", "½ h", "¾ h", "1 h"]
    assert hours(180) == ["0 h", "½ h", "1 h", "1½ h", "2 h", "2½ h", "3 h"]
    assert hours(480) == ["0 h", "1 h", "2 h", "3 h", "4 h", "5 h", "6 h", "7 h", "8 h"]
    assert hours(1440)[:2] == ["0 h", "4 h"]


def test_it_is_told_in_words_and_can_be_written():
    picture = day_pictures([DAY], MINUTES, WIDTH, 150, DayWords(alt="The days."))[0]
    assert picture.alt == "The days. Day 1: step 1, step 2, step 12."
    assert svg(picture).startswith("<svg")


def test_no_days_no_picture():
    assert day_pictures([], MINUTES, WIDTH, 150) == ()


def test_the_days_are_told_in_the_language_that_is_printed():
    free = DayBars("Tag 2", "", (), ())
    with speaking("de"):
        told = day_pictures([replace(DAY, name="Tag 1"), free], MINUTES, WIDTH, 150, DayWords(alt="Die Tage."))[0].alt
    assert told == "Die Tage. Tag 1: Schritt 1, Schritt 2, Schritt 12. Tag 2: keine Arbeit."


@pytest.mark.parametrize(("height", "parts"), [(12 * 8.4 + 14.0 - 4.0, [12]), (12 * 8.4 + 14.0 - 9.0, [6, 6])])
def test_no_day_is_left_alone_on_a_picture_of_its_own(height: float, parts: list[int]) -> None:
    """A day of work alone takes 8.4 mm, the hours and the key 14: a little more than asked for, or two halves."""
    days = [DayBars(f"Day {n}", "", (WorkBar(n, 0, 60),), ()) for n in range(1, 13)]
    pictures = day_pictures(days, MINUTES, WIDTH, height)
    assert [len([m for m in p.of_layer("day") if isinstance(m, Words)]) for p in pictures] == parts
