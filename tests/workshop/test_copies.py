"""Work written once and done several times: patterns, rows, mirrored twins; against what is written out by hand."""

import pytest

from planbook.handbook import BUILT_IN
from planbook.workshop import Piece, Timeline
from planbook.workshop.patterns import matching, natural

from .conftest import Run, block, running

DESIGN = """
title = "Pair of sides"
version = "1.0"
maker = "Saltmarsh Workshop"
units = "mm"
[stock."left side"]
wood = "black cherry"
size = ["12 mm", "80 mm", "200 mm"]
grain = "z"
[stock."right side"]
wood = "black cherry"
size = ["12 mm", "80 mm", "200 mm"]
at = ["300 mm", "5 mm", "40 mm"]
grain = "z"
[stock.rail]
wood = "black cherry"
size = ["200 mm", "20 mm", "60 mm"]
at = ["0 mm", "200 mm", "0 mm"]
grain = "x"
[shapes.corner]
kind = "polygon"
points = [["0 mm", "0 mm"], ["30 mm", "0 mm"], ["0 mm", "50 mm"]]
[shapes.way]
kind = "line"
from = ["60 mm", "-5 mm"]
to = ["60 mm", "210 mm"]
[stencils.side]
title = "Side"
face = "left"
lines = { corner = "corner", way = "way" }
holes = { hole = { at = ["20 mm", "120 mm"], diameter = "8 mm" } }
regions = { wide = ["50 mm", "180 mm"], narrow = ["70 mm", "10 mm"] }
[tools.saw]
kind = "band saw"
kerf = "1 mm"
[tools.drill]
kind = "drill"
diameter = "8 mm"
[tools.router]
kind = "router"
diameter = "6 mm"
[supplies.glue]
kind = "glue"
product = "PVA"
"""
MILL = '```mill\nboards = ["left side", "right side", "rail"]\n```'
Corner = tuple[float, float, float]
run = running(DESIGN)


def built(timeline: Timeline, name: str) -> Piece:
    assert timeline.troubles == ()
    return timeline.events[-1].bench[name]


def same_solid(a: Piece, b: Piece) -> bool:
    """Whether two pieces are of one shape: neither has wood where the other has none."""
    return a.solid.minus(b.solid).volume < 1e-6 and b.solid.minus(a.solid).volume < 1e-6


def corners(piece: Piece, mirrored: str = "", about: float = 0.0, shift: Corner = (0.0, 0.0, 0.0)) -> list[Corner]:
    """The corners of a piece, mirrored across an axis about a level and then shifted; sorted, to be compared."""
    places, _ = piece.solid.mesh
    found = set()
    for place in places:
        turned = [2 * about - c if "xyz"[k] == mirrored else c for k, c in enumerate(place)]
        x, y, z = (round(float(c + s), 2) + 0.0 for c, s in zip(turned, shift, strict=True))
        found.add((x, y, z))
    return sorted(found)


def test_names_are_in_natural_order() -> None:
    names = ["leg 10", "leg 2", "leg", "top", "leg 1", "a 7 of 2", "a 7 of 10"]
    assert matching("leg *", names) == ("leg 1", "leg 2", "leg 10")
    assert matching("a * of *", names) == ("a 7 of 2", "a 7 of 10")
    assert sorted(names, key=natural)[:2] == ["a 7 of 2", "a 7 of 10"]


@pytest.mark.parametrize(
    ("pattern", "name", "fits"),
    [
        ("leg *", "leg ", False),
        ("leg *", "leg 1", True),
        ("* leg", "front leg", True),
        ("a*a", "aa", False),
        ("a*a", "aba", True),
        ("*a*a*", "xaxax", True),
        ("*a*a*", "xaax", False),
        ("**", "x", True),
        ("leg", "leg 1", False),
    ],
)
def test_a_pattern_stands_for_at_least_one_letter(pattern: str, name: str, fits: bool) -> None:
    # "**" asks for nothing that "*" does not.
    assert bool(matching(pattern, (name,))) is fits


def test_a_long_pattern_is_quick() -> None:
    assert matching("a*" * 200 + "b", ["a" * 80]) == ()


def test_a_name_with_a_star_of_its_own_means_itself() -> None:
    assert matching("leg *", ["leg *", "leg 1"]) == ("leg *",)


def test_a_pattern_does_the_same_to_every_piece_it_means(run: Run) -> None:
    fields = 'face = "front"\nat = [["6 mm", "30 mm"]]\ndrill = "drill"\ndepth = "10 mm"\n'
    short = run(MILL, block("bore", 'pieces = ["* side"]\n' + fields))
    long = run(MILL, block("bore", 'pieces = ["left side", "right side"]\n' + fields))
    for name in ("left side", "right side"):
        assert same_solid(built(short, name), built(long, name))
    assert [p.name for p in short.events[1].taken] == ["left side", "right side"]


def test_a_pattern_in_makes_names_a_part_of_each(run: Run) -> None:
    body = 'pieces = ["* side"]\nface = "left"\nthickness = "4 mm"\nblade = "saw"\n'
    timeline = run(MILL, block("slice", body + 'makes = { "* skin" = "layer", "* core" = "rest" }'))
    assert timeline.troubles == ()
    assert {p.name for p in timeline.events[1].made} == {
        f"{s} side {k}" for s in ("left", "right") for k in ("skin", "core")
    }


def test_a_pattern_works_for_operations_of_several_pieces(run: Run) -> None:
    timeline = run(MILL, block("set aside", 'pieces = ["* side", "rail"]'))
    assert [name for name, fate in timeline.fates.items() if fate.ending == "kept"] == [
        "left side",
        "right side",
        "rail",
    ]


def test_a_row_of_holes_is_as_if_each_were_written(run: Run) -> None:
    head = 'piece = "rail"\nface = "front"\ndrill = "drill"\ndepth = "10 mm"\n'
    row = run(MILL, block("bore", head + 'at = [["20 mm", "30 mm"]]\nrepeat = { count = 4, by = ["32 mm", "0 mm"] }'))
    each = ", ".join(f'["{20 + 32 * k} mm", "30 mm"]' for k in range(4))
    written = run(MILL, block("bore", head + f"at = [{each}]"))
    assert same_solid(built(row, "rail"), built(written, "rail"))
    settings = dict(row.events[1].settings)
    assert settings["at"] == ((20.0, 30.0),)
    assert settings["in a row of 4, each further by"] == (32.0, 0.0)
    assert sum(use.amount for use in row.events[1].uses) == 4


def test_rows_of_rows(run: Run) -> None:
    head = 'piece = "rail"\nface = "front"\ndrill = "drill"\nat = [["20 mm", "15 mm"]]\n'
    rows = 'repeat = [{ count = 5, by = ["32 mm", "0 mm"] }, { count = 2, by = ["0 mm", "30 mm"] }]'
    grid = built(run(MILL, block("bore", head + rows)), "rail")
    assert grid.solid.genus == 10


@pytest.mark.parametrize("kind", ["mortise", "counterbore", "countersink"])
def test_every_operation_at_points_can_be_repeated(run: Run, kind: str) -> None:
    own = {
        "mortise": 'tool = "router"\nlength = "20 mm"\nwidth = "8 mm"\ndepth = "9 mm"\n',
        "counterbore": 'drill = "drill"\ndepth = "5 mm"\n',
        "countersink": 'drill = "drill"\ndiameter = "9 mm"\n',
    }[kind]
    head = f'piece = "rail"\nface = "front"\n{own}at = [["30 mm", "30 mm"]]\n'
    one = run(MILL, block(kind, head))
    three = run(MILL, block(kind, head + 'repeat = { count = 3, by = ["50 mm", "0 mm"] }'))
    gone = [sum(loss.volume for loss in t.events[1].lost) for t in (one, three)]
    assert gone[1] == pytest.approx(3 * gone[0])


def test_a_row_of_dados_goes_on_from_the_edge(run: Run) -> None:
    head = 'piece = "left side"\nface = "right"\nedge = "bottom"\nwidth = "6 mm"\ndepth = "4 mm"\ntool = "router"\n'
    row = run(MILL, block("dado", head + 'at = "40 mm"\nrepeat = { count = 3, by = "50 mm" }'))
    written = run(MILL, *(block("dado", head + f'at = "{40 + 50 * k} mm"') for k in range(3)))
    assert same_solid(built(row, "left side"), built(written, "left side"))
    assert len(row.events) == 2
    assert [p.name for p in row.events[1].taken] == ["left side"]
    # The router is set up once (10 minutes and more), not for each dado.
    assert row.events[1].hands_on < sum(e.hands_on for e in written.events[1:])


def test_dowel_holes_in_a_row_meet(run: Run) -> None:
    timeline = run(
        MILL,
        block(
            "dowel holes",
            'pieces = ["left side", "right side"]\nface = "right"\nat = [["20 mm", "30 mm"]]\n'
            'other_at = [["60 mm", "30 mm"]]\ndrill = "drill"\ndepth = "6 mm"\n'
            'moves = { "right side" = ["-288 mm", "-5 mm", "-40 mm"] }\n'
            'repeat = { count = 3, by = ["15 mm", "40 mm"] }',
        ),
    )
    assert timeline.troubles == ()


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        (
            "bore",
            'at = [["20 mm", "30 mm"]]\ndrill = "drill"\ndepth = "6 mm"\n'
            'repeat = { count = 2, by = ["10 mm", "50 mm"] }',
        ),
        ("bore", 'at = [["20 mm", "30 mm"]]\ndrill = "drill"\norigin = "world"'),
        (
            "groove",
            'edge = "front"\nat = "50 mm"\nwidth = "6 mm"\ndepth = "4 mm"\nstops = ["20 mm", "0 mm"]\ntool = "router"',
        ),
        (
            "dado",
            'edge = "bottom"\nat = "50 mm"\nwidth = "6 mm"\ndepth = "4 mm"\nstops = ["20 mm", "0 mm"]\ntool = "router"',
        ),
        ("bevel", 'edge = "front"\nwide = "left"\nangle = "30 deg"\nblade = "saw"'),
    ],
)
def test_the_mirrored_partner_stands_elsewhere(run: Run, kind: str, body: str) -> None:
    face = "" if kind == "bevel" else 'face = "right"\n'
    mirror = 'mirror = { piece = "right side", across = "x" }'
    timeline = run(MILL, block(kind, f'piece = "left side"\n{face}{body}\n{mirror}'))
    left, right = built(timeline, "left side"), built(timeline, "right side")
    assert corners(right) == corners(left, "x", 6.0, (300.0, 5.0, 40.0))
    assert dict(timeline.events[1].settings)["mirrored on"] == "right side"


@pytest.mark.parametrize(("across", "face"), [("x", "front"), ("z", "front"), ("y", "front"), ("z", "top")])
def test_a_piece_mirrored_on_itself_is_symmetric(run: Run, across: str, face: str) -> None:
    timeline = run(
        MILL,
        block(
            "mortise",
            f'piece = "rail"\nface = "{face}"\nat = [["30 mm", "8 mm"]]\ntool = "router"\nlength = "20 mm"\n'
            f'width = "7 mm"\ndepth = "6 mm"\nmirror = {{ across = "{across}" }}',
        ),
    )
    rail = built(timeline, "rail")
    assert corners(rail, across, rail.solid.middle["xyz".index(across)]) == corners(rail)
    assert sum(loss.volume for loss in timeline.events[1].lost) == pytest.approx(2 * 20 * 7 * 6)


def test_tenons_at_both_ends_in_one_block(run: Run) -> None:
    body = 'piece = "rail"\nend = "left"\nlength = "15 mm"\nsize = ["8 mm", "30 mm"]\nshift = ["2 mm", "5 mm"]\ntool = "saw"\n'
    both = built(run(MILL, block("tenon", body + 'mirror = { across = "x" }')), "rail")
    gone = 200 * 20 * 60 - both.solid.volume
    assert gone == pytest.approx(2 * 15 * (20 * 60 - 8 * 30))
    assert corners(both, "x", 100.0) == corners(both)


def test_a_mirrored_stencil_saws_the_mirrored_piece(run: Run) -> None:
    mirror = '\nmirror = { piece = "right side", across = "x" }'
    timeline = run(
        MILL,
        block("stick", 'piece = "left side"\nstencil = "side"' + mirror),
        block("bore", 'piece = "left side"\nstencil = "side"\ndrill = "drill"' + mirror),
        block(
            "saw",
            'pieces = ["* side"]\nstencil = "side"\nlines = ["way"]\nblade = "saw"\nkerf_side = "left"\n'
            'makes = { "* wide" = "wide", "* narrow" = "narrow" }',
        ),
    )
    assert timeline.troubles == ()
    assert [(s.stencil.face, s.mirrored) for p in timeline.events[1].made for s in p.stuck] == [
        ("left", False),
        ("right", True),
    ]
    for part in ("wide", "narrow"):
        left, right = built(timeline, f"left side {part}"), built(timeline, f"right side {part}")
        assert left.solid.volume == pytest.approx(right.solid.volume)
        assert corners(right) == corners(left, "x", 6.0, (300.0, 5.0, 40.0))


def test_a_plug_for_each_of_several_pieces(run: Run) -> None:
    timeline = run(
        MILL,
        block(
            "cut plugs",
            'piece = "rail"\nface = "front"\nat = [["20 mm", "20 mm"], ["60 mm", "20 mm"]]\ndiameter = "8 mm"\n'
            'cutter = "drill"\nmakes = ["left side plug", "right side plug"]\nrest = "rest"',
        ),
        block("bore", 'pieces = ["* side"]\nface = "left"\nat = [["40 mm", "50 mm"]]\ndrill = "drill"\ndepth = "8 mm"'),
        block("plug", 'pieces = ["* side"]\nplug = "* plug"\nface = "left"\nat = ["40 mm", "50 mm"]\nglue = "glue"'),
    )
    assert timeline.troubles == ()
    assert sorted(p.name for p in timeline.events[3].made) == ["left side", "right side"]


def test_several_pieces_and_what_fails_of_them_become_unknown(run: Run) -> None:
    timeline = run(
        MILL,
        block("trim", 'pieces = ["* side"]\nface = "top"\nto = "900 mm"\nblade = "saw"'),
        block("set aside", 'pieces = ["left side", "right side", "rail"]'),
    )
    assert [t.kind for t in timeline.troubles] == ["cut-misses"]


BORE = 'face = "front"\nat = [["6 mm", "30 mm"]]\ndrill = "drill"\ndepth = "3 mm"\n'


@pytest.mark.parametrize(
    ("body", "kinds"),
    [
        ('piece = "rail"\nrepeat = 5', ["wrong-field"]),
        ('piece = "rail"\nrepeat = []', ["wrong-field"]),
        ('piece = "rail"\nrepeat = [[]]', ["wrong-field"]),
        ('piece = "rail"\nrepeat = { count = 2.5, by = ["9 mm", "0 mm"] }', ["wrong-field"]),
        ('piece = "rail"\nrepeat = { count = 2, by = "9 mm" }', ["wrong-field"]),
        ('piece = "rail"\nrepeat = { count = 2, by = [9, 0] }', ["needs-unit"]),
        ('piece = "rail"\nrepeat = { count = 2, by = ["wide", "0 mm"] }', ["bad-formula"]),
        ('piece = "rail"\nmirror = "x"', ["wrong-field"]),
        ('piece = "rail"\nmirror = { across = "left" }', ["wrong-choice"]),
        ('piece = "rail"\nmirror = { across = 3 }', ["wrong-field"]),
        ('piece = "rail"\nmirror = { piece = 3, across = "x" }', ["wrong-field"]),
        ('piece = "rail"\nmirror = { piece = "roil", across = "x" }', ["piece-unknown"]),
        ('piece = "rail"\nmirror = { piece = "left side", across = "x" }', ["mirror-unlike"]),
        ('pieces = ["* rail"]', ["pattern-meaningless"]),
        ('pieces = ["* rail", "no *"]\nrepeat = 3', ["wrong-field", "pattern-meaningless", "pattern-meaningless"]),
        ('pieces = "* side"', []),
        ('pieces = ["* side", "left side"]', []),
    ],
)
def test_misuse_is_a_trouble_and_all_of_it_is_told(run: Run, body: str, kinds: list[str]) -> None:
    assert [t.kind for t in run(MILL, block("bore", BORE + body)).troubles] == kinds


def test_a_board_that_was_not_milled_brings_no_second_finding(run: Run) -> None:
    timeline = run(block("mill", 'boards = ["* side", "roil"]'), block("bore", BORE + 'pieces = ["* side"]'))
    assert [t.kind for t in timeline.troubles] == ["stock-unknown"]


def test_moves_may_name_several_pieces_at_once(run: Run) -> None:
    body = 'pieces = ["* side", "rail"]\nmoves = { "* side" = ["0 mm", "0 mm", "7 mm"] }'
    timeline = run(MILL, block("assemble", body))
    assert timeline.troubles == ()
    assert built(timeline, "left side").solid.bounds[0][2] == pytest.approx(7)
    assert built(timeline, "right side").solid.bounds[0][2] == pytest.approx(47)
    # Three pieces meet in two joints.
    assert timeline.events[-1].hands_on - timeline.events[-1].set_up == 2 * BUILT_IN.rate("assemble").unit_minutes
