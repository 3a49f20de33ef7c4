"""What stands on the pages: headings, landmarks, links that lead somewhere, and texts of others as nothing but text."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote

import pytest

from planbook.archive.shelved import longest_of, minutes_of
from planbook.booklet.days import hours
from planbook.booklet.editions import Edition
from planbook.booklet.shelf import plain, search_words

from .conftest import HOSTILE, pages_of

VOID = {"meta", "link", "br", "hr", "img", "input", "col"}
TAGS = {
    *("html", "head", "meta", "title", "link", "script", "body", "a", "header", "nav", "main", "form", "p", "label"),
    *("input", "select", "option", "div", "button", "ul", "li", "img", "h1", "h2", "h3", "bdi", "dl", "dt", "dd"),
    *("footer", "article", "section", "span", "time", "b"),
}
"""All that the templates write."""


@dataclass
class Page(HTMLParser):
    tags: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    odd: list[str] = field(default_factory=list)
    text: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self.open: list[str] = []

    def handle_starttag(self, tag, attrs):
        assert len({key for key, _ in attrs}) == len(attrs), (tag, attrs)
        self.tags.append((tag, {key: value or "" for key, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.odd.append(f"</{tag}> in line {self.getpos()[0]}")

    def handle_data(self, data):
        self.text.append(data)

    def handle_comment(self, data):
        self.odd.append(f"comment {data}")

    def named(self, tag: str) -> list[dict[str, str]]:
        return [attrs for name, attrs in self.tags if name == tag]


def read(path: Path) -> Page:
    page = Page()
    page.feed(path.read_text("utf-8"))
    page.close()
    return page


@pytest.fixture(params=["site", "hostile"])
def pages(request: pytest.FixtureRequest) -> dict[Path, Page]:
    return {path: read(path) for path in pages_of(request.getfixturevalue(request.param))}


def test_tags_match_and_are_those_of_the_templates(pages: dict[Path, Page]) -> None:
    assert len(pages) > 5
    for path, page in pages.items():
        assert not page.odd, path
        assert not page.open, path
        assert {tag for tag, _ in page.tags} <= TAGS
        attributes = {key for _, attrs in page.tags for key in attrs}
        assert not {key for key in attributes if key.startswith("on") or key == "style"}


def test_headings_and_landmarks(pages: dict[Path, Page]) -> None:
    for path, page in pages.items():
        levels = [int(tag[1]) for tag, _ in page.tags if re.fullmatch("h[1-6]", tag)]
        assert levels[0] == 1, path
        assert levels.count(1) == 1
        assert all(b <= a + 1 for a, b in pairwise(levels))
        assert page.named("html")[0]["lang"] == "en"
        for landmark in ("main", "header", "footer"):
            assert len(page.named(landmark)) == 1
        ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
        assert len(ids) == len(set(ids))
        named = [attrs["aria-labelledby"] for attrs in page.named("section")]
        assert set(named) | {attrs["for"] for attrs in page.named("label")} <= set(ids)


def test_every_address_leads_to_a_file_of_the_site(pages: dict[Path, Page]) -> None:
    top = min(pages, key=lambda path: len(path.parts)).parent
    met = set()
    for path, page in pages.items():
        for _, attrs in page.tags:
            for address in (attrs[key] for key in ("href", "src") if key in attrs):
                target, _, anchor = address.partition("#")
                assert ":" not in address
                assert not address.startswith("//")
                file = (path.parent / unquote(target)).resolve() if target else path
                assert file.is_file(), (path, address)
                assert file.is_relative_to(top.resolve())
                assert not anchor or any(attrs.get("id") == anchor for _, attrs in read(file).tags)
                met.add(file)
    inside = {path.resolve() for path in top.rglob("*") if path.is_file()}
    style = (top / "shelf.css").read_text()
    fonts = {(top / address).resolve() for address in re.findall(r'url\("([^"]+)"\)', style)}
    assert fonts <= inside
    assert met | fonts | {(top / "shelf-files.json").resolve()} == inside


def test_the_style_and_the_script_ask_for_nothing_outside(site: Path) -> None:
    for name in ("shelf.css", "shelf.js"):
        assert not re.search(r"https?:|//[a-z]+\.|@import|fetch\(|innerHTML|eval", (site / name).read_text()), name


def test_the_list_is_whole_without_scripts(site: Path) -> None:
    page = read(site / "index.html")
    assert "hidden" in page.named("form")[0]
    assert not any("hidden" in attrs for attrs in page.named("li"))
    hrefs = [attrs["href"] for attrs in page.named("a") if "plans/" in attrs["href"]]
    names = ("dory-stool", "gull-tray", "index", "tern-box", "tide-shelf")
    assert hrefs == [f"plans/{name}/index.html" for name in names]
    assert "5 plans" in page.text


def test_a_plan_tells_what_it_takes_and_what_is_new(site: Path) -> None:
    page = read(site / "plans" / "tern-box" / "index.html")
    text = " ".join(" ".join(page.text).split())
    for words in ("150 × 60 × 45 mm", "3 h 15 min", "black cherry, 510 × 188 × 20 mm", "Chisel", "Wood glue 5 ml"):
        assert words in text
    versions = text[text.index("Versions") :]
    assert versions.index("1.10") < versions.index("1.1 ") < versions.index("1.0 ")
    assert "the size wall was 6 mm, and is now 8 mm" in " ".join(versions.split()).replace(" ,", ",")
    assert versions.count("The first version.") == 1
    assert {"sample-pages.pdf", "material-sheet.pdf"} <= {attrs["href"] for attrs in page.named("a")}
    assert "Drawing: Tern box" in {attrs["alt"] for attrs in page.named("img")}


def test_what_is_sold_is_not_on_the_shelf(site: Path) -> None:
    for path in site.rglob("*"):
        assert not path.is_file() or b"the booklet that is sold" not in path.read_bytes()


def test_texts_of_others_come_out_as_text(hostile: Path) -> None:
    for number, text in enumerate(HOSTILE):
        page = read(hostile / "plans" / f"odd-{number}" / "index.html")
        shown = "".join(page.text)
        assert plain(text) in shown
        assert not re.search("[\u202a-\u202e\u2066-\u2069\u200f\x00-\x08\x0b\x0c\x0e-\x1f]", shown)
        assert len(page.named("script")) == 0
    assert len(read(hostile / "index.html").named("script")) == 1


@pytest.mark.parametrize("minutes", [1, 45, 60, 75, 555, 1200, 1860, 6000])
def test_an_estimate_is_read_as_the_booklet_tells_it(minutes: int) -> None:
    read_back = minutes_of(hours(minutes))
    assert read_back is not None
    assert abs(read_back - minutes) <= max(15, minutes * 0.05)


def test_a_size_is_read_as_the_booklet_tells_it() -> None:
    assert longest_of(Edition("a4", "mm").box(150, 600.3, 45)) == pytest.approx(600.3, abs=0.1)
    assert longest_of(Edition("letter", "in").box(150, 600.3, 45)) == pytest.approx(600.3, abs=25.4 / 32)
    for text in ("", "large", "1/0 × 2 in", "3 1/2 1/ × 2 mm", " × mm", "600 cm", ". mm"):
        assert longest_of(text) is None
    assert minutes_of("") is minutes_of("soon") is minutes_of(" ") is None


def test_words_are_small_and_without_accents() -> None:
    assert search_words(["Étagère à vagues", "VAGUES; naïve_thing"]) == ("a", "etagere", "naive", "thing", "vagues")
