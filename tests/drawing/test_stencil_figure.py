"""A stencil drawn at true size: lines where they belong, words where no line is."""

import math
from dataclasses import replace

import pytest

from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.sheet_block import block_of
from planbook.drawing.stencil_art import (
    ArtHole,
    ArtLine,
    ArtRegion,
    Laid,
    LineUseKind,
    StencilArt,
    cropped,
    laid,
    saw_line,
)
from planbook.drawing.stencil_figure import Figure, draw_figure
from planbook.drawing.stencil_lines import TICK_LENGTH
from planbook.drawing.stencil_pens import LAYERS
from planbook.drawing.stencil_room import words_box
from planbook.drawing.stencil_words import StencilWords, broken
from planbook.solids import Area, Path
from planbook.solids.plane import box, circle
from planbook.units import MM_TENTH

WORDS = StencilWords()


def drum(side: str = "outside", leave: float = 0.8) -> StencilArt:
    face, outer = box(0, 0, 180, 140), box(10, 8, 160, 120, 40)
    inner = outer.offset(-14)
    lines = (
        ArtLine("outer", outer, "cut", side, leave, 0.9),  # type: ignore[arg-type]
        ArtLine("inner", inner, "cut", "inside", 0.0, 0.9),
        ArtLine("way in", Path(((90, 0), (90, 22))), "entry", kerf=0.9),
        ArtLine("middle", Path(((90, 60), (90, 80))), "guide"),
        ArtLine("dish", circle((90, 40), 9), "sand to"),
    )
    holes = (ArtHole("a", (60, 70), 6.35, None), ArtHole("b", (120, 70), 10.0, 20.0))
    regions = (
        ArtRegion("rim", outer.minus(inner)),
        ArtRegion("offcut", face.minus(outer), True),
        ArtRegion("core", inner),
    )
    return StencilArt(1, 6, "Drum", "front", ("blank",), face, lines, holes, regions, 0.0)


def drawn(art: StencilArt, turned: bool = False) -> tuple[Laid, Figure]:
    paper = laid(art, turned)
    return paper, draw_figure(paper, WORDS, MM_TENTH)


def strokes(figure: Figure, layer: str) -> list[Stroke]:
    return [mark for mark in figure.marks if isinstance(mark, Stroke) and mark.layer == layer]


def same_rings(found: list[Stroke], areas: list[Area]) -> bool:
    wanted = sorted(sorted((round(x, 6), round(y, 6)) for x, y in ring) for area in areas for ring in area.rings)
    return wanted == sorted(sorted((round(x, 6), round(y, 6)) for x, y in mark.points) for mark in found)


@pytest.mark.parametrize("turned", [False, True])
def test_lines_are_exactly_the_outlines(turned: bool) -> None:
    paper, figure = drawn(drum(), turned)
    outer, inner, entry, guide, dish = paper.lines
    inner_area, dish_area = inner.outline, dish.outline
    assert isinstance(inner_area, Area)
    assert isinstance(dish_area, Area)
    saw, true = saw_line(outer), outer.outline
    assert isinstance(saw, Area)
    assert isinstance(true, Area)
    assert same_rings(strokes(figure, "cut"), [saw, inner_area])
    assert same_rings(strokes(figure, "sand to"), [true, dish_area])
    assert same_rings(strokes(figure, "edge"), [paper.face])
    assert isinstance(entry.outline, Path)
    assert isinstance(guide.outline, Path)
    assert entry.outline.points in [mark.points for mark in strokes(figure, "entry")]
    assert [mark.points for mark in strokes(figure, "guide")] == [guide.outline.points]


def test_paper_is_not_a_mirror_image() -> None:
    art = drum()
    upright, quarter = laid(art), laid(art, turned=True)
    assert upright.holes[0].at == (60, -70)
    assert quarter.holes[0].at == (-70, -60)
    assert upright.up == -90
    assert quarter.up == -180
    assert [upright.side(s) for s in ("left", "above")] == ["left", "above"]
    assert [quarter.side(s) for s in ("left", "above", "right", "below")] == ["below", "left", "above", "right"]


def test_the_allowance_lies_between_the_saw_line_and_the_true_line() -> None:
    for side, sign in (("outside", 1), ("inside", -1)):
        line = drum(side).lines[0]
        saw, true = saw_line(line), line.outline
        assert isinstance(saw, Area)
        assert isinstance(true, Area)
        grown = [s - t for s, t in zip(saw.bounds, true.bounds, strict=True)]
        assert grown == pytest.approx([-0.8 * sign, -0.8 * sign, 0.8 * sign, 0.8 * sign])


def test_no_allowance_draws_no_second_line() -> None:
    art = drum(leave=0.0)
    assert len(strokes(drawn(art)[1], "sand to")) == 1


@pytest.mark.parametrize(("side", "inward"), [("inside", True), ("outside", False)])
def test_ticks_and_tint_lie_on_the_side_of_the_saw_cut(side: str, inward: bool) -> None:
    shape = circle((50, 50), 30)
    line = ArtLine("ring", shape, "cut", side, 0.0, 1.0)  # type: ignore[arg-type]
    paper, figure = drawn(StencilArt(1, 1, "Ring", "top", ("disc",), box(0, 0, 100, 100), (line,)))
    ticks = strokes(figure, "kerf side")
    reach = [math.dist(mark.points[1], (50, -50)) for mark in ticks]
    assert len(ticks) > 10
    assert all((r < 30) == inward for r in reach)
    tint = next(mark for mark in figure.marks if isinstance(mark, Fill) and mark.layer == "kerf side")
    far = {round(math.dist(p, (50, -50))) for ring in tint.rings for p in ring}
    assert far == ({29, 30} if inward else {30, 31})
    assert paper.lines[0].side == side


def test_a_cut_on_its_line_has_tint_on_both_sides_and_no_ticks() -> None:
    line = ArtLine("rip", Path(((50, 0), (50, 80))), "cut", "centre", 0.0, 2.0)
    _, figure = drawn(StencilArt(1, 1, "Rip", "top", ("board",), box(0, 0, 100, 80), (line,)))
    tint = next(mark for mark in figure.marks if isinstance(mark, Fill) and mark.layer == "kerf")
    assert {round(x, 3) for ring in tint.rings for x, _ in ring} == {49.0, 51.0}
    assert not strokes(figure, "kerf side")


@pytest.mark.parametrize("turned", [False, True])
def test_left_of_an_open_line_stays_left_on_paper(turned: bool) -> None:
    """Going up the stencil (u = 50), left is towards smaller u."""
    line = ArtLine("rip", Path(((50, 0), (50, 80))), "cut", "left", 0.0, 2.0)
    _, figure = drawn(StencilArt(1, 1, "Rip", "top", ("board",), box(0, 0, 100, 80), (line,)), turned)
    for tick in strokes(figure, "kerf side"):
        tip = tick.points[1]
        u = -tip[1] if turned else tip[0]
        assert 50 - TICK_LENGTH < u < 50


def test_holes_have_their_diameter_and_a_cross() -> None:
    paper, figure = drawn(drum())
    rings = strokes(figure, "hole")
    for hole, ring in zip(paper.holes, rings, strict=True):
        away = [math.dist(point, hole.at) for point in ring.points]
        assert max(away) == pytest.approx(hole.diameter / 2, abs=1e-9)
        middles = [
            math.dist(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), hole.at)
            for a, b in zip(ring.points, (*ring.points[1:], ring.points[0]), strict=True)
        ]
        assert min(middles) > hole.diameter / 2 - 0.01
    centre = [mark for mark in strokes(figure, "centre") if paper.holes[0].at in mark.points]
    assert len(centre) == 4


def texts(figure: Figure) -> list[str]:
    return [mark.text for mark in figure.marks if isinstance(mark, Words)]


def test_waste_that_is_called_so_is_not_called_so_twice() -> None:
    face, kept = box(0, 0, 180, 140), box(0, 0, 90, 140)
    regions = (ArtRegion("top waste", face.minus(kept), True), ArtRegion("top", kept))
    said = texts(drawn(StencilArt(1, 1, "Top", "front", ("blank",), face, (), (), regions, 0.0))[1])
    assert "top waste" in said
    assert not any("(waste)" in text for text in said)


@pytest.mark.parametrize("turned", [False, True])
def test_words_are_there_and_keep_off_every_line(turned: bool) -> None:
    _, figure = drawn(drum(), turned)
    said = texts(figure)
    for text in ("rim", "core", "offcut (waste)", "grain", "this way up", "way in", "edge of the piece"):
        assert text in said
    assert "Ø 10 mm, 20 mm deep" in said
    assert "Ø 6.35 mm (1/4\u00a0in), through" in said
    boxes = [words_box(mark) for mark in figure.marks if isinstance(mark, Words)]
    solid = [m for layer in ("cut", "sand to", "entry", "hole", "centre", "edge") for m in strokes(figure, layer)]
    for mark in solid:
        points = (*mark.points, mark.points[0]) if mark.closed else mark.points
        assert not any(Path(points).inside(area) for area in boxes)
    for i, first in enumerate(boxes):
        assert not any(first.touches(other) for other in boxes[i + 1 :])


def test_an_arrow_says_what_its_side_becomes_and_that_it_is_to_be_minded_when_turned() -> None:
    face = box(0, 0, 180, 140)
    for name, way in (("up", "this way up"), ("back", "this way to the back"), ("", "top of the stencil")):
        art = StencilArt(1, 1, "Top", "top", ("blank",), face, (), (), (), 0.0, way=name)
        for turned in (False, True):
            figure = drawn(art, turned)[1]
            assert way in texts(figure)
            assert (StencilWords().turned in figure.notes) == turned


def test_a_note_about_an_edge_is_read_after_the_line_that_says_the_sheet_is_turned() -> None:
    """Turned a quarter to the left, the lower edge lies at the right of the page: only with the arrow up it is below."""
    note = "Align the lower edge."
    art = StencilArt(1, 1, "Top", "front", ("blank",), box(0, 0, 180, 140), (), (), (), 0.0, note=note)
    for turned in (False, True):
        block = block_of(art, turned, 180.0, StencilWords(), MM_TENTH)
        lines = [mark.text for mark in block.marks if isinstance(mark, Words)]
        assert (StencilWords().turned in lines) == turned
        assert not turned or lines.index(StencilWords().turned) == lines.index(note) - 1
    assert laid(art, True).up % 360 == 180.0  # to the left of the page


def test_names_stand_in_their_regions() -> None:
    paper, figure = drawn(drum())
    regions = {region.name: region.area for region in paper.regions}
    for mark in figure.marks:
        if isinstance(mark, Words) and mark.text in regions:
            assert words_box(mark).within(regions[mark.text])


def test_a_region_that_is_too_small_is_named_with_a_leader() -> None:
    small = box(20, 20, 6, 4)
    regions = (ArtRegion("the little plug", small), ArtRegion("plate", box(0, 0, 100, 60).minus(small)))
    line = ArtLine("plug", small, "cut", "inside", 0, 0.5)
    art = StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 100, 60), (line,), (), regions)
    paper, figure = drawn(art)
    label = next(mark for mark in figure.marks if isinstance(mark, Words) and mark.text == "the little plug")
    assert not words_box(label).touches(paper.regions[0].area)
    assert any(paper.regions[0].area.holds(mark.points[0]) for mark in strokes(figure, "words"))


def test_waste_is_hatched_and_nothing_else() -> None:
    paper, figure = drawn(drum())
    waste = next(region.area for region in paper.regions if region.waste).offset(1e-6)
    hatching = strokes(figure, "waste")
    assert len(hatching) > 50
    assert all(waste.holds(point) for mark in hatching for point in mark.points)


def test_grain_follows_its_angle_and_end_grain_has_rings() -> None:
    art = StencilArt(1, 1, "Plain", "left", ("side",), box(0, 0, 150, 150), grain=30.0)
    shafts = strokes(drawn(art)[1], "grain")
    (ax, ay), (bx, by) = shafts[0].points[1], shafts[1].points[1]
    assert math.degrees(math.atan2(-(by - ay), bx - ax)) % 180 == pytest.approx(30)
    end = StencilArt(1, 1, "Plain", "left", ("side",), box(0, 0, 150, 150), grain=None)
    figure = drawn(end)[1]
    assert "end grain" in texts(figure)
    assert len(strokes(figure, "grain")) == 3


def test_many_holes_are_tagged_and_explained_once() -> None:
    holes = tuple(ArtHole(str(i), (10 + 20 * i, 20), 5.0 if i % 2 else 8.0, None) for i in range(8))
    figure = drawn(StencilArt(1, 1, "Pegs", "left", ("rail",), box(0, 0, 170, 40), (), holes))[1]
    assert texts(figure).count("A") == texts(figure).count("B") == 4
    assert figure.notes == ("A: 4 holes, Ø 8 mm, through.", "B: 4 holes, Ø 5 mm, through.")


def test_a_cropped_stencil_tells_how_far_the_edge_is() -> None:
    holes = (ArtHole("a", (300.4, 100), 5.0), ArtHole("b", (380, 100), 5.0))
    art = cropped(StencilArt(1, 1, "Screws", "top", ("shelf",), box(0, 0, 900, 200), (), holes), 12.0, "u")
    assert art.away == (("left", 285.0),)
    assert art.trimmed == ("left", "right")
    assert art.face.bounds == (285.0, 0.0, 395.0, 200.0)
    figure = drawn(art)[1]
    assert "285 mm to the edge of the piece" in texts(figure)
    assert sorted(mark.points[0][1] for mark in strokes(figure, "edge")) == [-200.0, 0.0]
    for mark in strokes(figure, "crop"):
        xs = {p[0] for p in mark.points}
        assert {mark.points[0][0], mark.points[-1][0]} < xs
        assert max(xs) - min(xs) < 3.0


@pytest.mark.parametrize(("end", "paper"), [(285.6, 286.0), (287.4, 288.0), (251.0, 285.0), (284.9, 285.0)])
def test_no_sliver_of_an_opening_is_left_where_the_paper_ends(end: float, paper: float) -> None:
    """The paper would end at 285; an opening that ends a little inside would show as a line beside that."""
    face = box(0, 0, 900, 200).minus(box(200, 50, end - 200, 100))
    holes = (ArtHole("a", (300.4, 100), 5.0), ArtHole("b", (380, 100), 5.0))
    art = cropped(StencilArt(1, 1, "Screws", "top", ("shelf",), face, (), holes), 12.0, "u")
    assert art.face.bounds[0] == paper
    assert art.away == (("left", paper),)


def test_an_opening_deep_in_the_paper_is_shown_where_it_ends() -> None:
    face = box(0, 0, 900, 200).minus(box(200, 50, 92, 100))
    holes = (ArtHole("a", (300.4, 100), 5.0), ArtHole("b", (380, 100), 5.0))
    art = cropped(StencilArt(1, 1, "Screws", "top", ("shelf",), face, (), holes), 12.0, "u")
    assert art.face.bounds[0] == 285.0
    assert art.edges is not None
    assert any(max(p[0] for p in edge.points) == 292.0 for edge in art.edges)


def test_a_saw_line_beside_the_wood_is_left_out() -> None:
    line = ArtLine("all", box(0, 0, 100, 60), "cut", "outside", 0.5, 1.0)
    figure = drawn(StencilArt(1, 1, "Flush", "top", ("board",), box(0, 0, 100, 60), (line,)))[1]
    assert not strokes(figure, "cut")
    assert len(strokes(figure, "sand to")) == 1


def test_every_layer_has_a_known_name() -> None:
    assert {mark.layer for mark in drawn(drum())[1].marks} <= set(LAYERS)


def test_broken_lines_fit_their_width() -> None:
    assert broken("a very long name of a piece", 3.0, 15.0, 9) == ("a very long", "name of a", "piece")
    assert broken("x" * 200, 3.0, 20.0, 2)[-1].endswith("…")
    assert broken("", 3.0, 20.0) == ("",)


def test_many_holes_that_are_alike_are_told_once_without_letters() -> None:
    holes = tuple(ArtHole(str(i), (10 + 20 * i, 20), 5.0, None) for i in range(8))
    figure = drawn(StencilArt(1, 1, "Pegs", "left", ("rail",), box(0, 0, 170, 40), (), holes))[1]
    assert figure.notes == ("All 8 holes: Ø 5 mm, through.",)
    assert not {"A", "B"} & set(texts(figure))


def test_words_of_a_hole_are_close_to_it_or_led_to_it() -> None:
    """Two holes in a narrow groove beside a narrow rim: none of their words finds room next to its hole."""
    face, groove = box(0, 0, 180, 140), box(6, 6, 168, 12, 6)
    holes = (ArtHole("a", (12, 12), 10.0, None), ArtHole("b", (168, 12), 10.0, None))
    line = ArtLine("groove", groove, "cut", "inside", 0.0, 0.9)
    paper, figure = drawn(StencilArt(1, 1, "Groove", "front", ("block",), face, (line,), holes))
    said = [mark for mark in figure.marks if isinstance(mark, Words) and mark.text == "Ø 10 mm, through"]
    assert len(said) == 2
    leaders = [mark.points for mark in strokes(figure, "words") if len(mark.points) == 2]
    free = {hole.at for hole in paper.holes}
    for mark in said:
        at = words_box(mark)
        near = [spot for spot in free if at.distance_to_edge(spot) < 5.0 + 4.0]
        led = [
            spot
            for start, end in leaders
            for spot in free
            if math.dist(start, spot) == pytest.approx(5.0) and at.distance_to_edge(end) < 0.5
        ]
        assert near or led, "neither close nor led"
        free -= {(near or led)[0]}
    assert not free


def test_a_leader_keeps_off_other_words_and_later_words_keep_off_it() -> None:
    small = [box(20 + 9 * i, 20, 6, 4) for i in range(3)]
    regions = tuple(ArtRegion(f"little plug {i}", area) for i, area in enumerate(small))
    plate = ArtRegion("plate", box(0, 0, 100, 60).minus(*small))
    lines = tuple(ArtLine(f"plug {i}", area, "cut", "inside", 0, 0.5) for i, area in enumerate(small))
    art = StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 100, 60), lines, (), (*regions, plate))
    figure = drawn(art)[1]
    boxes = {mark.text: words_box(mark) for mark in figure.marks if isinstance(mark, Words)}
    leaders = [Path(mark.points) for mark in strokes(figure, "words") if len(mark.points) == 2]
    assert len(leaders) >= 3
    assert not any(leader.inside(area) for leader in leaders for area in boxes.values())


@pytest.mark.parametrize("use", ["cut", "sand to"])
def test_a_line_is_left_out_where_it_runs_along_an_edge_of_the_piece(use: LineUseKind) -> None:
    """A box 80 x 40 in the lower left corner of a board: only its right and upper sides are in the wood."""
    line = ArtLine("corner", box(0, 0, 80, 40), use, "outside", 0.0, 1.0)
    figure = drawn(StencilArt(1, 1, "Corner", "top", ("board",), box(0, 0, 100, 60), (line,)))[1]
    assert sum(Path(mark.points).length for mark in strokes(figure, use)) == pytest.approx(120, abs=0.3)
    inside = replace(line, side="inside")
    figure = drawn(StencilArt(1, 1, "Corner", "top", ("board",), box(0, 0, 100, 60), (inside,)))[1]
    (whole, *others) = strokes(figure, use)
    # The blade that runs inside a line takes wood off at an edge as well.
    assert (whole.closed and not others) == (use == "cut")


def test_a_line_along_an_edge_is_left_out_over_the_mouth_of_a_housing_too() -> None:
    line = ArtLine("side", box(0, 0, 100, 40), "sand to")
    face = box(0, 0, 100, 60).minus(box(-1, 10, 30, 12))
    figure = drawn(StencilArt(1, 1, "Side", "left", ("board",), face, (line,)))[1]
    (only,) = strokes(figure, "sand to")
    assert Path(only.points).length == pytest.approx(100, abs=0.3)


def test_a_way_in_from_a_hole_points_from_the_hole_to_the_line_and_is_named_in_the_waste() -> None:
    """The window is wood that falls off; its start hole lies deeper in the wood than the line that the way in leads to."""
    face, window = box(0, 0, 200, 200), box(60, 60, 80, 80)
    way = ArtLine("way in", Path(((100, 100), (100, 60))), "entry", kerf=0.9)
    regions = (ArtRegion("scrap", window, True), ArtRegion("frame", face.minus(window)))
    holes = (ArtHole("start", (100, 100), 4.0, None),)
    _, figure = drawn(StencilArt(1, 1, "Frame", "front", ("blank",), face, (way,), holes, regions, 0.0))
    heads = [mark.points for mark in strokes(figure, "entry") if len(mark.points) == 3]
    assert heads
    # On paper y runs down: the tip lies farther down the sheet than the ends of its wings, from the hole to the line.
    assert all(tip[1] > max(one[1], two[1]) for one, tip, two in heads)
    (name,) = [mark for mark in figure.marks if isinstance(mark, Words) and mark.text == "way in"]
    assert window.mirrored("v").holds(name.at)
