import base64
import re
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest

from planbook.booklet import Edition, Fact, LayoutProblem, compose, layout_names
from planbook.booklet import layouts as layouts_module
from planbook.booklet.basics import Figure
from planbook.booklet.bought_rows import CutSection, CutSheet
from planbook.booklet.compose import fill
from planbook.booklet.editions import Units
from planbook.booklet.greys import greyed
from planbook.booklet.records import SheetRow
from planbook.drawing.piece_views import laid_out


@pytest.fixture(scope="module")
def html(boat_tray: ModuleType) -> str:
    return compose(boat_tray.boat_tray(Edition()))


def test_the_language_title_and_author_are_named(html: str) -> None:
    assert '<html lang="en">' in html
    assert "<title>Boat-shaped tray</title>" in html
    assert '<meta name="author" content="Saltmarsh Workshop">' in html


def test_every_picture_has_alternative_text(html: str) -> None:
    images = re.findall(r"<img [^>]*>", html)
    assert len(images) > 30
    assert all(re.search(r' alt="[^"]+"', image) for image in images)


def test_every_link_leads_somewhere(html: str) -> None:
    anchors = set(re.findall(r' id="([^"]+)"', html))
    targets = set(re.findall(r'href="#([^"]+)"', html))
    assert len(targets) > 20
    assert targets <= anchors


def test_no_path_of_this_machine_and_no_address_to_load_is_in_it(html: str) -> None:
    assert str(Path(__file__).resolve().parents[2]) not in html
    assert "file:" not in html
    loaded = set(re.findall(r'url\("([a-z]+:[a-z]+)', html)) | set(re.findall(r'src="([a-z]+:[a-z]+)', html))
    assert loaded == {"planbook:font", "data:image"}


def test_parts_stand_in_order(html: str) -> None:
    ids = re.findall(r'<section class="(?:part|stencil)[^"]*" id="([^"]+)"', html)
    assert ids[:9] == ["glance", "use", "safety", "tools", "lumber", "pieces", "steps", "fits", "licence"]
    assert ids[9:] == [f"stencil-{n}" for n in range(1, 6)]


def test_empty_parts_are_left_out(boat_tray: ModuleType) -> None:
    book = replace(
        boat_tray.boat_tray(Edition(), stencils=0), tools=(), supplies=(), boards=(), pieces=(), fits=(), cover=None
    )
    html = compose(book)
    for name in ("tools", "lumber", "pieces", "fits", "stencil-1"):
        assert f'id="{name}"' not in html
        assert f'href="#{name}"' not in html


def test_the_black_edition_holds_no_colour(boat_tray: ModuleType) -> None:
    html = compose(replace(boat_tray.boat_tray(Edition()), ink="black"))
    drawn = [base64.b64decode(svg).decode() for svg in re.findall(r"image/svg\+xml;base64,([\w+/=]+)", html)]
    assert len(drawn) > 30
    style = html.partition("</style>")[0]
    tones = [colour for text in (style, *drawn) for colour in re.findall(r"#([0-9a-f]{6})\b", text)]
    assert len(set(tones)) > 5
    assert all(tone[:2] == tone[2:4] == tone[4:] for tone in tones)


@pytest.mark.parametrize(
    ("colour", "grey"),
    # Full red, green and blue give luma 0.299, 0.587 and 0.114 (ITU-R BT.601): 76, 150 and 29 of 255.
    [("#ff0000", "#4c4c4c"), ("#00ff00", "#969696"), ("#0000ff", "#1d1d1d"), ("#ffffff", "#ffffff")],
)
def test_a_colour_becomes_the_grey_that_is_as_light(colour: str, grey: str) -> None:
    assert greyed(f'fill="{colour}"') == f'fill="{grey}"'
    assert greyed(f"color: {colour}; href='x{colour}'") == f"color: {grey}; href='x{colour}'"


def test_what_a_maker_writes_is_escaped(boat_tray: ModuleType) -> None:
    nasty = "<script>alert(1)</script>{{ 7 * 7 }}\"'&"
    book = replace(boat_tray.boat_tray(Edition()), title=nasty, maker=nasty, facts=(Fact(nasty, nasty),))
    html = compose(book)
    assert "<script" not in html
    assert "{{ 7 * 7 }}" in html


def test_the_alert_symbol_is_not_put_on_a_notice(html: str) -> None:
    """ANSI Z535.4 (2007), 4.14: NOTICE is not about injury and has no alert symbol."""
    marked = dict(re.findall(r'<span class="signal (\w+)">(<span class="alert"></span>)?', html))
    assert marked["notice"] == ""
    assert all(marked[word] for word in ("danger", "warning", "caution"))


def test_a_draft_is_marked_and_another_edition_is_not(boat_tray: ModuleType, html: str) -> None:
    draft = compose(boat_tray.boat_tray(Edition(draft=True)))
    assert "DRAFT" in draft
    assert "DRAFT" not in html


def test_an_unknown_layout_is_answered_with_those_there_are(boat_tray: ModuleType) -> None:
    for name in ("brochure", "../layouts/booklet", ""):
        with pytest.raises(LayoutProblem, match="there are: booklet"):
            compose(boat_tray.boat_tray(Edition()), name)


def test_an_unknown_language_is_answered_with_those_there_are(boat_tray: ModuleType) -> None:
    with pytest.raises(LayoutProblem, match="there are: de, en, es, fr"):
        compose(boat_tray.boat_tray(Edition(language="xx")))


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("one\n{{ title }}\n{{ missing }}\n", 3, "missing"),
        ("one\n{{ title.nothing }}\n", 2, "nothing"),
        ("{% if %}\n", 1, "Expected"),
        ("\n\n{{ 1 / 0 }}\n", 3, "division"),
        ("\n{{ title + 1 }}\n", 2, "str"),
        ("\n{{ title|nofilter }}\n", 2, "nofilter"),
        ("\n{{ ''.__class__.__mro__ }}\n", 2, "unsafe"),
        ("\n\n{% include 'absent.html' %}\n", 3, "absent.html"),
    ],
)
def test_a_wrong_template_is_reported_with_file_and_line(tmp_path: Path, text: str, line: int, said: str) -> None:
    folder = tmp_path / "plain"
    folder.mkdir()
    (folder / "book.html").write_text(text, encoding="utf-8")
    with pytest.raises(LayoutProblem, match=said) as caught:
        fill(folder, "book.html", {"title": "Tray"})
    assert (caught.value.file, caught.value.line) == ("layouts/plain/book.html", line)
    assert str(caught.value).startswith(f"layouts/plain/book.html:{line}: ")


def test_the_problem_of_an_included_file_names_that_file(tmp_path: Path) -> None:
    folder = tmp_path / "plain"
    folder.mkdir()
    (folder / "book.html").write_text("{% include 'row.html' %}", encoding="utf-8")
    (folder / "row.html").write_text("\n{{ missing }}", encoding="utf-8")
    with pytest.raises(LayoutProblem) as caught:
        fill(folder, "book.html", {})
    assert (caught.value.file, caught.value.line) == ("layouts/plain/row.html", 2)


def test_broken_words_are_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, boat_tray: ModuleType) -> None:
    folder = tmp_path / "plain"
    (folder / "words").mkdir(parents=True)
    (folder / "book.html").write_text("{{ words.a }}", encoding="utf-8")
    (folder / "words" / "en.toml").write_text("a = ", encoding="utf-8")
    monkeypatch.setattr(layouts_module, "layout_root", lambda: tmp_path)
    with pytest.raises(LayoutProblem) as caught:
        compose(boat_tray.boat_tray(Edition()), "plain")
    assert caught.value.file == "layouts/plain/words/en.toml"


def test_layouts_are_found_inside_an_installed_package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wheel carries the layouts inside the package; a checkout has them beside it."""
    assert "booklet" in layout_names()
    inside = tmp_path / "planbook" / "layouts" / "card"
    inside.mkdir(parents=True)
    (inside / "book.html").write_text("", encoding="utf-8")
    monkeypatch.setattr(layouts_module, "__file__", str(tmp_path / "planbook" / "booklet" / "layouts.py"))
    layouts_module.layout_root.cache_clear()
    try:
        assert layout_names() == ("card",)
    finally:
        layouts_module.layout_root.cache_clear()


def test_two_slim_drawings_that_follow_one_another_stand_side_by_side(boat_tray: ModuleType) -> None:
    def row(number: str, width: float) -> SheetRow:
        return SheetRow(number, "leg", Figure("<svg/>", width, 50.0, "A drawing."))

    book = replace(
        boat_tray.boat_tray(Edition()), sheets=(row("1", 168.0), row("2", 80.0), row("3", 80.0), row("4", 80.0))
    )
    assert [[each.numbers for each in line] for line in book.sheet_lines] == [["1"], ["2", "3"], ["4"]]
    assert compose(book).count('<div class="abreast">') == 1


@pytest.mark.parametrize(("units", "side", "way"), [("mm", "left", "below"), ("in", "right", "above")])
def test_it_is_said_where_the_views_of_a_piece_stand(boat_tray: ModuleType, units: Units, side: str, way: str) -> None:
    """First angle has the view from above below the front and that from the left at the right; third angle has the
    view from above above it and that from the right at the right (ISO 5456-2)."""
    edition = Edition("a4", units)
    (front, top, beside), _ = laid_out((0, 0, 0), (60, 40, 20), 1.0, 170.0, edition.angle, (12.0, 9.0), 8.0)
    assert beside.face == side
    assert beside.low[0] > front.high[0]
    assert (top.low[1] > front.low[1]) == (way == "below")
    row = SheetRow("1", "leg", Figure("<svg/>", 168.0, 50.0, "A drawing."))
    said = (
        f"The view from above stands {way} the one from the front, and that from the {side} stands to the right of it."
    )
    assert said in compose(replace(boat_tray.boat_tray(edition), sheets=(row,)))


@pytest.mark.parametrize("offcuts", ["", "Worth keeping: A 300 \u00d7 92 mm."])
def test_the_dashes_of_offcuts_are_explained_where_there_are_some(boat_tray: ModuleType, offcuts: str) -> None:
    sheet = CutSheet("Board", "653 mm", (Figure("<svg/>", 80.0, 20.0, "A board."),), (), offcuts)
    section = CutSection("cut-1", "Cherry", "", "", (sheet,))
    said = "Dashed lines show an offcut worth keeping." in compose(
        replace(boat_tray.boat_tray(Edition()), cutting=(section,))
    )
    assert said == bool(offcuts)
