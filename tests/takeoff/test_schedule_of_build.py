"""The schedule of a build: what waits for what, batches, and what can be done meanwhile."""

from dataclasses import replace
from pathlib import Path

import pytest

from planbook.model import Node, Operation
from planbook.reader import read_design
from planbook.takeoff.schedule import day_table, fact_table, plan
from planbook.takeoff.schedule.graph import depends
from planbook.takeoff.schedule.read import jobs_of
from planbook.text import Place
from planbook.workshop import Use
from planbook.workshop.run import build

CURE = 1440.0


def glue(bench, kind, taken, made, clamp=60.0, hands_on=10.0):
    """A glued joint that is wet for a day from the end of the work."""
    start = bench.events[-1].start + bench.events[-1].hands_on + bench.events[-1].wait if bench.events else 0.0
    wet = replace(made, wet=start + hands_on + CURE)
    bench.do(kind, taken, (wet,), (Use("wood glue", "glue"),), hands_on=hands_on, wait=clamp)
    return wet


def wait(bench, minutes, **fields):
    bench.do("wait", hands_on=0, wait=minutes)
    event = bench.events[-1]
    table = {key: Node(value, Place("steps.md")) for key, value in fields.items()}
    operation = Operation("wait", Node(table, Place("steps.md")), event.at.step, event.at.number, Place("steps.md"))
    bench.events[-1] = replace(event, operation=operation)


@pytest.fixture
def box(bench, make_piece):
    """A lid is glued, dries overnight and is sawn; a knob is turned meanwhile or afterwards."""
    sides = [make_piece(f"side {k}", (100, 10, 50)) for k in (1, 2)]
    bench.step("Mill")
    bench.do("mill", (), sides, hands_on=20)
    bench.step("Glue")
    lid = glue(bench, "glue up", sides, make_piece("lid", (100, 20, 50)))
    wait(bench, CURE - 60, dry=(Node("lid", Place("steps.md")),))
    bench.step("Saw")
    bench.do("saw", (lid,), (replace(lid, wet=0.0),), hands_on=30)
    bench.step("Knob")
    knob = make_piece("knob", (10, 10, 10))
    bench.do("cut plugs", (), (knob,), hands_on=15)
    bench.ends("part", replace(lid, wet=0.0), knob)
    return bench.timeline()


def test_work_on_a_piece_waits_until_it_is_dry_and_other_work_does_not(box):
    found = plan(box)
    assert [(s.step, s.start, s.end) for day in found.days for s in day.stints] == [
        (1, 0, 20),
        (2, 20, 30),
        (4, 30, 45),
        (3, 1470, 1500),
    ]
    assert (found.work, found.longest, found.path, len(found.days), found.days_in_order) == (75, 1500, (1, 2, 3), 2, 2)
    assert found.is_least
    assert [(s.step, s.slack, s.meanwhile) for s in found.steps] == [
        (1, 0, ()),
        (2, 0, (4,)),
        (3, 0, ()),
        (4, 1485, ()),
    ]


def test_what_is_done_meanwhile_is_told_with_what_it_needs(bench, make_piece):
    """The knob is bored partly in the first clamp time of a lid and partly after it; it is turned while the lid cures."""
    knob = make_piece("knob", (50, 50, 50))
    bench.step("Prepare")
    bench.do("mill", hands_on=100)
    bench.step("Lid")
    lid = glue(bench, "glue up", (), make_piece("lid", (50, 50, 50)))
    lid = glue(bench, "shim", (lid,), lid, hands_on=20)
    wait(bench, CURE)
    bench.step("Saw")
    bench.do("saw", (lid,), (replace(lid, wet=0.0),), hands_on=30)
    bench.step("Bore")
    for minutes in (65, 5):
        bench.do("bore", (knob,), (knob,), hands_on=minutes)
    bench.step("Turn")
    bench.do("saw", (knob,), (knob,), hands_on=150)
    found = plan(bench.timeline())
    assert [(s.step, s.start, s.end) for day in found.days for s in day.stints] == [
        (1, 0, 100),
        (2, 100, 110),
        (4, 110, 180),
        (2, 1440, 1460),
        (5, 1460, 1610),
        (3, 2900, 2930),
    ]
    assert {step.step: step.meanwhile for step in found.steps}[2] == (4, 5)


def test_steps_of_lower_numbers_that_the_days_leave_for_a_wait_are_told_there(bench, make_piece):
    """The lid is glued while the door cures, and cures itself while the door is sanded."""
    knob = make_piece("knob", (50, 50, 50))
    bench.step("Door")
    door = glue(bench, "glue up", (), make_piece("door", (50, 50, 50)), hands_on=100)
    wait(bench, CURE)
    bench.step("Sand the door")
    bench.do("sand face", (door,), (replace(door, wet=0.0),), hands_on=10)
    bench.step("Lid")
    lid = glue(bench, "glue up", (knob,), make_piece("lid", (50, 50, 50)), hands_on=20)
    wait(bench, CURE)
    bench.ends("part", lid, replace(door, wet=0.0))
    found = {step.step: (step.meanwhile, step.undone) for step in plan(bench.timeline()).steps}
    assert found == {1: ((3,), ()), 2: ((), ()), 3: ((), (2,))}


def test_the_parts_of_a_step_know_their_pieces_or_what_they_wait_for(bench, make_piece):
    left, right = (make_piece(name, (50, 50, 50)) for name in ("left", "right"))
    bench.step("Glue and trim")
    lid = glue(bench, "shim", (), make_piece("lid", (50, 50, 50)))
    bench.do("trim", (lid,), (replace(lid, wet=0.0),), hands_on=10)
    bench.step("Sand")
    bench.do("sand face", (left,), (left, make_piece("chip", (1, 1, 1))), hands_on=100)
    bench.do("sand face", (right,), (right,), hands_on=100)
    stints = [stint for day in plan(bench.timeline()).days for stint in day.stints]
    assert sorted((s.step, s.part, s.parts, s.pieces, s.rested, s.rests) for s in stints) == [
        (1, 1, 2, (), False, True),
        (1, 2, 2, (), True, False),
        (2, 1, 2, ("left",), False, False),
        (2, 2, 2, ("right",), False, False),
    ]


def test_a_step_is_no_work_for_a_wait_where_a_part_of_it_waits_for_what_was_glued_just_before(bench, make_piece):
    """Drawers get their knobs, then a door gets its own; the edges of box and drawers are rounded in one step."""
    body, knob = make_piece("body", (50, 50, 50)), make_piece("knob", (10, 10, 10))
    bench.step("Knobs of the drawers")
    drawer = glue(bench, "plug", (), make_piece("drawer", (50, 50, 50)), clamp=0)
    bench.step("Knob of the door")
    door = glue(bench, "plug", (), make_piece("door", (50, 50, 50)), clamp=0)
    wait(bench, CURE)
    bench.step("Round")
    bench.do("round over", (body,), (body,), hands_on=10)
    bench.do("round over", (drawer,), (replace(drawer, wet=0.0),), hands_on=10)
    bench.step("Turn")
    bench.do("saw", (knob,), (knob,), hands_on=10)
    bench.step("Open")
    bench.do("saw", (door,), (replace(door, wet=0.0),), hands_on=10)
    assert {step.step: step.meanwhile for step in plan(bench.timeline()).steps}[2] == (4,)


def test_plain_rows_for_a_command(box):
    assert day_table(plan(box)) == (
        ("Day", "Step", "What", "Work", "Rests overnight"),
        ("1", "1", "Mill", "20 min", "step 2"),
        ("", "2", "Glue", "10 min", ""),
        ("", "4", "Knob", "15 min", ""),
        ("2", "3", "Saw", "30 min", ""),
    )
    facts = dict(fact_table(plan(box)))
    assert facts["Days of work"] == "2 (the fewest possible)"
    assert facts["Steps of that chain"] == "1, 2, 3"


def test_what_rests_overnight(box):
    first, second = plan(box).days
    assert [(w.step, w.kind, w.start, w.end, w.pieces, w.critical) for w in first.overnight] == [
        (2, "cure", 30, 1470, ("lid",), True)
    ]
    assert (first.work, second.work, second.overnight) == (45, 30, ())


def test_a_batch_is_set_up_once_and_shares_its_waits(box):
    events = tuple(replace(event, set_up=min(10.0, event.hands_on)) for event in box.events)
    found = plan(replace(box, events=events), count=4)
    # 10 minutes of each is for setting up: 10 + 4 x 10, 10 + 4 x 0, 10 + 4 x 20, 10 + 4 x 5
    assert [s.work for s in found.steps] == [50, 10, 90, 30]
    assert (found.work, found.longest, found.count) == (180, 60 + 1440 + 90, 4)


@pytest.mark.parametrize("count", [0, -1])
def test_less_than_one_cannot_be_made(box, count):
    with pytest.raises(ValueError, match="nothing is made"):
        plan(box, count=count)


def test_clamps_are_waited_for_even_where_the_cure_is_not(bench, make_piece):
    bench.step("Glue")
    lid = glue(bench, "glue up", (), make_piece("lid", (100, 20, 50)))
    bench.step("Set aside")
    bench.do("set aside", (lid,), (lid,), hands_on=5)  # 60 minutes later, still wet
    bench.step("Saw")
    wait(bench, CURE)
    bench.do("saw", (lid,), (replace(lid, wet=0.0),), hands_on=5)
    assert [(job.step, [(k.before, k.lag) for k in job.task.after]) for job in jobs_of(bench.timeline())] == [
        (1, []),
        (2, [(0, 60)]),
        (3, [(0, 1440), (1, 0)]),
    ]


def test_coats_are_tasks_with_waits_between_and_dry_at_the_end(bench, make_piece):
    box = make_piece("box", (100, 100, 100), wet=30.0 + 2 * 480)
    bench.step("Oil")
    settings = (("coats", 2), ("between coats", 480.0))
    bench.do("finish", (box,), (box,), (Use("oil", "finish"),), settings=settings, hands_on=30, wait=480)
    bench.ends("part", box)
    found = plan(bench.timeline(), work_a_day=60)
    assert [(s.start, s.end, s.part, s.parts) for day in found.days for s in day.stints] == [
        (0, 15, 1, 2),
        (1440, 1455, 2, 2),
    ]
    assert [wait.kind for wait in found.waits] == ["dry", "dry"]
    assert (found.ready, found.drying) == (1455 + 480, 480)


def test_a_stated_wait_holds_up_what_was_worked_on(bench, make_piece):
    lid, knob = make_piece("lid", (100, 20, 50)), make_piece("knob", (10, 10, 10))
    bench.step("Stain")
    bench.do("stick", (), (lid,), hands_on=10)
    wait(bench, 120, time="2 h")
    bench.step("Go on")
    bench.do("cut plugs", (), (knob,), hands_on=5)
    bench.do("saw", (lid,), (lid,), hands_on=5)
    assert [[(k.before, k.lag) for k in job.task.after] for job in jobs_of(bench.timeline())] == [[], [], [(0, 120)]]


def test_a_piece_is_measured_before_it_is_changed(bench, make_piece):
    lid, core = make_piece("lid", (100, 20, 50)), make_piece("core", (90, 90, 90))
    bench.step("Trim")
    bench.do("mill", (), (lid, core), hands_on=1)
    bench.do("square", (core,), (core,), hands_on=1)
    bench.do("trim", (lid,), (lid,), hands_on=1)
    node = Node({"to": Node('depth of "core" - 2 mm', Place("steps.md"))}, Place("steps.md"))
    event = bench.events[-1]
    bench.events[-1] = replace(event, operation=replace(event.operation, fields=node))
    bench.do("saw", (core,), (core,), hands_on=1)
    assert [[k.before for k in job.task.after] for job in jobs_of(bench.timeline())] == [[], [0], [0, 1], [1, 2]]


def test_nothing_to_do_takes_no_days(bench):
    bench.step("Read")
    found = plan(bench.timeline())
    assert (found.work, found.days, found.ready, found.days_in_order) == (0, (), 0, 0)


@pytest.fixture(scope="module")
def sample():
    design = read_design(Path(__file__).parents[2] / "designs" / "curlew-box").design
    assert design is not None
    return build(design)


def test_the_sample_uses_its_waits_and_is_hardly_quicker_in_any_other_order(sample):
    found = plan(sample)
    assert len(found.days) < found.days_in_order
    assert found.least_days <= len(found.days) <= found.least_days + 1
    assert found.longest <= found.ready
    meanwhile = {step.step: step.meanwhile for step in found.steps}
    # The drawers, from the first slice on, while the shims of the carcase cure.
    assert set(meanwhile[10]) >= {25, 26, 27}
    # The paper comes off at the end of a day; then both shims are glued in one go, and rest for one day.
    assert [stint.parts for day in found.days for stint in day.stints if stint.step == 10] == [2, 2]
    assert [wait.end - wait.start for wait in found.waits if wait.step == 10] == [1440]


def test_a_box_is_left_alone_while_something_that_stands_in_it_dries(bench, make_piece):
    """The knob of a shutter is glued in the box: the router waits a day, a drawer that is in no box does not."""
    box, shutter, drawer = (make_piece(name, (100, 20, 50)) for name in ("box", "shutter", "drawer"))
    bench.step("Mill")
    bench.do("mill", (), (box, shutter, drawer), hands_on=20)
    bench.step("Set the knob")
    knobbed = glue(bench, "plug", (shutter,), shutter)
    wait(bench, CURE - 60, dry=(Node("shutter", Place("steps.md")),))
    bench.step("Round the edges")
    bench.do("round over", (box,), (box,), hands_on=30)
    bench.events[-1] = replace(bench.events[-1], beside=("shutter",))
    bench.do("round over", (drawer,), (drawer,), hands_on=30)
    bench.ends("part", box, knobbed, drawer)
    starts = {job.event.taken[0].name: job.task.after for job in jobs_of(bench.timeline()) if job.step == 3}
    assert [link.lag for link in starts["box"]] == [0, CURE]
    assert [link.lag for link in starts["drawer"]] == [0]


def test_every_plan_of_the_sample_keeps_what_depends_on_what(sample):
    jobs = jobs_of(sample)
    tasks = [job.task for job in jobs]
    steps = {job.step for job in jobs}
    first_glue = next(k for k, job in enumerate(jobs) if job.event.operation.kind == "glue up")
    assert {jobs[k].step for k in depends(tasks, first_glue)} == steps - {1}
    for minutes in (45, 90, 480):
        found = plan(sample, minutes)
        starts = {s.step: s.start for day in reversed(found.days) for s in reversed(day.stints)}
        assert list(map(starts.get, (1, 2, 3, 5, 9))) == sorted(map(starts.get, (1, 2, 3, 5, 9)))
        assert sum(day.work for day in found.days) == found.work
        assert all(day.work <= minutes for day in found.days)


def test_slices_of_one_setting_are_one_pass_of_the_saw(bench, make_piece):
    """Cradles that are held to a glued block while both are sliced are not sliced before its glue is dry."""
    block, cradle = make_piece("block", (50, 50, 50)), make_piece("cradle", (50, 50, 50))
    bench.step("Glue")
    wet = glue(bench, "glue up", (), block)
    wait(bench, CURE - 60, dry=(Node("block", Place("steps.md")),))
    bench.step("Slice")
    setting = (("face", "front"), ("fence", 10.0), ("kerf", 1.0))
    dry = replace(wet, wet=0.0)
    bench.do("slice", (wet,), (dry,), settings=setting, hands_on=5)
    bench.do("slice", (cradle,), (cradle,), settings=setting, hands_on=5)
    bench.ends("both", dry, cradle)
    _, one, two = jobs_of(bench.timeline())
    assert [link.before for link in two.task.after] == [1]
    assert any(link.before == 0 and link.lag >= CURE for link in one.task.after)
