"""Large stencils in tiles: the fewest, and together the whole outline again."""

import math

import numpy as np
import pytest
import shapely

from planbook.drawing.marks import Picture, Stroke, Words
from planbook.drawing.sheet_paper import HEAD
from planbook.drawing.stencil_art import ArtHole, ArtLine, ArtRegion, StencilArt, laid
from planbook.drawing.stencil_figure import mark_box
from planbook.drawing.stencil_pages import A3, A4, LETTER, TABLOID, StencilPage, stencil_pages
from planbook.drawing.stencil_pens import FRAME
from planbook.drawing.stencil_words import StencilWords
from planbook.drawing.tiles_grid import MOST_TILES, OVERLAP, TooManyTiles, counts, grid_of, row_name
from planbook.solids import Area, Path
from planbook.solids.plane import arc_band, box, circle, ellipse
from planbook.units import MM_TENTH


def plate(width: float, height: float, shape: Area | None = None) -> StencilArt:
    line = ArtLine("outline", shape or box(2, 2, width - 4, height - 4), "cut", "outside", 0.0, 1.0)
    return StencilArt(3, 5, "Plate", "top", ("plate",), box(0, 0, width, height), (line,))


def pages(art: StencilArt, paper: tuple[float, float] = A4) -> tuple[StencilPage, ...]:
    return stencil_pages([art], paper, 8.0, StencilWords(), MM_TENTH)


@pytest.mark.parametrize(
    ("width", "height", "paper", "tiles"),
    [
        (300, 200, A4, 2),
        (200, 300, A4, 2),
        (300, 200, LETTER, 2),
        (300, 300, A4, 4),
        (480, 180, A4, 2),
        (540, 180, A4, 3),
        (400, 260, A3, 2),
        (400, 250, TABLOID, 2),
    ],
)
def test_known_sizes_take_the_fewest_tiles(width: float, height: float, paper: tuple[float, float], tiles: int) -> None:
    """A4 leaves a tile of 194 x about 249 mm inside 8 mm margins; two of them in a row cover 378 x 249 mm."""
    found = pages(plate(width, height), paper)
    assert [page.kind for page in found] == ["tile"] * tiles
    assert len({page.tile for page in found}) == tiles


def test_tiles_without_lines_are_left_out() -> None:
    """A quarter ring of 500 mm leaves the corner at its middle empty."""
    ring = arc_band((0, 0), 420, 500, 0, 90)
    paper = laid(StencilArt(1, 1, "Bow", "top", ("bow",), ring, (ArtLine("bow", ring),)))
    rows, columns = counts(paper.bounds, (194.0, 250.0))
    assert len(grid_of(paper, (194.0, 250.0)).tiles) < rows * columns


def test_tiles_that_are_left_can_all_be_laid_on_one_another() -> None:
    """Two small cuts in opposite corners need two tiles, which share no side: a third one has to join them."""
    cuts = (ArtLine("low", circle((320, 320), 15)), ArtLine("high", circle((620, 680), 15)))
    found = pages(StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 1000, 1000), cuts))
    assert len(found) == 3
    assert len(offsets(found)) == 3


def test_a_corner_of_the_piece_alone_takes_no_tile() -> None:
    """A line like an L leaves one quarter of a board with nothing but its corner, whose two sides go on elsewhere."""
    bent = ArtLine("bent", Path(((250.0, 20.0), (250.0, 280.0), (20.0, 280.0))))
    board = box(0, 0, 300, 300)

    def tiles(face: Area) -> int:
        art = StencilArt(1, 1, "Plate", "top", ("plate",), face, (bent,))
        return len(grid_of(laid(art), (194.0, 249.0)).tiles)

    assert tiles(board) == 3
    # A rounded corner is told nowhere else.
    assert tiles(board.minus(box(0, 0, 60, 60)).plus(circle((60, 60), 60))) == 4


@pytest.mark.parametrize("at", [(150.0, 100.0), (146.0, 100.0), (155.0, 30.0)])
def test_joins_keep_off_holes_where_they_can(at: tuple[float, float]) -> None:
    """On a fixed grid two equal tiles would overlap from 145 to 155 mm, and the second be cut off at 145."""
    art = StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 300, 200), (), (ArtHole("h", at, 4.0),))
    grid = grid_of(laid(art), (194.0, 249.0))
    on = [t for t in grid.tiles if t.box[0] < at[0] + 2 and t.box[2] > at[0] - 2]
    assert len(on) == 1, "a hole on two papers is true only if they are glued without any error"
    assert on[0].box[0] <= at[0] - 4
    assert on[0].box[2] >= at[0] + 4


def test_no_sheet_is_cut_off_along_a_line() -> None:
    """Split evenly, the second sheet would be cut off at 145 mm, 1 mm beside a line that runs along it."""
    lines = tuple(ArtLine(f"{u}", Path(((u, 10.0), (u, 190.0)))) for u in (10.0, 146.0, 290.0))
    grid = grid_of(laid(StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 300, 200), lines)), (194.0, 249.0))
    assert abs(grid.tiles[1].box[0] - 146.0) > 3.0
    # What crosses it is crossed wherever it is cut, and the sheets stay even.
    across = tuple(ArtLine(f"{v}", Path(((10.0, v), (290.0, v)))) for v in (10.0, 100.0, 190.0))
    even = grid_of(laid(StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 300, 200), across)), (194.0, 249.0))
    assert even.tiles[1].box[0] == pytest.approx(145.0)


def test_too_many_tiles_are_refused_before_any_work() -> None:
    for size in (3000.0, 1e7):
        with pytest.raises(TooManyTiles) as caught:
            pages(plate(size, size))
        assert caught.value.number == 3
        assert caught.value.tiles > caught.value.most == MOST_TILES
        assert "stencil 3" in str(caught.value)


def test_a_long_stencil_is_still_tiled() -> None:
    assert len(pages(plate(3000, 100))) == math.ceil((3000 + 2 - OVERLAP) / (pages_height() - OVERLAP))


def pages_height() -> float:
    """The height of a tile on A4, measured on the frame of a printed one."""
    rim = [m for m in pages(plate(300, 200))[0].picture.of_layer("tile") if isinstance(m, Stroke)]
    ys = [y for mark in rim for _, y in mark.points]
    return max(ys) - min(ys)


def test_the_dotted_edge_of_a_tile_is_explained_on_it() -> None:
    for page in pages(plate(300, 200, ellipse((150, 100), 292, 190))):
        dotted = [m for m in page.picture.of_layer("tile") if isinstance(m, Stroke)]
        assert dotted
        assert {m.pen.dashes for m in dotted} == {FRAME.dashes}
        said = [m.text for m in page.picture.marks if isinstance(m, Words)]
        assert said.count(StencilWords().key_tile) == 1


SHAPES = [
    plate(300, 200, ellipse((150, 100), 292, 190)),
    plate(400, 390, circle((200, 195), 190).minus(circle((200, 195), 120))),
    plate(220, 500, arc_band((25, 250), 120, 190, -85, 85, round_ends=True)),
]


def match_middles(picture: Picture) -> dict[tuple[str, int], tuple[float, float]]:
    """The middle of every diamond by the names beside it and its turn on that join."""
    found: dict[tuple[str, int], tuple[float, float]] = {}
    diamonds = [m for m in picture.of_layer("match") if isinstance(m, Stroke) and m.closed]
    names = [m.text for m in picture.of_layer("match") if isinstance(m, Words)]
    for i, mark in enumerate(diamonds):
        pair = "-".join(names[2 * i : 2 * i + 2])
        number = sum(1 for key in found if key[0] == pair)
        found[(pair, number)] = (mark.points[0][0], mark.points[1][1])
    return found


def offsets(found: tuple[StencilPage, ...]) -> list[tuple[float, float]]:
    """Where each tile lies in the coordinates of the first, told by the match marks alone."""
    marks = [match_middles(page.picture) for page in found]
    placed: dict[int, tuple[float, float]] = {0: (0.0, 0.0)}
    while len(placed) < len(found):
        before = len(placed)
        for i, mine in enumerate(marks):
            if i in placed:
                continue
            for j, at in list(placed.items()):
                shared = sorted(set(mine) & set(marks[j]))
                if shared:
                    (x, y), (ax, ay) = mine[shared[0]], marks[j][shared[0]]
                    placed[i] = (at[0] + ax - x, at[1] + ay - y)
                    second = mine[shared[1]]
                    assert (second[0] + placed[i][0], second[1] + placed[i][1]) == pytest.approx(
                        (marks[j][shared[1]][0] + at[0], marks[j][shared[1]][1] + at[1]), abs=1e-6
                    )
                    break
        assert len(placed) > before
    return [placed[i] for i in range(len(found))]


@pytest.mark.parametrize("art", SHAPES, ids=["ellipse", "ring", "bow"])
@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_tiles_laid_by_their_match_marks_give_the_whole_outline(art: StencilArt, paper: tuple[float, float]) -> None:
    found = pages(art, paper)
    lines = []
    for page, (dx, dy) in zip(found, offsets(found), strict=True):
        for mark in page.picture.of_layer("cut"):
            assert isinstance(mark, Stroke)
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            lines.append(shapely.LineString([(x + dx, y + dy) for x, y in points]))
    cells = shapely.polygonize([shapely.unary_union(shapely.set_precision(lines, 1e-4))])
    faces = [cell for cell in cells.geoms if cell.area > 1.0]
    whole = art.lines[0].outline
    assert isinstance(whole, Area)
    outer = max((shapely.Polygon(face.exterior) for face in faces), key=lambda face: face.area)
    inner = [face for face in faces if len(whole.rings) > 1 and not face.interiors]
    drawn = outer.difference(shapely.unary_union(inner)) if inner else outer
    assert min(best_match(drawn, laid(art, turned)) for turned in (False, True)) <= 0.001


def best_match(drawn: shapely.Geometry, paper: object) -> float:
    """1 - (overlap / union) of the drawn outline and the true one, laid corner on corner."""
    from planbook.drawing.stencil_art import Laid

    assert isinstance(paper, Laid)
    outline = paper.lines[0].outline
    assert isinstance(outline, Area)
    rings = outline.rings
    true = shapely.Polygon(rings[0], rings[1:])
    dx, dy = drawn.bounds[0] - true.bounds[0], drawn.bounds[1] - true.bounds[1]
    true = shapely.transform(true, lambda p: p + np.array((dx, dy)))
    return 1 - float(drawn.intersection(true).area / drawn.union(true).area)


def test_neighbours_print_the_same_in_their_overlap() -> None:
    first, second = pages(plate(300, 200))
    at = offsets((first, second))[1]
    assert abs(at[0]) + abs(at[1]) == pytest.approx(A4[0] - 16 - OVERLAP, abs=1e-6)


def test_tiles_carry_tab_trim_map_and_head() -> None:
    first, second = pages(plate(300, 200))
    said = [{m.text for m in page.picture.marks if isinstance(m, Words)} for page in (first, second)]
    assert "glue tab: A2 goes on top" in said[0]
    assert "cut off here, lay over A1" in said[1]
    assert "tile A1 (1 of 2)" in said[0]
    assert "tile A2 (2 of 2)" in said[1]
    assert len(second.picture.of_layer("map")) > 5


def test_words_in_two_lines_keep_off_the_edge_of_the_tile_and_off_the_number() -> None:
    """What hangs below a line is about a fifth of its size (common practice); the number stands in a box."""
    note = "Both are alike, and both of them stand on the sawn edge of the blank. " * 4
    art = StencilArt(
        1, 1, "Plate", "top", ("plate",), box(0, 0, 300, 200), (ArtLine("all", box(0, 0, 300, 200)),), note=note
    )
    for page in pages(art):
        head = [mark for mark in page.picture.of_layer("words") if mark_box(mark)[3] < 8.0 + HEAD + 2.0]
        tag = max(p[1] for mark in head if isinstance(mark, Stroke) for p in mark.points)
        small = [mark for mark in head if isinstance(mark, Words) and mark.at[1] > tag]
        assert len(small) == 2
        assert small[0].at[1] - 0.7 * small[0].size > tag + 0.5
        assert small[1].at[1] + 0.22 * small[1].size < 8.0 + HEAD - 0.5


def test_every_overlap_says_which_tile_goes_on_top() -> None:
    """Lines every 22 mm leave no place as long as the words in one line, on tabs that run up and across."""
    lines = tuple(
        each
        for k in range(16)
        for each in (
            ArtLine(f"row {k}", Path(((0.0, 14.0 + 22 * k), (360.0, 14.0 + 22 * k)))),
            ArtLine(f"column {k}", Path(((14.0 + 22 * k, 0.0), (14.0 + 22 * k, 370.0)))),
        )
    )
    for page in pages(StencilArt(1, 1, "Plate", "top", ("plate",), box(0, 0, 360, 370), lines)):
        frame = [m for m in page.picture.of_layer("frame") if isinstance(m, Words)]
        said = " ".join(m.text for m in frame)
        assert said.count("goes on top") + said.count("lay over") == 2, said
        drawn = shapely.union_all([shapely.LineString(m.points) for m in page.picture.of_layer("cut")])
        assert all(drawn.distance(shapely.box(*mark_box(m))) > 0.1 for m in frame)


def hatched_plate() -> tuple[StencilPage, ...]:
    """Waste nearly everywhere, so that words and marks of the tiles have to stand on its hatching."""
    whole, kept = box(0, 0, 400, 390), (box(20, 20, 40, 40), box(340, 330, 40, 40))
    regions = (*(ArtRegion("heart", each) for each in kept), ArtRegion("rest", whole.minus(*kept), True))
    lines = tuple(ArtLine("heart", each, "cut", "outside", 0.0, 1.0) for each in kept)
    return pages(StencilArt(1, 1, "Plate", "top", ("plate",), whole, lines, (), regions))


def test_no_hatching_runs_through_the_words_and_marks_of_tiles() -> None:
    for page in hatched_plate():
        said = [m for m in page.picture.marks if isinstance(m, Words) and m.layer in ("frame", "match")]
        marks = [m for m in page.picture.of_layer("match") if isinstance(m, Stroke)]
        hatching = shapely.union_all([shapely.LineString(m.points) for m in page.picture.of_layer("waste")])
        assert said
        assert hatching.length > 1000
        for mark in (*said, *marks):
            assert hatching.distance(shapely.box(*mark_box(mark))) > 0.1


@pytest.mark.parametrize("art", [*SHAPES, plate(3000, 100)], ids=["ellipse", "ring", "bow", "long"])
def test_letters_and_numbers_of_the_map_touch_no_line(art: StencilArt) -> None:
    for page in pages(art):
        lines = [m for m in page.picture.of_layer("map") if isinstance(m, Stroke)]
        drawn = shapely.union_all([shapely.LineString(m.points) for m in lines])
        said = [m for m in page.picture.of_layer("map") if isinstance(m, Words)]
        boxes = [shapely.box(*mark_box(m)) for m in said]
        assert all(drawn.distance(each) > 0.05 for each in boxes)
        assert all(one.distance(two) > 0 for k, one in enumerate(boxes) for two in boxes[k + 1 :])
        assert page.tile is not None
        assert {m.text for m in said if m.bold} == {row_name(page.tile[0] - 1), str(page.tile[1])}
