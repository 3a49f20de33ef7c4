"""Lines of one cut that end on one another: how many parts come loose, and that no part beyond a line is nicked."""

from collections.abc import Callable
from itertools import combinations, pairwise
from math import cos, radians, sin
from pathlib import Path

import pytest

from planbook.reader import read_design
from planbook.solids import FACE_FRAMES
from planbook.solids import Path as Line
from planbook.solids.plane import box
from planbook.solids.solid import block, cylinder
from planbook.text import Place
from planbook.workshop import At, Piece, Timeline
from planbook.workshop.kerfs import bands
from planbook.workshop.operations.saw import _drawn_apart
from planbook.workshop.run import build

KERF = 0.6
THICK = 20.0
CARD = 'title = "Net"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
STOCK = '[stock.slab]\nwood = "sugar maple"\nsize = ["120 mm", "20 mm", "90 mm"]\ngrain = "x"\n'
TOOL = '[tools.blade]\nkind = "scroll saw"\nkerf = "0.6 mm"\n'

Lines = dict[str, tuple[tuple[float, float], tuple[float, float]]]
Spots = dict[str, tuple[float, float]]
Cut = Callable[[Lines, Spots], Timeline]


def point(at: tuple[float, float]) -> str:
    return f'["{at[0]!r} mm", "{at[1]!r} mm"]'


@pytest.fixture
def cut(tmp_path: Path) -> Cut:
    """Saw a slab 120 x 90 mm, 20 mm thick, along straight lines in one operation; parts are named by their spots."""

    def saw(lines: Lines, spots: Spots) -> Timeline:
        shapes = "".join(
            f'[shapes.{n}]\nkind = "line"\nfrom = {point(a)}\nto = {point(b)}\n' for n, (a, b) in lines.items()
        )
        uses = ", ".join(f'{n} = "{n}"' for n in lines)
        regions = ", ".join(f"{n} = {point(at)}" for n, at in spots.items())
        stencil = f'[stencils.net]\ntitle = "Net"\nface = "front"\nlines = {{ {uses} }}\nregions = {{ {regions} }}\n'
        (tmp_path / "design.toml").write_text(CARD + STOCK + shapes + stencil + TOOL)
        made = ", ".join(f'{n} = "{n}"' for n in spots)
        (tmp_path / "steps.md").write_text(
            '## Saw\n\nGo.\n\n```mill\nboards = ["slab"]\n```\n\n```stick\npiece = "slab"\nstencil = "net"\n```\n\n'
            f'```saw\npiece = "slab"\nstencil = "net"\nblade = "blade"\nmakes = {{ {made} }}\n```\n'
        )
        reading = read_design(tmp_path)
        assert reading.design is not None, reading.findings
        return build(reading.design)

    return saw


def volumes(timeline: Timeline) -> dict[str, float]:
    assert timeline.troubles == ()
    return {piece.name: piece.solid.volume for piece in timeline.events[-1].made}


def test_a_line_that_ends_on_another_does_not_nick_the_part_beyond(cut: Cut) -> None:
    lines: Lines = {"across": ((0, 40), (120, 40)), "up": ((50, 40), (50, 90))}
    found = volumes(cut(lines, {"low": (60, 20), "left": (20, 60), "right": (90, 60)}))
    half = KERF / 2
    assert found["low"] == pytest.approx(120 * (40 - half) * THICK, abs=1e-3)
    assert found["left"] == pytest.approx((50 - half) * (50 - half) * THICK, abs=1e-3)
    assert found["right"] == pytest.approx((70 - half) * (50 - half) * THICK, abs=1e-3)


@pytest.mark.parametrize("angle", [20, 35, 90, 150])
def test_a_slanting_line_parts_the_wood_and_spares_the_part_beyond(cut: Cut, angle: float) -> None:
    far = (60 + 150 * cos(radians(angle)), 40 + 150 * sin(radians(angle)))
    middle = (60 + 30 * cos(radians(angle)), 40 + 30 * sin(radians(angle)))
    side = (4 * sin(radians(angle)), -4 * cos(radians(angle)))
    spots: Spots = {
        "low": (60, 20),
        "one": (middle[0] + side[0], middle[1] + side[1]),
        "two": (middle[0] - side[0], middle[1] - side[1]),
    }
    found = volumes(cut({"across": ((0, 40), (120, 40)), "slant": ((60, 40), far)}, spots))
    assert found["low"] == pytest.approx(120 * (40 - KERF / 2) * THICK, abs=1e-3)
    assert len(found) == 3


def test_a_network_makes_many_parts_in_one_cut(cut: Cut) -> None:
    """Three lines right across, and five short ones between them, staggered like bricks: twelve parts."""
    lines: Lines = {f"row{n}": ((0, v), (120, v)) for n, v in enumerate((22.5, 45.0, 67.5), 1)}
    # The two lowest and the two highest rows have joints at 40 and 80, the others at 30, 60 and 90, or none.
    joints = {0: (40.0, 80.0), 1: (30.0, 60.0, 90.0), 2: (60.0,), 3: (40.0, 80.0)}
    spots: Spots = {}
    for row, at in joints.items():
        low, high = 22.5 * row, 22.5 * (row + 1)
        lines |= {f"j{row}{n}": ((u, low), (u, high)) for n, u in enumerate(at)}
        edges = (0.0, *at, 120.0)
        spots |= {f"p{row}{n}": ((a + b) / 2, (low + high) / 2) for n, (a, b) in enumerate(pairwise(edges))}
    timeline = cut(lines, spots)
    found = volumes(timeline)
    assert len(found) == 12
    rows = 3 * 120 * KERF
    heights = {0: 22.5 - KERF / 2, 1: 22.5 - KERF, 2: 22.5 - KERF, 3: 22.5 - KERF / 2}
    upright = sum(len(at) * heights[row] * KERF for row, at in joints.items())
    assert sum(found.values()) == pytest.approx((120 * 90 - rows - upright) * THICK, rel=1e-9)
    assert found["p11"] == pytest.approx((30 - KERF) * (22.5 - KERF) * THICK, rel=1e-6)
    assert timeline.pieces["p11"].solid.gap(timeline.pieces["p01"].solid, 5.0) == pytest.approx(KERF, abs=1e-6)


def test_a_line_that_stops_short_of_another_runs_on_by_a_kerf() -> None:
    """Half a kerf decides: nearer than that the blade is in the other cut already."""
    across = Line(((0.0, 0.0), (100.0, 0.0)))
    near, far = Line(((50.0, 0.29), (50.0, 40.0))), Line(((50.0, 0.31), (50.0, 40.0)))
    below = box(0, -10, 100, 10 - KERF / 2)
    assert bands([across, near], "centre", 0.0, KERF)[1].meet(below).size == pytest.approx(0, abs=1e-9)
    assert bands([across, far], "centre", 0.0, KERF)[1].bounds[1] == pytest.approx(0.31 - KERF)


def test_an_open_line_inside_a_closed_one_ends_in_its_kerf() -> None:
    """An outline whose kerf lies outside it: the line across it ends in that kerf, and does not go beyond."""
    ring = box(0, 0, 60, 40)
    strip = bands([ring, Line(((0.0, 20.0), (60.0, 20.0)))], "outside", 0.0, KERF)[1]
    assert strip.within(ring.offset(KERF))
    assert len(ring.minus(strip).parts) == 2


def test_every_line_is_drawn_on_a_part_beside_it(cut: Cut) -> None:
    """The parts are pulled apart in the picture, and each line goes with the larger of its two neighbours."""
    lines: Lines = {"across": ((0, 40), (120, 40)), "up": ((50, 40), (50, 90))}
    show = cut(lines, {"low": (60, 20), "left": (20, 60), "right": (90, 60)}).events[-1].show
    assert show is not None
    assert [cue.piece for cue in show.cues] == ["low", "right"]


def test_a_long_line_is_drawn_on_another_part_where_its_own_ends(cut: Cut) -> None:
    """A line up the middle, and one to it from each side at another height: 90 mm between 3 and 1 larger parts."""
    lines: Lines = {"up": ((60, 0), (60, 90)), "one": ((0, 50), (60, 50)), "two": ((60, 40), (120, 40))}
    places = {"a": (30, 20), "b": (30, 70), "c": (90, 20), "d": (90, 70)}
    show = cut(lines, places).events[-1].show
    assert show is not None
    upright = [cue for cue in show.cues if all(abs(x - cue.points[0][0]) < 0.01 for x, _, _ in cue.points)]
    spans = {cue.piece: sorted(z for _, _, z in (cue.points[0], cue.points[-1])) for cue in upright}
    assert len(spans) == 2
    low, high = sorted(spans.values())
    assert high[1] - low[0] == pytest.approx(90, abs=2)
    assert high[0] - low[1] == pytest.approx(0, abs=2), "they meet"


def test_of_two_parts_beside_a_stretch_that_is_taken_which_lies_along_more_of_the_line(cut: Cut) -> None:
    """Two lines meet one across from above, so that three parts lie along it; below it lies one, the smallest."""
    lines: Lines = {"across": ((0, 12), (120, 12)), "one": ((40, 12), (40, 90)), "two": ((80, 12), (80, 90))}
    show = cut(lines, {"low": (60, 5), "a": (20, 60), "b": (60, 60), "c": (100, 60)}).events[-1].show
    assert show is not None
    assert [cue.piece for cue in show.cues if cue.points[0][2] == cue.points[-1][2]] == ["low"]


def test_no_line_is_drawn_over_what_was_gone_before(tmp_path: Path) -> None:
    """A line across both feet of a slab with a wide gap between them."""
    shapes = (
        '[shapes.gap]\nkind = "box"\nat = ["40 mm", "-10 mm"]\nwidth = "50 mm"\nheight = "70 mm"\n'
        '[shapes.across]\nkind = "line"\nfrom = ["0 mm", "30 mm"]\nto = ["120 mm", "30 mm"]\n'
    )
    stencil = (
        '[stencils.net]\ntitle = "Net"\nface = "front"\nlines = { gap = "gap", across = "across" }\n'
        'regions = { u = ["20 mm", "80 mm"], hole = ["60 mm", "20 mm"], a = ["20 mm", "10 mm"], b = ["99 mm", "9 mm"] }\n'
    )
    (tmp_path / "design.toml").write_text(CARD + STOCK + shapes + stencil + TOOL)
    saw = '```saw\npiece = "{}"\nstencil = "net"\nblade = "blade"\nlines = ["{}"]\nmakes = {{ {} }}\n```\n\n'
    (tmp_path / "steps.md").write_text(
        '## Saw\n\nGo.\n\n```mill\nboards = ["slab"]\n```\n\n```stick\npiece = "slab"\nstencil = "net"\n```\n\n'
        + saw.format("slab", "gap", 'bridge = "u", gone = "hole"')
        + saw.format("bridge", "across", 'top = "u", a = "a", b = "b"')
    )
    reading = read_design(tmp_path)
    assert reading.design is not None, reading.findings
    timeline = build(reading.design)
    assert timeline.troubles == ()
    show = timeline.events[-1].show
    assert show is not None
    spans = sorted(sorted((cue.points[0][0], cue.points[-1][0])) for cue in show.cues)
    assert len(spans) == 2
    assert spans[0][1] < 42
    assert spans[1][0] > 88


def test_parts_that_would_cover_one_another_are_drawn_away_from_their_middle() -> None:
    """Squares in a row, each locked into the next, drawn as one another's neighbours and not across one another."""
    front = FACE_FRAMES["front"]
    squares = [block((60 * k, 0, 0), (60 * k + 59.5, 12, 200)) for k in range(3)]
    holes = [s.minus(cylinder(front, (60 * k + 4, 100), 8.5, -13, 1)) if k else s for k, s in enumerate(squares)]
    tabs = [cylinder(front, (60 * k + 64, 100), 8, -12, 0) for k in range(2)]
    solids = [*(h.plus(t) for h, t in zip(holes, tabs, strict=False)), holes[-1]]
    parts = [(Piece(f"part {k}", solid, (), At(1, 1, Place("steps.md"))), "new") for k, solid in enumerate(solids)]
    shadows = [s.piece.solid.moved(s.apart).shadow(front) for s in _drawn_apart(parts, front)]
    assert all(one.meet(two).size < 1 for one, two in combinations(shadows, 2))
