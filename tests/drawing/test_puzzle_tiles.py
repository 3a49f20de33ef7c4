"""The puzzle of the samples in tiles: put together by their marks they give the whole bird, with every name once."""

import math
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import LineString
from shapely.ops import polygonize, unary_union

from planbook.drawing.marks import Stroke, Words
from planbook.drawing.stencil_pages import A4, LETTER, StencilPage, stencil_pages
from planbook.drawing.stencil_read import stencil_arts
from planbook.drawing.stencil_words import StencilWords
from planbook.reader import read_design
from planbook.units import MM_TENTH
from planbook.workshop import Timeline
from planbook.workshop.run import build

PUZZLE = Path(__file__).parents[2] / "designs" / "heron-puzzle"
PAPERS = pytest.mark.parametrize("paper", [A4, LETTER], ids=["a4", "letter"])


@cache
def puzzle() -> Timeline:
    reading = read_design(PUZZLE)
    assert reading.design is not None
    return build(reading.design)


@cache
def tiles(paper: tuple[float, float]) -> dict[tuple[int, int], StencilPage]:
    found = stencil_pages(stencil_arts(puzzle()), paper, 8.0, StencilWords(), MM_TENTH)
    return {page.tile: page for page in found if page.tile is not None}


def strokes(page: StencilPage, layer: str) -> list[Stroke]:
    return [mark for mark in page.picture.marks if isinstance(mark, Stroke) and mark.layer == layer]


def diamonds(page: StencilPage) -> list[np.ndarray]:
    return [np.mean(mark.points, axis=0) for mark in strokes(page, "match") if mark.closed]


def moves(paper: tuple[float, float]) -> dict[tuple[int, int], np.ndarray]:
    """How far each tile is moved so that its marks fall on those of its neighbours; the last one stays."""
    pages = tiles(paper)

    def move(first: tuple[int, int], second: tuple[int, int], axis: int) -> np.ndarray:
        ends = sorted(diamonds(pages[first]), key=lambda m: m[axis])[-2:]
        starts = sorted(diamonds(pages[second]), key=lambda m: m[axis])[:2]
        shifts = np.array(sorted(map(tuple, ends))) - np.array(sorted(map(tuple, starts)))
        assert np.ptp(shifts, axis=0) == pytest.approx([0, 0], abs=1e-6), "the marks of the tiles are not alike"
        return shifts.mean(axis=0)

    return {(1, 2): -move((1, 2), (2, 2), 1), (2, 1): -move((2, 1), (2, 2), 0), (2, 2): np.zeros(2)}


@PAPERS
def test_the_bird_takes_three_tiles(paper: tuple[float, float]) -> None:
    """The one in the upper left corner would bear nothing but the corner of the board, whose sides others bear too."""
    assert sorted(tiles(paper)) == [(1, 2), (2, 1), (2, 2)]


@PAPERS
def test_tiles_put_together_give_the_whole_bird(paper: tuple[float, float]) -> None:
    lines: dict[str, list[LineString]] = {"cut": [], "edge": []}
    for tile, page in tiles(paper).items():
        dx, dy = moves(paper)[tile]
        for layer, found in lines.items():
            for mark in strokes(page, layer):
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                found.append(LineString([(x + dx, y + dy) for x, y in points]))
    true = puzzle().shapes["heron"].mirrored("v").shape
    # The foot of the bird is an edge of the board, where nothing is sawn.
    sawn = unary_union(lines["cut"]).bounds
    parts = polygonize(unary_union([*lines["cut"], *lines["edge"]]))
    placed = [affinity.translate(part, true.bounds[0] - sawn[0], true.bounds[1] - sawn[1]) for part in parts]
    whole = unary_union([part for part in placed if true.contains(part.representative_point())])
    printed = max(getattr(whole, "geoms", [whole]), key=lambda part: part.area)
    outline = type(printed)(printed.exterior)
    assert outline.intersection(true).area / outline.union(true).area > 0.999
    assert outline.exterior.hausdorff_distance(true.exterior) < 0.05


@PAPERS
def test_every_part_is_named_on_the_tiles_once(paper: tuple[float, float]) -> None:
    said = [
        mark.text
        for page in tiles(paper).values()
        for mark in page.picture.marks
        if isinstance(mark, Words) and mark.layer == "words"
    ]
    for part in puzzle().object:
        if part.name != "base":
            assert said.count(part.name) == 1, part.name


@PAPERS
def test_every_line_is_named_on_the_tiles_once(paper: tuple[float, float]) -> None:
    said = [m.text for page in tiles(paper).values() for m in page.picture.marks if isinstance(m, Words)]
    for line in puzzle().design.stencils["heron"].lines:
        assert said.count(line.name) == 1, line.name


@PAPERS
def test_the_names_of_match_marks_keep_off_the_cut_lines(paper: tuple[float, float]) -> None:
    for page in tiles(paper).values():
        cuts = unary_union([LineString(mark.points) for mark in strokes(page, "cut")])
        for spot in diamonds(page):
            named = [m for m in page.picture.marks if isinstance(m, Words) and m.layer == "match" and near(m, spot)]
            assert len(named) == 2
            # A letter of 2.4 mm is about 1.7 mm high: its middle stays a millimetre and more off the line.
            for mark in named:
                assert cuts.is_empty or cuts.distance(LineString([(mark.at[0], mark.at[1] - 1.7), mark.at])) > 0.4


def near(words: Words, spot: np.ndarray) -> bool:
    return math.dist(words.at, spot) < 9.0


@PAPERS
def test_the_note_of_the_stencil_stands_on_every_tile(paper: tuple[float, float]) -> None:
    note = puzzle().design.stencils["heron"].note
    for page in tiles(paper).values():
        said = " ".join(m.text for m in page.picture.marks if isinstance(m, Words) and m.layer == "words")
        assert note in said
