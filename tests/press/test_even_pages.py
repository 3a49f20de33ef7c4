"""Runs of blocks are broken to pages so that none is half empty, on no more pages."""

import io
import random
from itertools import combinations, pairwise

import pypdfium2
import pytest

from planbook.handbook import paper
from planbook.press import press
from planbook.press.evening import GROWN, LEAST, SPARSE, Block, Breaking, Run, evened

ROOM = 100.0


def run(*heights: float, above: float = 0.0, offset: float = 0.0, followed: bool = False) -> Run:
    return Run(tuple(Block(height, above) for height in heights), offset, ROOM, followed)


def greedy(run: Run) -> list[int]:
    """How a printer breaks: each page takes what has room."""
    starts, used = [0], run.offset + run.blocks[0].height
    for n, block in enumerate(run.blocks[1:], start=1):
        used += block.above + block.height
        if used > run.room:
            starts.append(n)
            used = block.height
    return starts


def fills(run: Run, starts: list[int]) -> list[float]:
    pages = [run.blocks[a:b] for a, b in pairwise((*starts, len(run.blocks)))]
    heights = [sum(b.height for b in page) + sum(b.above for b in page[1:]) for page in pages]
    heights[0] += run.offset
    return [height / run.room for height in heights]


def test_a_block_that_would_stand_alone_takes_one_from_the_page_before() -> None:
    assert evened(run(58, 45, 48, 33, 72), [0, 1, 3, 4]) == Breaking((1, 2, 4), ())


def test_full_pages_are_left_as_they_are() -> None:
    assert evened(run(40, 45, 60, 30), [0, 2]) is None


def test_the_last_page_counts_where_nothing_follows_on_it() -> None:
    assert evened(run(45, 45, 40, offset=5), [0, 2]) == Breaking((1,), ())
    assert evened(run(45, 45, 40, offset=5, followed=True), [0, 2]) is None


def test_a_picture_is_drawn_a_little_smaller_where_that_wins_a_page() -> None:
    pictured = Block(53, 0, picture=40, spare=40 * (1 - LEAST))
    found = evened(Run((pictured, pictured, Block(20, 0), Block(95, 0)), 0.0, ROOM, False), [0, 1, 3])
    assert found is None  # no page is half empty
    found = evened(Run((pictured, pictured, Block(95, 0)), 0.0, ROOM, False), [0, 1, 2])
    assert found is None
    small = Block(48, 0, picture=40, spare=40 * (1 - LEAST))
    found = evened(Run((pictured, small, Block(95, 0)), 0.0, ROOM, False), [0, 1, 2])
    assert found is not None
    assert found.starts == (2,)
    assert all(LEAST <= share < 1 for _, share in found.shares)
    saved = sum(block.gain(share) for block, (_, share) in zip((pictured, small), found.shares, strict=True))
    assert 53 + 48 - saved <= ROOM


def test_a_page_less_is_better_though_the_last_one_stays_as_empty() -> None:
    pictured = Block(52, 0, picture=40, spare=40 * (1 - LEAST))
    found = evened(Run((pictured, pictured, Block(50, 0)), 0.0, ROOM, False), [0, 1, 2])
    assert found is not None
    assert found.starts == (2,)


def test_words_beside_a_picture_keep_it_from_winning_room() -> None:
    wordy = Block(52, 0, picture=40, spare=0)
    assert evened(Run((wordy, Block(49, 0, 40, 0), Block(95, 0)), 0.0, ROOM, False), [0, 1, 2]) is None


def test_of_all_breakings_the_one_that_leaves_the_least_squares_is_taken() -> None:
    """Compared with every breaking there is, one after the other."""
    chance = random.Random(5)
    mended = 0
    for _ in range(300):
        heights = [chance.uniform(15, 70) for _ in range(chance.randint(2, 9))]
        one = run(*heights, above=3.0, offset=chance.uniform(0, 25))
        starts = greedy(one)
        tried = ([0, *cut] for n in range(len(starts)) for cut in combinations(range(1, len(heights)), n))
        possible = [each for each in tried if max(fills(one, each)) <= 1]
        best = min(possible, key=lambda each: sum((1 - fill) ** 2 for fill in fills(one, each)))
        needed, better = (min(fills(one, each)) for each in (starts, best))
        wanted = Breaking(tuple(best[1:]), ()) if len(starts) > 1 and needed < SPARSE and better > needed else None
        assert evened(one, starts) == wanted
        mended += wanted is not None
    assert mended > 50


def test_a_block_alone_on_a_sparse_page_gets_a_larger_picture_if_that_has_room() -> None:
    """No neighbour fits beside the 45; above its words, the larger picture of 25 makes it at most 80 high."""
    alone, high = Block(45, 0, picture=25, grown=35), Block(45, 0, picture=40, grown=56)
    around = Block(90, 0)
    assert evened(Run((around, alone, around), 0.0, ROOM, False), [0, 1, 2]) == Breaking((1, 2), (), (1,))
    assert evened(Run((around, high, around), 0.0, ROOM, False), [0, 1, 2]) is None
    assert evened(Run((around, Block(45, 0, picture=25), around), 0.0, ROOM, False), [0, 1, 2]) is None


def test_a_picture_before_something_else_on_its_page_is_left_as_it_is() -> None:
    last = Block(45, 0, picture=25, grown=35)
    assert evened(Run((Block(90, 0), last), 0.0, ROOM, True), [0, 1]) is None
    assert evened(Run((Block(90, 0), last), 0.0, ROOM, False), [0, 1]) == Breaking((1,), (), (1,))


STYLE = (
    "@page { size: 210mm 297mm; margin: 23.5mm 20mm } html { font-size: 5mm; line-height: 5mm } body, p { margin: 0 }"
    ".block { break-inside: avoid; margin-top: 5mm; position: relative } .block p { position: absolute; top: 0 }"
)
SQUARE = "data:image/svg+xml,<svg%20xmlns='http://www.w3.org/2000/svg'%20width='80mm'%20height='{}mm'/>"


def pages(blocks: str, after: str = "") -> list[str]:
    """What is read on each page of 250 mm: the names of the blocks."""
    row = paper("a4")
    assert row is not None
    body = f'<div data-even="steps">{blocks}</div>{after}'
    html = f'<html lang="en"><head><title>Tern</title><style>{STYLE}</style></head><body>{body}</body></html>'
    document = pypdfium2.PdfDocument(io.BytesIO(press(html, row).pdf))
    texts = [page.get_textpage().get_text_range().split() for page in document]
    return ["".join(text) for text in texts]


def block(name: str, height: float) -> str:
    return f'<div class="block" style="height: {height}mm"><p>{name}</p></div>'


@pytest.mark.parametrize(
    ("heights", "wanted"),
    [((150, 110, 120, 80, 180), ["A", "B", "CD", "E"]), ((150, 80, 120, 100, 180), ["AB", "CD", "E"])],
    ids=["a sparse page is filled", "full ones stay"],
)
def test_pages_are_set_again_where_one_is_half_empty(heights: tuple[float, ...], wanted: list[str]) -> None:
    assert pages("".join(block("ABCDE"[n], height) for n, height in enumerate(heights))) == wanted


def test_a_smaller_picture_is_set_smaller() -> None:
    def pictured(name: str, above: float, height: float) -> str:
        square = f'<img src="{SQUARE.format(height)}" alt="square" style="display: block; width: 80mm">'
        style = f"margin: 0; padding-top: {above}mm"
        return f'<div class="block" style="{style}"><p>{name}</p><div data-elastic>{square}</div></div>'

    assert pages(pictured("A", 35, 88) + pictured("B", 40, 90) + block("C", 240)) == ["AB", "C"]


def test_words_stand_below_a_picture_that_is_drawn_larger() -> None:
    """On a page of 250 mm, 100 mm of it are filled: the picture is 96 mm wide where it was 80."""
    square = f'<img src="{SQUARE.format(64)}" alt="square" style="display: block; width: 80mm">'
    beside = '<div data-beside style="margin-left: 90mm">Words</div>'
    picture = f'<div data-elastic style="float: left; width: 80mm">{square}</div>'
    step = f'<div class="block" style="padding-bottom: 36mm; overflow: auto">{picture}{beside}</div>'
    row = paper("a4")
    assert row is not None
    blocks = f'<div data-even="steps">{block("A", 240)}{step}{block("C", 240)}</div>'
    html = f'<html lang="en"><head><title>Tern</title><style>{STYLE}</style></head><body>{blocks}</body></html>'
    page = pypdfium2.PdfDocument(io.BytesIO(press(html, row).pdf))[1].get_textpage()
    left, _, _, top = page.get_charbox(0)
    assert page.get_text_range().split() == ["Words"]
    assert left * 25.4 / 72 == pytest.approx(20, abs=1)
    assert 297 - top * 25.4 / 72 > 23.5 + 64 * GROWN


def test_a_block_longer_than_a_page_is_left_alone() -> None:
    lines = "".join(f"<div>{n}</div>" for n in range(60))
    assert len(pages(f'{block("A", 60)}<div class="block">{lines}</div>{block("B", 240)}')) == 4


def opened(below: float, heading: float, picture: float) -> list[str]:
    """A chapter of so many mm of a page of 250 mm, then one that opens with a heading and a picture, 15 mm apart."""
    square = f'<img src="{SQUARE.format(picture)}" alt="square" style="display: block; width: 80mm">'
    opening = (
        f'<div class="block" style="margin: 0" data-opening="pieces"><p>B</p>{{}}<div data-elastic>{square}</div></div>'
    )
    gap = f'<div style="height: {heading}mm"></div>'
    chapter = f'<section style="margin-top: 15mm">{opening.format(gap)}{block("C", 150)}</section>'
    before = f'<img src="{SQUARE.format(below)}" alt="square" style="display: block; width: 80mm">'
    return pages(f'<div style="position: relative"><p>A</p>{before}</div>', chapter + block("D", 60))


@pytest.mark.parametrize(
    ("below", "picture", "wanted"),
    [(100, 110, ["AB", "CD"]), (100, 80, ["AB", "CD"]), (105, 130, ["A", "B", "CD"]), (125, 90, ["A", "B", "CD"])],
    ids=[
        "a smaller picture lets it in",
        "it has room as it is",
        "it would be too small",
        "the page before is full enough",
    ],
)
def test_an_opening_moves_up_with_a_smaller_picture(below: float, picture: float, wanted: list[str]) -> None:
    """By hand: 5 (A) + 100 + 15 + 5 (B) + 30 + 110 mm miss 15 mm of 250, and 95 of 110 are enough; with 105 and 130 it
    would be 90 of 130, less than the share that stays legible; 130 of 250 are more than a bare page.
    """
    assert opened(below, 30, picture) == wanted
