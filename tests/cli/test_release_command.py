"""`planbook release` on the starting design, and the archive that it makes."""

import json
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from planbook.archive import Archive
from planbook.cli.run import run
from planbook.pipeline import build
from planbook.press import with_mark
from planbook.press.mark_places import Spot
from planbook.releasing import editions
from planbook.selling import errata

STARTER = Path(__file__).parent.parent.parent / "planbook" / "cli" / "starter"
pytestmark = pytest.mark.slow


def copied(folder: Path) -> Path:
    block = folder / "pencil-block"
    shutil.copytree(STARTER, block, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return block


def edit(design: Path, old: str, new: str) -> None:
    text = design.read_text("utf-8")
    assert old in text
    design.write_text(text.replace(old, new), "utf-8")


def seen(pdf: bytes) -> list[np.ndarray]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [page.render(scale=1.5).to_numpy().copy() for page in document]
    finally:
        document.close()


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the starting design, released as 1.0 and, with a wider block, as 1.1."""
    folder = tmp_path_factory.mktemp("shop")
    design = copied(folder) / "design.toml"
    assert run(["release", str(design.parent), "--quiet"]) == 0
    edit(design, 'version = "1.0"', 'version = "1.1"')
    edit(design, 'width      = "60 mm"', 'width      = "64 mm"')
    assert run(["release", str(design.parent), "--quiet"]) == 0
    return folder


def test_both_versions_are_there_and_sound(command, shop):
    ran = command("archive", "list", "--archive", shop / "archive", "--json")
    assert [row["name"] for row in json.loads(ran.out)] == ["pencil-block@1.0", "pencil-block@1.1"]
    ran = command("archive", "verify", "--archive", shop / "archive")
    assert ran.status == 0
    assert "nothing to mend\n2 releases" in ran.out
    shown = command("archive", "show", "pencil-block@1.1", "--archive", shop / "archive").out
    assert "sizes: `width` was 60 mm, and is now 64 mm" in shown
    assert all(name in shown for name in ("booklets/pencil-block-a4-mm.pdf", "booklets/pencil-block-letter-in.pdf"))
    assert all(name in shown for name in ("offer/sample-pages.pdf", "offer/listing.json", ".svg", ".dxf", "facts.json"))


def test_the_same_again_is_nothing_to_do(command, shop):
    ran = command("release", shop / "pencil-block")
    assert ran.status == 0
    assert "nothing to do: `pencil-block@1.1`" in ran.out


def test_a_released_version_is_never_changed(command, shop, tmp_path):
    design = tmp_path / "pencil-block"
    shutil.copytree(shop / "pencil-block", design)
    edit(design / "design.toml", 'pencil     = "8 mm"', 'pencil     = "9 mm"')
    ran = command("release", design, "--archive", shop / "archive", "--format", "lines")
    assert ran.status == 1
    assert f"{design}/design.toml:5:11: error REL02 version-taken: `pencil-block@1.1` is released" in ran.out
    edit(design / "design.toml", 'version = "1.1"', 'version = "1.1.1"')
    ran = command("release", design, "--archive", shop / "archive")
    assert ran.status == 1
    assert "error[REL03] version-too-small" in ran.out
    assert "sizes: `pencil` was 8 mm, and is now 9 mm" in ran.out
    assert "stencils: `Outline and holes` has other lines, holes or edges" in ran.out
    assert 'hint: write version = "1.2"' in ran.out
    assert len(json.loads(command("archive", "list", "--archive", shop / "archive", "--json").out)) == 2


def test_a_design_with_an_error_is_not_released(command, tmp_path):
    block = copied(tmp_path)
    edit(block / "steps.md", 'pieces = ["offcut"]', 'pieces = ["nothing"]')
    assert command("release", block).status == 1
    assert not (tmp_path / "archive").exists()


def test_what_changed_is_told_for_people_and_programs(command, shop, tmp_path):
    names = ("pencil-block@1.0", "pencil-block")
    ran = command("archive", "compare", *names, "--archive", shop / "archive", "--out", tmp_path / "what-changed.md")
    assert ran.out == f"wrote {tmp_path / 'what-changed.md'}\n"
    page = (tmp_path / "what-changed.md").read_text("utf-8")
    assert "# Pencil block: what changed from 1.0 to 1.1" in page
    assert "## Print these stencils again\n\n- Outline and holes\n" in page
    found = json.loads(command("archive", "compare", *names, "--archive", shop / "archive", "--json").out)
    assert (found["asks_for"], found["print_again"]) == ("minor", ["Outline and holes"])
    assert {change["subject"] for change in found["changes"]} >= {"pieces", "sizes", "stencils", "lumber"}


def test_an_old_release_is_printed_again_to_the_same_bytes(command, shop, tmp_path):
    ran = command("archive", "restore", "pencil-block@1.0", "--archive", shop / "archive", "--out", tmp_path)
    assert ran.status == 0
    folder = tmp_path / "pencil-block-1.0"
    subprocess.run(["sha256sum", "--check", "--quiet", "SHA256SUMS"], cwd=folder, check=True)
    source = folder / "source" / "pencil-block"
    assert (source / "steps.md").read_bytes() == (STARTER / "steps.md").read_bytes()
    for edition in editions():
        for path in build(source, edition, tmp_path / "again").files:
            (frozen,) = [p for p in folder.rglob(path.name) if "source" not in p.parts]
            again = with_mark(path.read_bytes()) if path.suffix == ".pdf" else path.read_bytes()
            assert again == frozen.read_bytes(), path.name


def test_booklets_are_frozen_with_the_empty_mark_so_that_copies_need_no_preparing(command, shop, tmp_path):
    """A copy is the object of the archive, byte for byte, with something behind it."""
    (tmp_path / "orders.csv").write_text("order,name\n1042,Ada Fenn\n", "utf-8")
    into = ("--orders", tmp_path / "orders.csv", "--out", tmp_path / "out", "--register", tmp_path / "buyers.sqlite")
    assert command("copies", "pencil-block", *into, "--archive", shop / "archive", "--licence", "One").status == 0
    frozen = Archive(shop / "archive").booklets("pencil-block@1.1")
    assert sorted(frozen) == ["pencil-block-a4-mm.pdf", "pencil-block-letter-in.pdf"]
    for name, pdf in frozen.items():
        assert with_mark(pdf) == pdf
        copy = (tmp_path / "out" / f"{name.removesuffix('.pdf')}-1-1-1042.pdf").read_bytes()
        assert copy.startswith(pdf)
        assert 0 < len(copy) - len(pdf) < 20_000


def test_a_correction_holds_the_pages_that_look_different_and_those_of_stencils_to_print_again(command, shop, tmp_path):
    """What differs is looked for a second time, dot by dot, in pages as they are seen."""
    names = ("pencil-block@1.0", "pencil-block@1.1", "--archive", shop / "archive", "--edition", "a4-mm")
    ran = command("errata", *names, "--out", tmp_path / "sheet.pdf", "--register", shop / "none.sqlite")
    assert (ran.status, "none.sqlite" in ran.err) == (2, True)
    archive = Archive(shop / "archive")
    made = errata("pencil-block@1.0", "pencil-block@1.1", archive, tmp_path / "s.pdf", None, editions=["a4-mm"])
    old, new = (seen(archive.booklets(f"pencil-block@1.{n}")["pencil-block-a4-mm.pdf"]) for n in (0, 1))
    assert len(old) == len(new)
    other = {n for n, (a, b) in enumerate(zip(old, new, strict=True), start=1) if (a != b).any()}
    (pages,) = made.pages
    # Of the cover nothing but the version is another one; the picture on it is smaller than one sees.
    assert set(pages) | {1} == other | {1}
    assert len(new) in pages  # the stencil
    assert len(pages) < len(new)


def test_a_page_without_room_for_a_name_stops_a_release(command, tmp_path, monkeypatch):
    block = copied(tmp_path)
    monkeypatch.setattr("planbook.press.mark.free_spots", lambda pdf: [Spot(100, 20, False, 1.0), None])
    ran = command("release", block, "--format", "lines")
    assert ran.status == 1
    line = next(line for line in ran.out.splitlines() if "COP02" in line)
    assert line.startswith(f"{block}/design.toml:1:1: error COP02 no-room-for-the-mark: `booklets/pencil-block-")
    assert line.endswith("takes no buyer's name: page 2 has no free strip of 3.4 x 150 mm along an edge")
    assert command("archive", "list", "--archive", tmp_path / "archive").out == ""


def test_printing_again_is_a_check_of_the_archive(command, shop, tmp_path):
    ran = command("archive", "verify", "--reprint", "pencil-block@1.0", "--archive", shop / "archive", "--quiet")
    assert (ran.status, ran.out) == (0, "")


def test_search_and_a_setting_of_the_maker(command, shop, monkeypatch):
    monkeypatch.setenv("PLANBOOK_ARCHIVE", str(shop / "archive"))
    assert "pencil-block@1.0" in command("archive", "search", "cherry", "PENCIL").out
    assert command("archive", "search", "walnut").out == ""
    assert command("archive", "search", "--json", "walnut").out == "[]\n"


def test_a_release_on_the_shelf(command, shop, tmp_path):
    """What a real release holds is shown, found fit, and read back: nothing is left out."""
    ran = command("shelf", shop / "archive", "--out", tmp_path / "site")
    assert (ran.status, ran.err) == (0, "")
    assert f"wrote {tmp_path / 'site' / 'index.html'} (1 design, " in ran.out
    page = (tmp_path / "site" / "plans" / "pencil-block" / "index.html").read_text("utf-8")
    assert 'sizes: <b class="name">width</b> was 60 mm, and is now 64 mm' in page.replace("\u00a0", " ")
    for name in ("cover-1200x900.png", "sample-pages.pdf", "material-sheet.pdf"):
        assert f'"{name}"' in page
        assert (tmp_path / "site" / "plans" / "pencil-block" / name).is_file()
    from planbook.archive import Archive
    from planbook.archive.shelved import shelved

    (one,) = shelved(Archive(shop / "archive"))
    assert one.plan.longest is not None
    assert one.plan.minutes is not None
    assert [row.version for row in one.plan.versions] == ["1.1", "1.0"]
