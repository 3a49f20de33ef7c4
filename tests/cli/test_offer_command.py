"""`planbook offer` on the starting design: what it writes, and what it refuses."""

import io
import json
import shutil
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from planbook.booklet import Edition
from planbook.pipeline import build
from planbook.pipeline.wanted import Wanted
from planbook.press import bookmarks, page_count

STARTER = Path(__file__).parent.parent.parent / "planbook" / "cli" / "starter"


@pytest.fixture
def block(tmp_path: Path) -> Path:
    folder = tmp_path / "pencil-block"
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return folder


@pytest.mark.slow
def test_everything_a_shop_needs_is_written(command, block, tmp_path):
    ran = command("offer", block, "--out", tmp_path / "out", "--step", "3", "--paper", "a4", "--quiet")
    assert (ran.status, ran.err) == (0, "")
    made = {path.name: path.read_bytes() for path in (tmp_path / "out" / "pencil-block-offer").iterdir()}
    listing = json.loads(made["listing.json"])
    assert listing["title"] == "Pencil block"
    assert listing["stencil_pages"] == 1
    assert 2 <= page_count(made["sample-pages.pdf"]) < listing["pages"]
    assert page_count(made["material-sheet.pdf"]) == 1
    for name, size in (("cover-2000x2000.png", (2000, 2000)), ("cover-1200x900.png", (1200, 900))):
        with Image.open(io.BytesIO(made[name])) as picture:
            assert (picture.size, picture.info) == (size, {})
    assert "pencil block" in made["listing.txt"].decode().lower()
    assert made["listing.html"].startswith(b"<!DOCTYPE html>")
    with pikepdf.open(io.BytesIO(made["sample-pages.pdf"])) as document:
        assert not document.attachments


@pytest.mark.slow
def test_the_listing_counts_the_pages_that_are_built(command, block, tmp_path):
    options = ("--out", tmp_path / "out", "--paper", "a4", "--nominal", "--quiet")
    assert command("offer", block, *options).status == 0
    (booklet,) = [path for path in build(block, Wanted("a4"), tmp_path, nominal=True).files if path.suffix == ".pdf"]
    listing = json.loads((tmp_path / "out" / "pencil-block-offer" / "listing.json").read_bytes())
    pages = page_count(booklet.read_bytes())
    assert pages > 8
    assert listing["pages"] == pages
    assert listing["stencil_pages"] == sum(title.startswith("Stencil") for _, title in bookmarks(booklet.read_bytes()))


def test_a_step_that_is_not_there_is_refused(command, block, tmp_path):
    ran = command("offer", block, "--out", tmp_path / "out", "--step", "70")
    assert ran.status == 2
    assert "no step 70" in ran.err
    assert not (tmp_path / "out").exists()


def test_a_design_with_an_error_is_not_offered(command, block, tmp_path):
    steps = block / "steps.md"
    steps.write_text(steps.read_text("utf-8").replace('pieces = ["offcut"]', 'pieces = ["nothing"]'), "utf-8")
    ran = command("offer", block, "--out", tmp_path / "out")
    assert ran.status == 1
    assert not (tmp_path / "out").exists()


@pytest.mark.slow
def test_an_archival_copy_carries_the_design_its_lists_and_stencils(block, tmp_path):
    built = build(block, Edition("a4", "mm", archive=True), tmp_path / "out", nominal=True)
    (path,) = [file for file in built.files if file.name.endswith("-archive.pdf")]
    with pikepdf.open(path) as document:
        names = set(document.attachments)
        text = document.attachments["steps.md"].get_file().read_bytes()
    assert {"design.toml", "steps.md", "pencil-block-a4-mm.csv", "pencil-block-a4-mm.json"} <= names
    assert {Path(name).suffix for name in names} >= {".svg", ".dxf", ".stl"}
    assert text == (block / "steps.md").read_bytes()
    assert not [file for file in built.files if file.suffix == ".svg"]
