"""The shelf in a real browser, opened from the disk: search, filters, keyboard, narrow screens, accessibility rules.

The browser is a Chromium of the system, driven by Playwright; the rules are those of axe-core (WCAG 2.1 A and AA).
With `PLANBOOK_BROWSER=required`, as in CI, a missing browser is a failure; elsewhere these tests are skipped and say so.
"""

import os
import shutil
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from planbook.archive import Archive

BROWSERS = ("chromium", "chromium-browser", "google-chrome")
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]
PLAN = "plans/tern-box/index.html"
PAGES = ("index.html", PLAN, "plans/gull-tray/index.html")

pytestmark = pytest.mark.slow


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    path = next(filter(None, map(shutil.which, BROWSERS)), None)
    if path is None:
        reason = f"no browser is installed; looked for {', '.join(BROWSERS)}"
        if os.environ.get("PLANBOOK_BROWSER") == "required":
            pytest.fail(reason)
        pytest.skip(reason)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield launched
        launched.close()


class Opened:
    """A page of the shelf in a browser, and everything that went wrong or was asked for while it was open."""

    def __init__(self, browser: Any, top: Path, **options: Any) -> None:
        self.top = top
        self.context = browser.new_context(**{"viewport": {"width": 1000, "height": 800}, **options})
        self.page = self.context.new_page()
        self.page.set_default_timeout(20_000)
        self.said: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.said.append(message.text))
        self.page.on("pageerror", lambda error: self.said.append(str(error)))
        self.page.on("dialog", lambda dialog: (self.said.append("dialog"), dialog.dismiss()))
        self.page.on("request", lambda request: self.asked.append(request.url))

    def go(self, name: str) -> Any:
        self.page.goto((self.top / name).as_uri())
        return self.page

    @property
    def titles(self) -> list[str]:
        found: list[str] = self.page.locator("#shelf > li:visible h2").all_inner_texts()
        return found

    @property
    def told(self) -> str:
        text: str = self.page.get_by_role("status").inner_text()
        return text


@pytest.fixture
def opened(browser: Any, site: Path) -> Iterator[Opened]:
    """The shelf, opened; whatever the page complains about, or asks for elsewhere, fails the test."""
    made = Opened(browser, site)
    yield made
    made.context.close()
    assert made.said == []
    assert all(url.startswith(site.as_uri()) for url in made.asked)


def test_it_looks_as_it_is_meant_to_from_the_disk(opened: Opened) -> None:
    """The policy of the page lets its own style, script, fonts and pictures through."""
    page = opened.go("index.html")
    assert page.locator("#find").is_visible()
    page.wait_for_function("document.fonts.status === 'loaded'")
    assert page.evaluate("document.fonts.check('600 16px \"Source Sans Pro\"')")
    assert page.evaluate("[...document.images].every((img) => img.naturalWidth === 500)")
    assert opened.told == "5 plans"


def test_search_finds_what_the_catalogue_finds(opened: Opened, filled: Archive) -> None:
    """Each question has the answer of SQLite's full-text search over the same releases."""
    page = opened.go("index.html")
    questions = (
        "tern",
        "TERN bo",
        "etagere",
        "étagère",
        "vag",
        "walnut black",
        "saw",
        "outline lid",
        "glue",
        "zebra",
        "ox",
    )
    for question in questions:
        page.get_by_role("searchbox", name="Search").fill(question)
        with filled.catalogue() as catalogue:
            newest = {row.design: row for row in catalogue.rows()}
            wanted = sorted(row.title for row in catalogue.search(question) if newest[row.design] == row)
        assert sorted(opened.titles) == wanted, question
        count = len(wanted)
        assert opened.told == (
            "5 plans" if count == 5 else f"{count} of 5 plans" if count else "No plan fits; there are 5"
        )


def test_filters_part_the_plans_and_work_together(opened: Opened) -> None:
    page = opened.go("index.html")
    expected = {
        ("Wood", "black walnut"): ["Heron puzzle", "Étagère à vagues"],
        ("Hours of work", "up to 4 h"): ["Heron puzzle", "Tern box"],
        ("Hours of work", "4 to 10 h"): ["Étagère à vagues"],
        ("Hours of work", "more than 20 h"): ["Dory stool"],
        ("Longest side", "up to 200 mm (8 in)"): ["Heron puzzle", "Tern box"],
        ("Longest side", "500 mm to 1 m (20 to 40 in)"): ["Étagère à vagues"],
        ("Skill", "You have used a hand-held router along a straight guide."): ["Étagère à vagues"],
    }
    for (label, value), titles in expected.items():
        page.get_by_label(label).select_option(label=value)
        assert sorted(opened.titles) == sorted(titles), (label, value)
        page.get_by_label(label).select_option(label="Any")
    page.get_by_label("Wood").select_option(label="black walnut")
    page.get_by_label("Hours of work").select_option(label="up to 4 h")
    assert opened.titles == ["Heron puzzle"]
    page.get_by_label("Search").fill("tern")
    assert opened.told == "No plan fits; there are 5"
    page.get_by_role("button", name="Show all").click()
    assert len(opened.titles) == 5
    assert page.get_by_label("Wood").input_value() == ""
    assert page.get_by_role("button", name="Show all").is_hidden()


def test_what_was_asked_is_there_again_after_a_look_at_a_plan(opened: Opened) -> None:
    page = opened.go("index.html")
    page.get_by_label("Search").fill("tern & box")
    page.get_by_role("link", name="Tern box").click()
    page.get_by_role("heading", level=1, name="Tern box").wait_for()
    page.go_back()
    assert page.get_by_label("Search").input_value() == "tern & box"
    assert opened.titles == ["Tern box"]


def test_an_address_made_by_somebody_does_no_harm(opened: Opened) -> None:
    page = opened.go("index.html")
    page.goto((opened.top / "index.html").as_uri() + "#words=<img src=x onerror=alert(1)>&wood=99&__proto__=1&=%")
    page.reload()
    assert page.get_by_label("Wood").input_value() == ""
    assert opened.told == "No plan fits; there are 5"
    assert page.locator("#find img, #found img").count() == 0


def test_all_of_it_by_keyboard_alone(opened: Opened) -> None:
    """From the skip link to a plan and back; whatever has the focus shows it."""
    page = opened.go("index.html")
    met = []
    for _ in range(20):
        page.keyboard.press("Tab")
        met.append(
            page.evaluate(
                """() => {
              const at = document.activeElement, own = getComputedStyle(at), after = getComputedStyle(at, "::after");
              const ring = (style) => style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
              return { name: at.id || at.textContent.trim(), seen: ring(own) || ring(after), top: at.getBoundingClientRect().top };
            }"""
            )
        )
        if met[-1]["name"] == "Étagère à vagues":
            break
    names = [each["name"] for each in met]
    wanted = ["Skip to the plans", "words", "by-skill", "by-time", "by-wood", "by-size"]
    assert names == [*wanted, "Dory stool", "Gull tray", "Heron puzzle", "Tern box", "Étagère à vagues"]
    assert all(each["seen"] and each["top"] >= 0 for each in met)
    page.get_by_label("Search").focus()
    page.keyboard.type("heron")
    assert opened.titles == ["Heron puzzle"]
    page.keyboard.press("Enter")
    assert page.url.endswith("#words=heron")
    for _ in range(5):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert len(opened.titles) == 5
    assert page.evaluate("document.activeElement.id") == "words"
    page.get_by_role("link", name="Tern box").focus()
    page.keyboard.press("Enter")
    page.get_by_role("heading", level=1, name="Tern box").wait_for()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("width", [320, 360, 800, 1280])
def test_nothing_is_scrolled_sideways(browser: Any, site: Path, name: str, width: int) -> None:
    """Reflow at 320 CSS pixels (WCAG 2.1, 1.4.10), and text at twice its size (1.4.4)."""
    opened = Opened(browser, site, viewport={"width": width, "height": 640})
    page = opened.go(name)
    for size in ("", "200%"):
        page.evaluate("(size) => { document.documentElement.style.fontSize = size }", size)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    opened.context.close()


def test_texts_of_others_do_no_harm(browser: Any, hostile: Path) -> None:
    """Opened with the pointer over everything: no script, no request, nothing wider than the screen."""
    opened = Opened(browser, hostile, viewport={"width": 320, "height": 640})
    for path in sorted(hostile.rglob("*.html")):
        page = opened.go(path.relative_to(hostile).as_posix())
        page.evaluate("document.querySelectorAll('*').forEach((e) => e.dispatchEvent(new MouseEvent('mouseover')))")
        assert page.evaluate("window.hit === undefined"), path
        assert page.evaluate("document.querySelectorAll('iframe, object, embed, base, svg, style').length") == 0
        assert page.evaluate("[...document.links].every((link) => link.protocol === 'file:')")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, path
    opened.context.close()
    assert all(url.startswith(hostile.as_uri()) for url in opened.asked)
    assert opened.said == []


def test_the_policy_stops_what_would_have_slipped_through(browser: Any, site: Path) -> None:
    """Were there a hole in the escaping, the page's policy would still run no script of a text."""
    opened = Opened(browser, site)
    page = opened.go("index.html")
    page.evaluate(
        "document.body.insertAdjacentHTML('beforeend', '<img src=x onerror=\"window.hit = 1\"><p onclick=\"window.hit = 1\" id=p>x</p>')"
    )
    page.evaluate("document.getElementById('p').click()")
    page.evaluate(
        "document.body.append(Object.assign(document.createElement('script'), { textContent: 'window.hit = 1' }))"
    )
    page.wait_for_timeout(200)
    assert page.evaluate("window.hit === undefined")
    assert any("Content Security Policy" in text for text in opened.said)
    opened.context.close()


@pytest.mark.parametrize("name", PAGES)
def test_without_scripts_it_is_a_plain_list(browser: Any, site: Path, name: str) -> None:
    opened = Opened(browser, site, java_script_enabled=False)
    page = opened.go(name)
    assert page.locator("form, button").locator("visible=true").count() == 0
    assert page.locator("h1").is_visible()
    if name == "index.html":
        assert page.locator("#shelf > li").locator("visible=true").count() == 5
        page.get_by_role("link", name="Tern box").click()
        assert page.locator("h1").inner_text() == "Tern box"
    opened.context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_the_rules_of_accessibility_are_kept(browser: Any, site: Path, scheme: str, width: int) -> None:
    """axe-core with the rules of WCAG 2.1 A and AA, contrast of colours among them; every rule that is run is kept."""
    opened = Opened(browser, site, color_scheme=scheme, viewport={"width": width, "height": 800}, bypass_csp=True)
    axe = (files("axe_playwright_python") / "axe.min.js").read_text()
    for name in PAGES:
        page = opened.go(name)
        page.evaluate(axe)
        for text in ("", "zebra") if name == "index.html" else ("",):
            if text:
                page.get_by_label("Search").fill(text)
            result = page.evaluate("(rules) => axe.run({ runOnly: rules, preload: false })", RULES)
            found = [
                (each["id"], node["html"], node["failureSummary"])
                for each in result["violations"]
                for node in each["nodes"]
            ]
            assert found == []
            passed = {each["id"] for each in result["passes"]}
            assert {"color-contrast", "document-title", "html-has-lang", "landmark-one-main", "bypass"} <= passed
    assert opened.said == []
    opened.context.close()


def test_the_two_colour_schemes_differ_and_motion_is_left_out(browser: Any, site: Path) -> None:
    grounds = set()
    for scheme in ("light", "dark"):
        opened = Opened(browser, site, color_scheme=scheme, reduced_motion="reduce")
        page = opened.go("index.html")
        grounds.add(page.evaluate("getComputedStyle(document.documentElement).backgroundColor"))
        assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
        opened.context.close()
    assert len(grounds) == 2
