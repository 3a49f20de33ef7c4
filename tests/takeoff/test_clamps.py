"""How many clamps a build asks for, and how wide they open."""

from dataclasses import replace
from fractions import Fraction

from planbook.takeoff.schedule.records import Wait
from planbook.takeoff.settings import show_setting
from planbook.takeoff.tools import tools
from planbook.units import INCH_32, MM_TENTH
from planbook.workshop import Cue, Show, Use
from planbook.workshop.timeline import REACHING


def _clamp(x, lo, hi):
    """Both ends of a clamp along y over a place: from outside to the wood."""
    ends = ((lo - 10.0, lo), (hi + 10.0, hi))
    return tuple(Cue("clamp", ((x, tail, 0.0), (x, tip, 0.0)), "rail") for tail, tip in ends)


def _glue(bench, *clamps):
    bench.do(
        "glue up",
        uses=[Use("clamps", "clamps", 1, "set")],
        settings=(("clamp", 60.0),),
        show=Show("top", (), tuple(cue for clamp in clamps for cue in clamp)),
    )


def _settings(bench, style=MM_TENTH):
    row = next(row for row in tools(bench.timeline()) if row.name == "clamps")
    return {setting.key: show_setting(setting, style) for setting in row.settings}


def test_the_step_with_the_most_clamps_says_how_many_and_the_widest_work_how_far_they_open(bench):
    bench.step("Glue the frame")
    _glue(bench, _clamp(10.0, 0.0, 40.0), _clamp(60.0, 0.0, 40.0))
    _glue(bench, _clamp(60.0, 0.0, 40.0), _clamp(90.0, 0.0, 40.0))
    bench.step("Glue the lid")
    _glue(bench, _clamp(10.0, -1.0, 121.3))
    # The clamp at 60 presses for both joints of step 1; 122.3 mm and two blocks of 20 mm are rounded up, never
    # down.
    assert _settings(bench) == {"at least": "3", "opening at least": "170 mm"}
    assert _settings(bench, INCH_32)["opening at least"] == "6 1/2 in"
    both = replace(MM_TENTH, also=INCH_32)
    assert _settings(bench, both)["opening at least"] == "170 mm (6 1/2 in)"


def test_what_presses_with_no_clamp_in_its_picture_asks_for_no_number(bench):
    bench.step("Glue the mitres")
    push = Cue("push", ((0.0, -10.0, 0.0), (0.0, 0.0, 0.0)), "rail")
    _glue(bench, (push,))
    assert _settings(bench) == {}


def test_feet_of_a_clamp_beside_one_another_open_as_far_as_the_work_and_a_block_at_each_jaw_are_wide(bench):
    bench.step("Glue")
    one, two = _clamp(10.0, 0.0, 40.0)
    aside = replace(two, points=tuple((x + 30.0, y, z) for x, y, z in two.points))
    _glue(bench, (one, aside))
    row = next(row for row in tools(bench.timeline()) if row.name == "clamps")
    assert {s.key: s.value.value for s in row.settings} == {"at least": 1, "opening at least": Fraction(40 + 2 * 20)}


def test_small_clamps_that_reach_in_are_listed_by_themselves(bench):
    bench.step("Glue the arch")
    near = tuple(replace(end, text=REACHING) for end in _clamp(30.0, 0.0, 18.0))
    _glue(bench, _clamp(10.0, 0.0, 40.0), near)
    rows = {row.name: row for row in tools(bench.timeline())}
    said = {name: [show_setting(s, MM_TENTH) for s in rows[name].settings] for name in ("clamps", "small clamps")}
    assert said == {"clamps": ["1", "80 mm"], "small clamps": ["1", "30 mm"]}
    assert rows["small clamps"].steps == (1,)


def test_clamps_that_are_on_at_one_time_are_added_up_by_what_rests(bench):
    bench.step("Glue the frame")
    _glue(bench, _clamp(10.0, 0.0, 40.0), _clamp(60.0, 0.0, 40.0))
    bench.step("Glue the lid")
    _glue(bench, _clamp(10.0, 0.0, 40.0))
    bench.step("Glue the box")
    _glue(bench, _clamp(10.0, 0.0, 40.0), _clamp(60.0, 0.0, 40.0))

    def most(*starts):
        waits = [Wait(n, "cure", at, at + 1440, (), False, 60) for n, at in enumerate(starts, start=1)]
        row = next(row for row in tools(bench.timeline(), waits=waits) if row.name == "clamps")
        return row.settings[0].value.value

    # Clamps come off after an hour: 50 minutes later two more are wanted besides, 60 minutes later they are free.
    assert most(0, 50, 2000) == 3
    assert most(0, 60, 2000) == 2
    assert most(0, 20, 40) == 5
    assert most(0, 20, 70) == 3
