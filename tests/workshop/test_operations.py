"""Every operation is there, and what any of them takes, makes and refuses, against volumes worked out by hand."""

import pytest

from planbook.workshop.pieces import woods
from planbook.workshop.registry import operations

from .conftest import BOARDS, MILL, STICK, Run, block, clean, lost, made, running

run = running(BOARDS)


def test_the_registry_finds_every_operation_of_the_first_set() -> None:
    wanted = {
        "mill",
        "glue up",
        "square",
        "stick",
        "peel",
        "saw",
        "slice",
        "trim",
        "bore",
        "sand to line",
        "sand face",
        "sand flush",
        "glue",
        "cut plugs",
        "plug",
        "shim",
        "round over",
        "finish",
        "line",
        "wait",
        "assemble",
        "dry fit",
        "set aside",
        "discard",
    }
    assert wanted <= set(operations())
    assert all(kind.__doc__ for kind in operations().values())


def test_mill_brings_a_board_of_its_finished_size(run: Run) -> None:
    (event,) = clean(run(MILL))
    assert made(event) == {"maple": pytest.approx(100 * 20 * 60)}


def test_glue_up_keeps_the_woods_and_measures_the_joint(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
    )
    event = clean(timeline)[1]
    assert made(event)["blank"] == pytest.approx(100 * 40 * 60)
    assert dict(event.settings)["mating area"] == pytest.approx(100 * 60)
    assert sorted(woods(event.made[0])) == ["black cherry", "sugar maple"]
    assert event.made[0].wet > event.start + event.hands_on + event.wait


def test_square_takes_the_same_from_opposite_sides(run: Run) -> None:
    event = clean(run(MILL, block("square", 'piece = "maple"\nto = ["90 mm", "18 mm", "60 mm"]')))[1]
    assert made(event)["maple"] == pytest.approx(90 * 18 * 60)
    lower, upper = event.made[0].solid.bounds
    assert (lower, upper) == (pytest.approx((5, 1, 0)), pytest.approx((95, 19, 60)))
    assert lost(event) == pytest.approx(100 * 20 * 60 - 90 * 18 * 60)


def test_an_operation_may_act_on_several_pieces(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block(
            "slice",
            'pieces = ["maple", "cherry"]\nface = "top"\nthickness = "10 mm"\nblade = "saw"\n'
            'makes = { "* strip" = "layer", "* board" = "rest" }',
        ),
    )
    event = clean(timeline)[1]
    assert set(made(event)) == {"maple strip", "maple board", "cherry strip", "cherry board"}


def test_sand_face_and_sand_flush_take_what_they_say(run: Run) -> None:
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("sand face", 'piece = "cherry"\nfaces = ["top", "left"]\ntake = "0.5 mm"\ntool = "board"'),
        block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
        block("wait", 'dry = ["blank"]'),
        block("sand flush", 'piece = "blank"\nfaces = ["top", "left"]\ntool = "board"'),
    )
    events = clean(timeline)
    assert made(events[1])["cherry"] == pytest.approx(99.5 * 20 * 59.5)
    assert dict(events[1].settings)["take off each face"] == pytest.approx(0.5)
    assert made(events[4])["blank"] == pytest.approx(99.5 * 40 * 59.5)


def test_fates_tell_what_became_of_everything(run: Run) -> None:
    slice_ = 'piece = "maple"\nface = "top"\nthickness = "10 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }'
    timeline = run(
        block("mill", 'boards = ["maple", "cherry"]'),
        block("slice", slice_),
        block("discard", 'pieces = ["a"]'),
        block("set aside", 'pieces = ["b"]'),
        block("assemble", 'pieces = ["cherry"]\nmoves = { cherry = ["5 mm", "0 mm", "0 mm"] }'),
    )
    assert {name: fate.ending for name, fate in timeline.fates.items()} == {
        "cherry": "part",
        "a": "discarded",
        "b": "kept",
    }
    assert timeline.object[0].solid.bounds[0][0] == pytest.approx(5)


def test_a_measurement_is_taken_at_that_moment(run: Run) -> None:
    timeline = run(
        MILL,
        block("trim", 'piece = "maple"\nface = "left"\nblade = "saw"\ntake = "10 mm"'),
        block("trim", 'piece = "maple"\nface = "top"\nblade = "saw"\nto = \'width of "maple" / 2\''),
    )
    assert clean(timeline)[2].made[0].solid.extent == pytest.approx((90, 20, 45))


def test_what_lies_under_a_piece_that_is_trimmed_is_shown_and_stays_as_it_is(run: Run) -> None:
    trim = block("trim", 'piece = "maple"\nface = "left"\nblade = "saw"\ntake = "10 mm"\nover = ["cherry"]')
    timeline = run(block("mill", 'boards = ["maple", "cherry"]'), trim)
    event = clean(timeline)[1]
    assert event.show is not None
    assert [(s.piece.name, s.role) for s in event.show.pieces] == [("maple", "new"), ("cherry", "context")]
    assert [piece.name for piece in event.taken] == ["maple"]
    (trouble,) = run(MILL, trim).troubles
    assert trouble.kind == "piece-unknown"


@pytest.mark.parametrize(
    ("blocks", "kinds"),
    [
        (
            (
                block(
                    "slice",
                    'piece = "maple"\nface = "top"\nthickness = "1 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }',
                ),
                MILL,
            ),
            ["piece-not-made-yet"],
        ),
        (
            (MILL, block("discard", 'pieces = ["maple"]'), block("discard", 'pieces = ["maple"]')),
            ["piece-already-used"],
        ),
        ((MILL, block("discard", 'pieces = ["mable"]')), ["piece-unknown"]),
        ((MILL, block("polish", "")), ["unknown-operation"]),
        (
            (MILL, block("trim", 'piece = "maple"\nface = "up"\nblade = "saw"\ntoo = "1 mm"')),
            ["unknown-field", "wrong-choice"],
        ),
        (
            (MILL, block("trim", 'piece = "maple"\nface = "top"\nblade = "saw"\nto = "long + 5 deg"')),
            ["bad-formula"],
        ),
        (
            (
                MILL,
                STICK,
                block(
                    "saw",
                    'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["disc"]\nmakes = { a = "inside", b = "outside" }',
                ),
            ),
            ["no-way-in"],
        ),
        (
            (
                MILL,
                STICK,
                block(
                    "saw",
                    'piece = "maple"\nstencil = "round"\nblade = "saw"\nlines = ["halves"]\nkerf_side = "centre"\nmakes = { a = "left" }',
                ),
            ),
            ["part-without-name"],
        ),
        (
            (
                MILL,
                block("saw", 'piece = "maple"\nstencil = "round"\nblade = "saw"\nmakes = { a = "inside" }'),
            ),
            ["stencil-not-stuck"],
        ),
        (
            (
                MILL,
                STICK,
                block("sand face", 'piece = "maple"\nfaces = ["front"]\ntake = "1 mm"\ntool = "board"'),
                block("saw", 'piece = "maple"\nstencil = "round"\nblade = "saw"\nmakes = { a = "inside" }'),
            ),
            ["stencil-face-gone"],
        ),
        (
            (
                block("mill", 'boards = ["maple", "cherry"]'),
                block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
                block("discard", 'pieces = ["blank"]'),
                block("mill", 'boards = ["maple"]'),
            ),
            ["piece-made-twice"],
        ),
        (
            (
                block("mill", 'boards = ["maple", "cherry"]'),
                block("glue up", 'pieces = ["maple", "cherry"]\nglue = "glue"\nmakes = "blank"'),
                block("square", 'piece = "blank"\nto = ["10 mm", "10 mm", "10 mm"]'),
            ),
            ["glue-still-wet"],
        ),
        (
            (
                MILL,
                block("bore", 'piece = "maple"\nface = "front"\nat = [["500 mm", "0 mm"]]\ndrill = "drill"'),
            ),
            ["hole-misses"],
        ),
        (
            (
                MILL,
                block("bore", 'piece = "maple"\nface = "front"\nat = [["2 mm", "30 mm"]]\ndrill = "drill"'),
            ),
            ["hole-breaks-out"],
        ),
        (
            (
                MILL,
                block(
                    "bore",
                    'piece = "maple"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndepth = "25 mm"\ndrill = "drill"',
                ),
            ),
            ["hole-too-deep"],
        ),
    ],
)
def test_what_cannot_be_done_is_a_trouble(run: Run, blocks: tuple[str, ...], kinds: list[str]) -> None:
    assert sorted(trouble.kind for trouble in run(*blocks).troubles) == sorted(kinds)


def test_a_broken_piece_causes_no_cascade(run: Run) -> None:
    timeline = run(
        MILL,
        block(
            "slice",
            'piece = "maple"\nface = "top"\nthickness = "70 mm"\nblade = "saw"\nmakes = { a = "layer", b = "rest" }',
        ),
        block("discard", 'pieces = ["a"]'),
        block("sand face", 'piece = "b"\nfaces = ["top"]\ntake = "1 mm"\ntool = "board"'),
        block("discard", 'pieces = ["maple"]'),
    )
    assert [trouble.kind for trouble in timeline.troubles] == ["cut-misses"]


def test_the_same_design_builds_the_same_way_twice(run: Run) -> None:
    one, two = (
        run(MILL, STICK, block("bore", 'piece = "maple"\nstencil = "round"\ndrill = "drill"')) for _ in range(2)
    )
    assert one.events[2].made[0].solid.mesh[0].tobytes() == two.events[2].made[0].solid.mesh[0].tobytes()


@pytest.mark.parametrize(("face", "at", "told"), [("left", "10 mm", 100.0), ("front", "50 mm", None)])
def test_a_long_hole_right_through_is_told_with_its_length(run: Run, face: str, at: str, told: float | None) -> None:
    """The board is 100 mm long and 20 mm deep."""
    bore = f'piece = "maple"\nface = "{face}"\nat = [["{at}", "30 mm"]]\ndrill = "drill"'
    settings = dict(clean(run(MILL, block("bore", bore)))[1].settings)
    assert settings["depth"] == "through"
    assert settings["depth of cut"] == (told and pytest.approx(told))
