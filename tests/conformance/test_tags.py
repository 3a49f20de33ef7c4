"""What the checkers do not look at, by hand: points of the Matterhorn Protocol 1.1 (PDF Association) named in each test."""

import io
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from types import ModuleType

import pikepdf
import pytest

from planbook.booklet import Book, Edition, compose, prose_html
from planbook.press import press

A_LITTLE = 4.0
"""Points by which a block may stand higher than the one before it: bases of type of two sizes in one line."""


@dataclass(frozen=True)
class Read:
    """A PDF with its elements and what stands where."""

    pdf: bytes
    document: pikepdf.Pdf
    root: object
    where: dict

    def every(self, *sorts: str) -> list:
        return [each for each in self.root.all() if each.sort in sorts]


def told_in_part(book: Book) -> Book:
    """A book whose steps are in French, with lists, a heading, a link and a table in them, and the rest English."""
    words = (
        "### Avant de scier\n\nLisez [le manuel](https://saltmarsh.example/manuel).\n\n"
        "1. Tracez.\n2. Sciez :\n   - à gauche,\n   - à droite.\n\n| bord | mesure |\n|---|---|\n| long | 3/4 in |\n"
    )
    body = (prose_html(words, lambda _: None),)
    steps = tuple(replace(step, body=body, language="fr", title_language="fr") for step in book.steps)
    return replace(book, steps=steps)


@pytest.fixture(
    scope="module",
    params=[Edition("a4", "mm", "de"), Edition("letter", "in", layout="shop", ink="black")],
    ids=lambda edition: "-".join((edition.paper, str(edition.layout))),
)
def read(request: pytest.FixtureRequest, tray: ModuleType, tags: ModuleType) -> Iterator[Read]:
    edition = request.param
    book = told_in_part(tray.boat_tray(edition, steps=3, stencils=2))
    pdf = press(compose(book, edition.layout), edition.paper_row).pdf
    with pikepdf.open(io.BytesIO(pdf)) as document:
        yield Read(pdf, document, tags.root_of(document), tags.places(pdf))


def test_the_checkers_find_nothing(read: Read, faults) -> None:
    assert faults(read.pdf) == []


def test_all_ink_is_an_artifact_or_in_the_tree(read: Read, tags: ModuleType) -> None:
    """01-003 to 01-005: nothing is untagged, and no tag leads beside the tree."""
    reached = set(read.root.content())
    assert len(reached) > 200
    for n, page in enumerate(read.document.pages):
        for drawn in tags.drawn_on(page):
            assert drawn.tag == "Artifact" or (n, drawn.number) in reached, (n + 1, drawn)


def test_running_heads_page_numbers_and_thumb_marks_are_artifacts_of_pagination(read: Read, tags: ModuleType) -> None:
    """18-001 to 18-003: what repeats on pages is not read in the middle of a sentence; 14.8.2.2 of ISO 32000-1."""
    subtypes = set()
    for page in list(read.document.pages)[1:-2]:
        found = [drawn.entries for drawn in tags.drawn_on(page) if drawn.entries.get("/Type") == "/Pagination"]
        assert found, page.label
        subtypes |= {entries.get("/Subtype") for entries in found}
    assert "/Footer" in subtypes
    assert subtypes <= {"/Header", "/Footer", None}


def test_every_picture_says_what_it_shows_and_where_it_is(read: Read) -> None:
    """13-004, and the box of a figure (table 344 of ISO 32000-1) is where PDFium finds the picture drawn."""
    figures = read.every("Figure")
    assert len(figures) > 5
    for figure in figures:
        assert len(str(figure.at.Alt)) > 3
        (number,) = figure.content()
        left, bottom, right, top = (float(side) for side in figure.at.A.BBox)
        drawn = read.where[number]
        slack = 2.0
        assert left - slack < drawn[0] < drawn[2] < right + slack, (figure.at.Alt, drawn, figure.at.A.BBox)
        assert bottom - slack < drawn[1] < drawn[3] < top + slack, (figure.at.Alt, drawn, figure.at.A.BBox)


def test_headings_go_down_one_by_one_and_hold_no_other_heading(read: Read) -> None:
    """14-002, 14-003: the first is of level 1, none is left out."""
    headings = read.every("H1", "H2", "H3", "H4", "H5", "H6")
    levels = [int(each.sort[1]) for each in headings]
    assert levels[0] == 1
    assert {1, 2, 3} <= set(levels)
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert not [each for each in headings if any(sort in ("H1", "H2", "H3", "H4") for sort in each.around)]


def test_every_cell_of_a_table_knows_its_headings(read: Read) -> None:
    """15-003: headings have a scope; where a row has several, a cell is under its own alone."""
    tables = read.every("Table")
    assert len(tables) > 8
    pairs = 0
    for table in tables:
        cells = [each for each in table.all() if each.sort in ("TH", "TD")]
        names = {str(each.at.ID) for each in cells if each.sort == "TH"}
        for each in cells:
            if each.sort == "TH":
                assert each.at.A.Scope == ("/Column" if "THead" in each.around else "/Row")
            else:
                assert {str(name) for name in each.at.A.get("/Headers", [])} <= names
        for row in (each for each in table.all() if each.sort == "TR" and "THead" not in each.around):
            headings = [each for each in row.kids if each.sort == "TH"]
            rows = [str(name) for each in row.kids if each.sort == "TD" for name in each.at.A.get("/Headers", [])]
            own = {str(each.at.ID) for each in headings}
            pairs += len(headings) > 1
            for each in row.kids:
                if each.sort == "TD" and len(headings) > 1:
                    assert len(own & {str(name) for name in each.at.A.Headers}) <= 1, rows
    assert pairs > 1 or read.document.pages[0].obj.MediaBox[2] == 612  # the shop edition has no such table


def test_lists_are_of_items_with_bodies_and_say_how_they_are_numbered(read: Read) -> None:
    """16-001 to 16-003, and ListNumbering (table 347 of ISO 32000-1)."""
    lists = read.every("L")
    # Bullets of a list within a list are circles.
    assert {str(each.at.A.ListNumbering) for each in lists} >= {"/Decimal", "/Circle"}
    for each in lists:
        assert {kid.sort for kid in each.kids} <= {"LI", "L"}
        for item in (kid for kid in each.kids if kid.sort == "LI"):
            assert {kid.sort for kid in item.kids} <= {"Lbl", "LBody"}
            assert [kid.sort for kid in item.kids].count("LBody") == 1


def test_every_link_is_told_in_words_and_stands_in_the_tree_once(read: Read) -> None:
    """28-010 to 28-012: a link has other words than its address, and its element leads back to it."""
    parents = pikepdf.NumberTree(read.document.Root.StructTreeRoot.ParentTree)
    anchors = {str(name) for name in read.document.Root.Names.Dests.Names if isinstance(name, pikepdf.String)}
    links = [note for page in read.document.pages for note in page.obj.get("/Annots", ())]
    assert len(links) >= 5
    for link in links:
        element = parents[int(link.StructParent)]
        assert element.S == "/Link"
        assert [kid.Obj.objgen for kid in element.K if isinstance(kid, pikepdf.Dictionary) and "/Obj" in kid] == [
            link.objgen
        ]
        assert str(link.Contents).strip()
        assert str(link.Contents) not in anchors
    assert len(read.every("Link")) == len(links)
    assert "le manuel" in {str(link.Contents) for link in links}


def test_languages_change_where_the_words_do(read: Read) -> None:
    """11-001 and following; 14.9.2 of ISO 32000-1."""
    whole = str(read.document.Root.Lang)
    assert whole in ("de", "en")
    french = [each for each in read.root.all() if str(each.at.get("/Lang", "")) == "fr"]
    sorts = {each.sort for each in french}
    assert {"Div", "H2"} <= sorts
    inside = {kid.sort for each in french for kid in each.all()}
    assert {"P", "L", "Link", "Table", "H3"} <= inside
    assert {str(each.at.Lang) for each in read.root.all() if "/Lang" in each.at} <= {"fr", "en", whole}


def test_the_title_is_shown_and_the_tab_key_follows_the_tree(read: Read) -> None:
    """07-001, 07-002, 28-018 (09-004 for pages of links)."""
    assert read.document.Root.ViewerPreferences.DisplayDocTitle is True
    assert str(read.document.docinfo.Title) == "Boat-shaped tray"
    assert all(page.obj.Tabs == "/S" for page in read.document.pages)


def test_what_is_read_first_stands_first(read: Read, tags: ModuleType) -> None:
    """09-001: from one block to the next the eye goes down, or on to the right; never back up on the left."""
    seen = 0
    last: tuple[int, tuple, str] | None = None
    for block in tags.blocks(read.root, read.where):
        if last and last[0] == block[0]:
            seen += 1
            before, after = last[1], block[1]
            down, beside = after[3] <= before[3] + A_LITTLE, after[0] >= before[2] - A_LITTLE
            assert down or beside, (last, block)
        last = block
    assert seen > 100
