"""The guide as a page: whole, with links that lead somewhere, and nothing from outside."""

import re
from collections import Counter

from planbook.press import with_fonts


def test_the_page_is_whole(page) -> None:
    assert page.odd == []
    assert page.open == []


def test_ids_are_there_once(page) -> None:
    assert [name for name, times in Counter(page.ids).items() if times > 1] == []
    assert all(re.fullmatch(r"[a-z][a-z0-9-]*", name) for name in page.ids)


def test_links_lead_somewhere(page) -> None:
    inside = [link for link in page.links if link.startswith("#")]
    assert len(inside) > 100
    assert [link for link in inside if link[1:] not in page.ids] == []


def test_nothing_comes_from_outside(html, page) -> None:
    assert [link for link in page.links if not link.startswith("#")] == []
    assert page.addresses == []
    carried = with_fonts(html)
    addresses = re.findall(r"url\(\"?([^)\"]{0,40})", carried)
    assert len(addresses) == 8
    assert all(address.startswith("data:font/woff;base64,") for address in addresses)
    assert "planbook:font" not in carried
    assert with_fonts(html) == carried


def test_no_directive_is_left_in_the_text(html) -> None:
    assert "&lt;!--" not in html
    assert "<!--" not in html
