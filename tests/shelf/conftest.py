"""An archive made by hand with designs to look for, and the shelf that comes of it."""

import io
import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from PIL import Image

from planbook.archive import Archive
from planbook.archive.manifest import About, Made, Manifest
from planbook.booklet.basics import Fact
from planbook.booklet.offer import FORM, Listing
from planbook.shelving import shelve

MADE = Made("0.1.0", "0" * 64, "3.11", {"numpy": "2.0"}, ("planbook build tern-box",))
CURVES, GUIDE = "You have sawn curves on a band saw.", "You have used a hand-held router along a straight guide."
HOSTILE = (
    "<script>window.hit = 1</script>",
    "<img src=x onerror='window.hit = 1'>",
    '"><svg onload="window.hit = 1">',
    "' onmouseover='window.hit = 1' x='",
    "</title><script>window.hit = 1</script>",
    "</bdi></h1></main><iframe src='https://example.invalid/'></iframe>",
    "[here](javascript:window.hit=1) javascript:window.hit=1",
    "`<b onclick=window.hit=1>` {{ 7 * 7 }} {% raw %} {# x #}",
    "&lt;script&gt; &amp; &#x3c; &",
    "<!-- --> <![CDATA[ ]]> <?php ?>",
    "</textarea></style></script><base href='https://example.invalid/'>",
    "\u202etxt.exe\u202c \u2066inside\u2069 \u200f \ufeff",
    "nul\x00 escape\x1b[31m bell\x07 line\nend\ttab",
    "<meta http-equiv=refresh content='0;url=https://example.invalid/'>",
    "<link rel=stylesheet href=//example.invalid/x.css>",
    "W" * 5_000,
    "\u0301" * 400 + "e" + "\u0336" * 400,
    "<a href=data:text/html,x>x</a><form action=//example.invalid><input autofocus onfocus=window.hit=1>",
)
"""Texts of somebody else that must be nothing but text (the contexts of OWASP's cross-site scripting rules)."""


def picture(width: int = 500, height: int = 500) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), "#c9a57b").save(out, "PNG")
    return out.getvalue()


def pdf() -> bytes:
    out = io.BytesIO()
    with pikepdf.new() as made:
        made.add_blank_page()
        made.save(out, deterministic_id=True)
    return out.getvalue()


def listing(title: str, size: str, work: str, **other: Any) -> bytes:
    told = {
        **dict.fromkeys(("summary", "maker", "version", "price", "licence", "edition"), ""),
        "title": title,
        "pages": 20,
        "stencil_pages": 2,
        "facts": (Fact("Finished size", size), Fact("Work", work)),
        "tools": (Fact("Band saw", ""), Fact("Chisel", "")),
        "supplies": (Fact("Wood glue", "5 ml"),),
        "lumber": (Fact("1 × Board", "black cherry, 510 × 188 × 20 mm"),),
        "choices": (),
        **other,
    }
    return json.dumps({"form": FORM, **asdict(Listing(**told))}).encode()


def put(archive: Archive, design: str, version: str, title: str, **told: Any) -> None:
    """Release a design that was made by hand; `offer` are its files for a shop."""
    offer = told.pop("offer", {})
    changes, after = told.pop("changes", ()), told.pop("after", "")
    about = {
        "title": title,
        "summary": f"A thing called {title}.",
        "maker": "Saltmarsh Workshop",
        "units": "mm",
        "skill": CURVES,
        "licence": "Build as many as you like.",
        "price": "",
        "woods": ("black cherry",),
        "pieces": ("lid", "bottom"),
        "steps": ("Saw the outline",),
        "stencils": ("Outline",),
        "tools": ("Band saw",),
        "supplies": ("Wood glue",),
        **told,
    }
    manifest = Manifest(
        design, version, "2026-03-01T10:00:00Z", About(**about), MADE, (), after=after, changes=tuple(changes)
    )
    files = {
        "booklets/secret.pdf": b"%PDF the booklet that is sold",
        f"source/{design}/design.toml": f"# {version}".encode(),
        **{f"offer/{name}": data for name, data in offer.items()},
    }
    archive.add(manifest, files)


def offer_of(title: str, size: str, work: str) -> dict[str, bytes]:
    return {
        "listing.json": listing(title, size, work),
        "cover-1200x900.png": picture(1200, 900),
        "thumbnail-500x500.png": picture(),
        "sample-pages.pdf": pdf(),
        "material-sheet.pdf": pdf(),
    }


def fill(archive: Archive) -> None:
    """Five designs, one of them in three versions."""
    box = offer_of("Tern box", "150 × 60 × 45 mm", "3 h 15 min")
    put(archive, "tern-box", "1.0", "Tern box", offer=box)
    one = ("the size `wall` was 6 mm, and is now 8 mm", "`lid` is new")
    put(archive, "tern-box", "1.1", "Tern box", offer=box, changes=one, after="tern-box@1.0")
    put(archive, "tern-box", "1.10", "Tern box", offer=box, after="tern-box@1.1")
    shelf = offer_of("Étagère à vagues", "23 5/8 × 7 3/8 × 20 in", "9 h 15 min")
    put(archive, "tide-shelf", "1.0", "Étagère à vagues", woods=("white ash", "black walnut"), skill=GUIDE, offer=shelf)
    stool = offer_of("Dory stool", "400 × 300 × 230 mm", "31 h")
    put(archive, "dory-stool", "2.0", "Dory stool", woods=("birch plywood",), tools=("Table saw",), offer=stool)
    put(archive, "gull-tray", "0.9", "Gull tray", summary="", skill="", maker="", woods=(), offer={})
    puzzle = offer_of("Heron puzzle", "1.2 × 0.3 in", "45 min")
    put(archive, "index", "1.0", "Heron puzzle", woods=("hard maple", "black walnut"), offer=puzzle)


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return Archive(tmp_path / "archive")


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Archive:
    archive = Archive(tmp_path_factory.mktemp("shelf") / "archive")
    fill(archive)
    return archive


@pytest.fixture(scope="session")
def site(filled: Archive, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("site") / "site"
    assert shelve(filled, out).findings == ()
    return out


@pytest.fixture(scope="session")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shelf of an archive whose every text is meant to do harm."""
    top = tmp_path_factory.mktemp("hostile")
    archive = Archive(top / "archive")
    for number, text in enumerate(HOSTILE):
        rows = (Fact(text, text), Fact("Work", text), Fact("Finished size", text))
        lists = dict.fromkeys(("facts", "tools", "supplies", "lumber", "choices"), rows)
        told = dict.fromkeys(("summary", "maker", "skill", "licence", "price"), text)
        names = dict.fromkeys(("woods", "pieces", "steps", "stencils", "tools", "supplies"), (text,))
        offer = {**offer_of("x", "x", "x"), "listing.json": listing(text, text, text, **lists)}
        put(archive, f"odd-{number}", "1.0", text, changes=(text, f"`{text}` is new"), offer=offer, **told, **names)
    assert shelve(archive, top / "site").findings == ()
    return top / "site"


def files_of(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def pages_of(folder: Path) -> Iterator[Path]:
    yield from sorted(folder.rglob("*.html"))
