"""Pages of stencils: true size, inside the margins, checkable, few, and never a crash."""

from functools import cache

import pytest

from planbook.drawing.marks import Stroke, Words
from planbook.drawing.stencil_art import ArtHole, ArtLine, ArtRegion, StencilArt
from planbook.drawing.stencil_figure import mark_box
from planbook.drawing.stencil_pages import (
    A3,
    A4,
    LETTER,
    MARGIN,
    TABLOID,
    PaperTooSmall,
    StencilPage,
    stencil_pages,
)
from planbook.drawing.stencil_pens import LAYERS
from planbook.drawing.stencil_words import StencilWords
from planbook.drawing.svg import svg
from planbook.solids import Area
from planbook.solids.plane import blank_area, box, circle
from planbook.units import INCH_32, MM_TENTH, LengthStyle

PAPERS = {"A4": A4, "Letter": LETTER, "A3": A3, "Tabloid": TABLOID}
LONG = "the quite unreasonably long name " * 7
ARABIC, JAPANESE = "الدرج الأيسر مع المقبض", "左の引き出しの前板と取っ手"


def art(number: int, width: float, height: float, title: str = "Part", **more: object) -> StencilArt:
    face = box(0, 0, width, height)
    shape = box(width * 0.1, height * 0.1, width * 0.8, height * 0.8, min(width, height) * 0.2)
    regions = (ArtRegion(title, shape), ArtRegion("scrap", face.minus(shape), True))
    line = ArtLine("outline", shape, "cut", "outside", 0.5, 0.9)
    made = {"lines": (line,), "regions": regions, "pieces": (f"{title} blank",), **more}
    return StencilArt(number, 9, title, "front", face=face, **made)  # type: ignore[arg-type]


def pages(*arts: StencilArt, paper: tuple[float, float] = A4, style: LengthStyle = MM_TENTH) -> tuple[StencilPage, ...]:
    return stencil_pages(arts, paper, MARGIN, StencilWords(), style)


def test_each_of_the_papers_that_are_cut_apart_says_of_which_plan_it_is() -> None:
    arts = [art(1, 160, 60), art(2, 60, 60), art(3, 60, 60)]
    (page,) = stencil_pages(arts, A4, MARGIN, StencilWords(), MM_TENTH, plan="Tern · Version 1.2")
    said = [mark for mark in page.picture.marks if isinstance(mark, Words) and mark.text == "Tern · Version 1.2"]
    assert len(said) == 3
    for words in said:
        left, top, right, bottom = mark_box(words)
        for mark in page.picture.marks:
            x0, y0, x1, y1 = mark_box(mark)
            assert mark is words or x1 < left or x0 > right or y1 < top or y0 > bottom, mark
    (alone,) = stencil_pages(arts[:1], A4, MARGIN, StencilWords(), MM_TENTH, plan="Tern · Version 1.2")
    assert "Tern · Version 1.2" not in [mark.text for mark in alone.picture.marks if isinstance(mark, Words)]


@cache
def every_page(name: str, style: LengthStyle = MM_TENTH) -> tuple[StencilPage, ...]:
    """All kinds of stencils on a paper; drawn once for all tests."""
    return pages(*everything(), paper=PAPERS[name], style=style)


def everything() -> tuple[StencilArt, ...]:
    return (
        art(1, 160, 120),
        art(2, 40, 25, "Knob", grain=None),
        art(3, 1, 1, "Speck"),
        art(4, 300, 200, LONG),
        art(5, 90, 60, ARABIC),
        art(6, 60, 90, JAPANESE, pieces=tuple(f"{JAPANESE} {i}" for i in range(12))),
        StencilArt(7, 9, "Holes", "left", ("rail",), box(0, 0, 900, 60), (), (ArtHole("a", (450, 30), 6.35, 12.0),)),
        art(8, 200, 200, "Square"),
    )


def test_paper_sizes_are_the_published_ones() -> None:
    """ISO 216: A4 210 x 297, A3 297 x 420 mm. ANSI/ASME Y14.1: A 8.5 x 11 in, B 11 x 17 in."""
    assert A4 == (210, 297)
    assert A3 == (297, 420)
    assert pytest.approx((8.5 * 25.4, 11 * 25.4)) == LETTER
    assert pytest.approx((11 * 25.4, 17 * 25.4)) == TABLOID


@pytest.mark.parametrize("name", PAPERS)
@pytest.mark.parametrize("style", [MM_TENTH, INCH_32], ids=["mm", "in"])
def test_nothing_lies_in_the_margins(name: str, style: LengthStyle) -> None:
    paper = PAPERS[name]
    for page in every_page(name, style):
        assert (page.picture.width, page.picture.height) == paper
        for mark in page.picture.marks:
            left, top, right, bottom = mark_box(mark)
            assert left >= MARGIN - 0.01, mark
            assert top >= MARGIN - 0.01, mark
            assert right <= paper[0] - MARGIN + 0.01, mark
            assert bottom <= paper[1] - MARGIN + 0.01, mark


@pytest.mark.parametrize("name", PAPERS)
def test_every_page_can_be_checked_in_both_units(name: str) -> None:
    for page in every_page(name):
        bars = [m for m in page.picture.of_layer("check") if isinstance(m, Stroke) and len(m.points) == 2]
        spans = [m.points[1][0] - m.points[0][0] for m in bars]
        assert [s for s in spans if s > 50] == pytest.approx([100.0, 101.6], abs=1e-9)


@pytest.mark.parametrize("name", PAPERS)
def test_every_stencil_is_printed_and_layers_are_known(name: str) -> None:
    found = every_page(name)
    assert {number for page in found for number in page.numbers} == set(range(1, 9))
    assert [min(page.numbers) for page in found] == sorted(min(page.numbers) for page in found)
    for page in found:
        assert {mark.layer for mark in page.picture.marks} <= set(LAYERS)
        assert page.picture.alt
        assert (page.kind == "tile") == (page.tile is not None)
        assert (page.kind == "shared") == (len(page.numbers) > 1)
        assert svg(page.picture).startswith("<svg")


def test_words_keep_off_the_cut_lines_of_their_page() -> None:
    from planbook.drawing.stencil_room import words_box
    from planbook.solids import Path

    for page in every_page("A4"):
        boxes = [words_box(m) for m in page.picture.marks if isinstance(m, Words) and m.layer != "map"]
        for layer in ("cut", "sand to", "edge", "hole"):
            for mark in page.picture.of_layer(layer):
                assert isinstance(mark, Stroke)
                points = (*mark.points, mark.points[0]) if mark.closed else mark.points
                assert not any(Path(points).inside(area) for area in boxes)


@pytest.mark.parametrize("turned", [False, True])
def test_lines_on_the_page_are_true_size(turned: bool) -> None:
    size = (230.0, 150.0) if turned else (150.0, 230.0)
    (page,) = pages(art(1, *size))
    edges = [m for m in page.picture.of_layer("edge") if isinstance(m, Stroke)]
    xs, ys = zip(*edges[0].points, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((150.0, 230.0), abs=0.01)
    true = Area.of(edges[0].points)
    assert true.size == pytest.approx(150 * 230, abs=0.01)


def test_small_stencils_share_a_page_and_large_ones_do_not() -> None:
    found = pages(*(art(i, 80, 60, f"Part {i}") for i in range(1, 5)), art(5, 180, 230))
    assert [(page.kind, page.numbers) for page in found] == [("shared", (1, 2, 3, 4)), ("single", (5,))]


@pytest.mark.parametrize("height", [150.0, 225.0], ids=["squares below", "no room for squares"])
def test_a_stencil_alone_is_centred_under_a_title_that_stands_where_all_do(height: float) -> None:
    (page,) = pages(art(1, 150, height))
    edges = [m for m in page.picture.of_layer("edge") if isinstance(m, Stroke)]
    xs = [x for x, _ in edges[0].points]
    assert (min(xs) + max(xs)) / 2 == pytest.approx(A4[0] / 2, abs=0.01)
    (tag,) = (m for m in page.picture.marks if isinstance(m, Words) and m.text == "1 of 9")
    assert mark_box(tag)[0] < MARGIN + 3


def test_true_size_is_told_on_a_line_of_its_own_rather_than_broken() -> None:
    long = ("the block of the end tray of the drawer",)
    (page,) = pages(art(1, 60, 40, pieces=long), art(2, 60, 40, pieces=long))
    said = [m.text for m in page.picture.marks if isinstance(m, Words)]
    assert "True size (1:1)." in said


def test_a_stencil_that_is_too_wide_is_turned_rather_than_tiled() -> None:
    (page,) = pages(art(1, 230, 150))
    assert page.kind == "single"


def test_a_large_face_is_cropped_to_its_work() -> None:
    (page,) = pages(
        StencilArt(1, 1, "Holes", "top", ("top",), box(0, 0, 1200, 600), (), (ArtHole("a", (500, 300), 8.0),))
    )
    said = [m.text for m in page.picture.marks if isinstance(m, Words)]
    assert "484 mm to the edge of the piece" in said
    assert "284 mm to the edge of the piece" in said


def test_copies_stand_on_one_page_where_there_is_room_each_for_one_piece() -> None:
    (page,) = pages(art(2, 60, 50, "Lid", pieces=("left lid", "right lid")), art(3, 60, 50, "Rail"))
    said = [m.text for m in page.picture.marks if isinstance(m, Words)]
    assert (page.kind, page.numbers, page.copies) == ("shared", (2, 3), 1)
    assert [sum(text == title for text in said) for title in ("2 of 9", "3 of 9")] == [2, 1]
    told = " ".join(said)
    assert "left lid" in told
    assert "right lid" in told
    assert "copies" not in told


def test_number_title_face_and_piece_are_told() -> None:
    (page,) = pages(art(2, 150, 200, "Lid", pieces=("left lid", "right lid")))
    assert page.copies == 2
    said = " ".join(m.text for m in page.picture.marks if isinstance(m, Words))
    for text in ("2 of 9", "Lid", "front face, seen from the front", "Print 2 copies", "left lid", "True size"):
        assert text in said


@pytest.mark.parametrize(
    "odd",
    [
        StencilArt(1, 1, "", "front", (), blank_area()),
        StencilArt(1, 1, "Nothing", "front", ("air",), blank_area(), (), (ArtHole("a", (0, 0), 5.0),)),
        StencilArt(1, 1, "Bare", "inside", ("board",), box(0, 0, 100, 100)),
        StencilArt(1, 1, "Off", "top", ("b",), box(0, 0, 50, 50), (ArtLine("far", circle((300, 300), 20)),)),
        StencilArt(1, 1, "Tiny", "top", ("b",), box(0, 0, 0.01, 0.01), (), (ArtHole("a", (0, 0), 0.0),)),
    ],
    ids=["empty", "no face", "no lines", "line off the face", "hundredth"],
)
def test_odd_stencils_still_print(odd: StencilArt) -> None:
    assert pages(odd)


def test_no_stencils_are_no_pages() -> None:
    assert pages() == ()


def test_paper_that_is_too_small_is_refused() -> None:
    with pytest.raises(PaperTooSmall, match="105 x 148 mm"):
        pages(art(1, 20, 20), paper=(105.0, 148.0))


def test_the_same_stencils_give_the_same_pages() -> None:
    again = pages(*everything())
    assert [svg(page.picture) for page in again] == [svg(page.picture) for page in every_page("A4")]


@pytest.mark.parametrize("name", PAPERS)
def test_words_do_not_run_into_each_other(name: str) -> None:
    from planbook.drawing.stencil_room import words_box

    for page in every_page(name):
        said = [m for m in page.picture.marks if isinstance(m, Words) and m.layer != "map"]
        areas = [words_box(mark).offset(-0.2) for mark in said]
        for i, first in enumerate(areas):
            crossed = [said[j].text for j in range(i + 1, len(areas)) if first.touches(areas[j])]
            assert not crossed, (said[i].text, crossed)


def test_a_long_caption_does_not_make_tiles() -> None:
    (page,) = pages(art(4, 300, 200, LONG), paper=A4, style=INCH_32)
    assert page.kind == "single"
    assert page.tile is None
