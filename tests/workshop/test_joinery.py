"""Grooves, mortises, tenons and dowels, against volumes worked out by hand; and joints that cannot be made."""

import math

import pytest

from .conftest import JOINTS, MILL_ALL, Run, block, disc, lost, made, running, worked

run = running(JOINTS, MILL_ALL)

WHOLE = 100 * 20 * 60
GROOVE = 'piece = "rail"\nface = "front"\nedge = "bottom"\nat = "10 mm"\nwidth = "6 mm"\ndepth = "5 mm"\ntool = "bit"'
TENON = 'piece = "rail"\nend = "right"\nlength = "15 mm"\nsize = ["8 mm", "40 mm"]\ntool = "saw"'
MORTISE = 'piece = "rail"\nface = "front"\nat = [["50 mm", "30 mm"]]\nlength = "30 mm"\nwidth = "8 mm"\ntool = "bit"'
MITRE = 'piece = "rail"\nend = "right"\nlong = "top"\nangle = "45 deg"\nblade = "saw"'
COPY = 'piece = "rail"\ntemplate = "pattern"\nface = "front"\ntool = "bit"'
DOWEL = 'pieces = ["rail", "post"]\nface = "right"\nat = [["10 mm", "15 mm"]]\ndrill = "drill"\ndepth = "18 mm"'
LEAF = '\nrecess = ["20 mm", "10 mm"]\nrecess_depth = "2 mm"\ntool = "bit"'
HINGE = 'piece = "rail"\nface = "top"\nat = [["20 mm", "10 mm"]]\nhardware = "hinge"'


def test_grooves_dados_and_rabbets(run: Run) -> None:
    groove = (
        'piece = "rail"\nface = "front"\nedge = "bottom"\nat = "10 mm"\nwidth = "6 mm"\ndepth = "5 mm"\ntool = "bit"'
    )
    stopped = groove.replace("bottom", "top") + '\nstops = ["15 mm", "0 mm"]'
    dado = 'piece = "rail"\nface = "back"\nedge = "right"\nat = "20 mm"\nwidth = "8 mm"\ndepth = "4 mm"\ntool = "saw"'
    rabbet = 'piece = "pattern"\nface = "back"\nedges = ["left", "top"]\nwidth = "7 mm"\ndepth = "3 mm"\ntool = "bit"'
    events = worked(
        run(block("groove", groove), block("groove", stopped), block("dado", dado), block("rabbet", rabbet))
    )
    assert [lost(e) for e in events] == [
        pytest.approx(100 * 6 * 5),
        pytest.approx(85 * 6 * 5),
        pytest.approx(60 * 8 * 4),
        pytest.approx((90 * 7 + 50 * 7 - 7 * 7) * 3),
    ]
    solid = events[1].made[0].solid
    # Seen from the front the stop is on the left, and the groove lies 10 to 16 mm below the top.
    assert solid.hits((5, -10, 47), (5, 30, 47))[0] == pytest.approx(10)
    assert solid.hits((20, -10, 47), (20, 30, 47))[0] == pytest.approx(15)
    # Seen from the back, 20 mm from the right end of the world.
    assert events[2].made[0].solid.hits((76, 30, 30), (76, -10, 30))[0] == pytest.approx(14)


@pytest.mark.parametrize(("ends", "area"), [("square", 30 * 8), ("round", 22 * 8 + math.pi * 16)])
def test_mortises_are_pockets(run: Run, ends: str, area: float) -> None:
    body = (
        'piece = "rail"\nface = "front"\norigin = "middle"\nat = [["0 mm", "0 mm"]]\nlength = "30 mm"\nwidth = "8 mm"\n'
        f'tool = "bit"\nends = "{ends}"'
    )
    deep, through = worked(run(block("mortise", body + '\ndepth = "12 mm"'), block("mortise", body + '\nlie = "up"')))
    assert lost(deep) == pytest.approx(area * 12, rel=5e-3)
    assert deep.made[0].solid.genus == 0
    assert through.made[0].solid.genus == 1


def test_a_tenon_has_shoulders(run: Run) -> None:
    plain = 'piece = "rail"\nend = "right"\nlength = "15 mm"\nsize = ["8 mm", "40 mm"]\ntool = "saw"'
    bare = 'piece = "rail"\nend = "left"\nlength = "10 mm"\nsize = ["20 mm", "40 mm"]\nshift = ["0 mm", "5 mm"]\ntool = "saw"'
    round_ = 'piece = "post"\nend = "top"\nlength = "10 mm"\nsize = ["8 mm", "16 mm"]\ntool = "bit"\nends = "round"'
    first, second, third = worked(run(*(block("tenon", body) for body in (plain, bare, round_))))
    assert lost(first) == pytest.approx(15 * (20 * 60 - 8 * 40))
    assert lost(second) == pytest.approx(10 * 20 * 20)
    assert second.made[0].solid.hits((5, 10, 100), (5, 10, -10))[0] == pytest.approx(100 - 55)
    assert lost(third) == pytest.approx(10 * (400 - (8 * 8 + math.pi * 16)), rel=5e-3)


def test_dowel_holes_meet(run: Run) -> None:
    body = (
        'pieces = ["rail", "post"]\nface = "right"\nat = [["10 mm", "15 mm"], ["6 mm", "45 mm"]]\ndrill = "drill"\n'
        'depth = "18 mm"\nother_depth = "12 mm"\ndowels = "peg"'
    )
    (event,) = worked(run(block("dowel holes", body)))
    gone = made(event)
    assert gone["rail"] == pytest.approx(WHOLE - 2 * disc(2) * 18, rel=1e-4)
    assert gone["post"] == pytest.approx(20 * 20 * 60 - 2 * disc(2) * 12, rel=1e-4)
    rail, post = (piece.solid for piece in event.made)
    assert dict(event.settings)["at on the other"] == (pytest.approx((10, 15)), pytest.approx((14, 45)))
    assert len(rail.hits((60, 6, 45), (101, 6, 45))) == 1
    assert post.hits((99, 6, 45), (130, 6, 45)) == pytest.approx([13, 21])
    assert {use.name: use.amount for use in event.uses} == {"drill": 4, "peg": 2}


def test_dowel_holes_of_pieces_that_are_brought_together(run: Run) -> None:
    body = (
        'pieces = ["rail", "pattern"]\nface = "back"\nat = [["50 mm", "30 mm"]]\ndrill = "drill"\ndepth = "10 mm"\n'
        'other_depth = "4 mm"\nmoves = { pattern = ["10 mm", "-20 mm", "0 mm"] }\nother_at = [["55 mm", "25 mm"]]'
    )
    timeline = run(block("dowel holes", body))
    # The pattern comes to lie from x = 15 on: the middle of the rail is at 35 mm from its left.
    (trouble,) = timeline.troubles
    assert trouble.kind == "holes-do-not-meet"
    assert (trouble.facts["far"], trouble.facts["at"]) == (pytest.approx(20), pytest.approx((35, 25)))
    (event,) = worked(run(block("dowel holes", body.replace("55 mm", "35 mm"))))
    assert lost(event) == pytest.approx(disc(2) * 14, rel=1e-2)


def test_a_stopped_channel_says_which_side_it_stays_away_from(run: Run) -> None:
    (event,) = worked(run(block("groove", GROOVE + '\nstops = ["12 mm", "0 mm"]')))
    settings = dict(event.settings)
    assert settings["stop before the left"] == pytest.approx(12)
    assert "stop before the right" not in settings


@pytest.mark.parametrize(
    ("kind", "where", "tool", "width", "radius", "corners"),
    [
        ("dado", 'edge = "top"\nat = "20 mm"', "bit", 8, 3, 2),
        ("groove", 'edge = "back"\nat = "6 mm"', "bit", 6, 3, 2),
        ("rabbet", 'edges = ["back"]', "bit", 9, 3, 1),
        ("dado", 'edge = "top"\nat = "20 mm"', "sink", 8, 4, 2),
    ],
)
def test_a_stopped_end_may_be_as_round_as_the_cutter(
    run: Run, kind: str, where: str, tool: str, width: float, radius: float, corners: int
) -> None:
    """A corner of radius r that is not reached holds r * r - pi * r * r / 4 of wood, as plane geometry has it."""
    body = f'piece = "post"\nface = "right"\n{where}\nwidth = "{width} mm"\ndepth = "4 mm"\ntool = "{tool}"\n'
    stop = 'stops = ["5 mm", "0 mm"]\n'
    square, left, open_ended = (
        lost(*worked(run(block(kind, body + more)))) for more in (stop, stop + 'ends = "round"', 'ends = "round"')
    )
    assert square - left == pytest.approx(corners * (1 - math.pi / 4) * radius**2 * 4, rel=5e-2)  # chords for arcs
    assert open_ended - square == pytest.approx(5 * width * 4)


@pytest.mark.parametrize(
    ("kind", "body", "trouble"),
    [
        ("rip", 'piece = "rail"\nface = "top"\nwidth = "60 mm"\nblade = "saw"', "cut-misses"),
        ("rip", 'piece = "rail"\nface = "top"\nwidth = "59 mm"\nblade = "saw"\noffcut = "bit"', "cut-misses"),
        ("rip", 'piece = "rail"\nface = "top"\nwidth = "50 mm"\nblade = "drill"', "tool-unfit"),
        ("mitre", MITRE.replace("45 deg", "90 deg"), "angle-too-steep"),
        ("mitre", MITRE.replace("45 deg", "45 mm"), "not-an-angle"),
        ("mitre", MITRE.replace("45 deg", "0 deg"), "not-positive"),
        ("mitre", MITRE.replace('"top"', '"left"'), "no-such-edge"),
        ("mitre", MITRE + '\nto = "120 mm"', "cut-misses"),
        ("groove", GROOVE.replace('depth = "5 mm"', 'depth = "20 mm"'), "cut-too-large"),
        ("groove", GROOVE.replace('at = "10 mm"', 'at = "56 mm"'), "cut-too-large"),
        ("groove", GROOVE + '\nstops = ["60 mm", "40 mm"]', "cut-too-large"),
        ("groove", GROOVE.replace('width = "6 mm"', 'width = "5 mm"'), "cutter-too-wide"),
        ("groove", GROOVE.replace('"bottom"', '"front"'), "no-such-edge"),
        ("tenon", TENON.replace("15 mm", "100 mm"), "cut-too-large"),
        ("tenon", TENON.replace("40 mm", "61 mm"), "cut-too-large"),
        ("tenon", TENON.replace('["8 mm", "40 mm"]', '["20 mm", "60 mm"]'), "cut-misses"),
        ("tenon", TENON.replace('["8 mm"', '["0 mm"'), "not-positive"),
        ("mortise", MORTISE.replace("8 mm", "5 mm"), "cutter-too-wide"),
        ("mortise", MORTISE + '\ndepth = "20 mm"', "cut-too-large"),
        ("mortise", MORTISE.replace('30 mm"]]', '300 mm"]]'), "hole-misses"),
        ("mortise", MORTISE.replace("50 mm", "10 mm"), "hole-breaks-out"),
        ("mortise", MORTISE + '\nstencil = "round"', "one-of-two"),
        ("template copy", COPY + '\norigin = "middle"', ""),
        ("template copy", COPY.replace('"pattern"', '"post"'), "template-off-piece"),
        ("template copy", COPY.replace('"pattern"', '"rail"'), "template-off-piece"),
        ("dowel holes", DOWEL.replace("18 mm", "25 mm"), "hole-too-deep"),
        ("dowel holes", DOWEL.replace("15 mm", "150 mm"), "hole-misses"),
        ("dowel holes", DOWEL.replace('"post"', '"rail"'), "wrong-field"),
        ("dowel holes", DOWEL + "\nother_at = []", "pairs-differ"),
        ("dowel holes", DOWEL + '\nmoves = { pattern = ["1 mm", "0 mm", "0 mm"] }', "move-of-another"),
        ("round over", 'piece = "rail"\nfaces = ["front"]\nradius = "20 mm"\ntool = "bit"', "cut-too-large"),
        (
            "chamfer",
            'piece = "rail"\nfaces = ["front"]\nsides = ["back"]\nwidth = "2 mm"\ntool = "bit"',
            "no-such-edge",
        ),
        ("unmask", 'piece = "rail"', "not-masked"),
        ("unmask", 'piece = "rail"\nfaces = ["top"]', "not-masked"),
        ("mask", 'piece = "rail"\nfaces = ["top"]\ntape = "oil"', "supply-unfit"),
        ("fit hardware", HINGE + '\ndrill = "drill"', "missing-field"),
        ("fit hardware", HINGE + '\nrecess = ["20 mm", "10 mm"]\nrecess_depth = "2 mm"', "missing-field"),
        ("fit hardware", HINGE + '\nscrew_holes = [["5 mm", "0 mm"]]', "missing-field"),
        ("fit hardware", HINGE + LEAF.replace("2 mm", "90 mm"), "hole-too-deep"),
        ("fit hardware", HINGE + LEAF.replace('"10 mm"', '"-10 mm"'), "not-positive"),
        ("fit hardware", HINGE + LEAF.replace('"10 mm"', '"1 mm"'), "cutter-too-wide"),
        ("fit hardware", HINGE + LEAF.replace('"bit"', '"drill"'), "tool-unfit"),
        ("fit hardware", HINGE + '\ndrill = "drill"\ndepth = "60 mm"', "hole-too-deep"),
        ("fit hardware", HINGE.replace("20 mm", "200 mm"), "hole-misses"),
        ("fit hardware", HINGE.replace('"hinge"', '"tape"'), "supply-unfit"),
        (
            "counterbore",
            'piece = "rail"\nface = "front"\nat = [["9 mm", "9 mm"]]\ndrill = "drill"\ndepth = "5 mm"\nhole = "wide drill"',
            "head-too-narrow",
        ),
        (
            "countersink",
            'piece = "rail"\nface = "front"\nat = [["50 mm", "30 mm"]]\ndrill = "sink"\ndiameter = "42 mm"',
            "hole-too-deep",
        ),
    ],
)
def test_what_cannot_be_done_is_a_trouble(run: Run, kind: str, body: str, trouble: str) -> None:
    found = run(block(kind, body)).troubles
    assert [t.kind for t in found] == ([trouble] if trouble else [])
    assert all(t.place.line > 1 and t.step == 2 for t in found)


def test_a_groove_right_through_a_frame_takes_it_apart(run: Run) -> None:
    mortise = block("mortise", MORTISE.replace('30 mm"\nwidth', '90 mm"\nwidth') + '\ndepth = "15 mm"')
    groove = block(
        "groove",
        GROOVE.replace('depth = "5 mm"', 'depth = "10 mm"')
        .replace('"front"', '"back"')
        .replace('at = "10 mm"', 'at = "25 mm"')
        .replace('width = "6 mm"', 'width = "10 mm"'),
    )
    ends = [
        block("crosscut", f'piece = "rail"\nface = "{f}"\nlength = "{n} mm"\nblade = "saw"')
        for f, n in (("left", 94), ("right", 88))
    ]
    timeline = run(mortise, *ends, groove)
    assert [t.kind for t in timeline.troubles] == ["cut-splits"]
