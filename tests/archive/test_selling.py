"""Copies, the register and corrections of releases that lie in an archive; the releases are made by hand."""

import csv
import io
import zipfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest

from planbook.archive import Archive
from planbook.archive.exporting import export
from planbook.archive.facts import Facts, LumberFact, Measure
from planbook.archive.verify import BESIDE, verify
from planbook.booklet import Edition
from planbook.buyers import USUAL
from planbook.cli.run import run
from planbook.press import press, with_mark

HEAD = """<!DOCTYPE html><html lang="en"><title>Tern box</title><style>
@font-face { font-family: "Source Sans Pro"; src: url("planbook:font/SourceSansPro-Regular.ttf") }
@page { size: A4; @bottom-left { content: counter(page) } } html { font-family: "Source Sans Pro" }
section { break-after: page } h1 { bookmark-level: 1 }</style>"""
COVER = "<section><h1>Cover</h1>Version {}</section>"
STEPS = ("Mill the board, 6 mm.", "Saw the outline.", "Oil the box.")
STENCILS = "<section><h1>Outline</h1>lines</section><section><h1>Lid</h1>lines</section>"


def booklet(version: str, steps: tuple[str, ...] = STEPS) -> bytes:
    pages = "".join(f"<section><h1>{n} Step</h1>{text}</section>" for n, text in enumerate(steps, start=1))
    return with_mark(press(HEAD + COVER.format(version) + pages + STENCILS, Edition("a4").paper_row).pdf)


OLD = booklet("1.0")
NEW = booklet("1.1", ("Mill the board, 7 mm.", *STEPS[1:]))


def mended(box: Facts) -> Facts:
    """The wall is another one, and so is the outline, whose page looks as before; a board is larger."""
    outline = replace(box.stencils["Outline"], geometry="ab")
    board = LumberFact("black cherry", (180.0, 70.0, 50.8), 1)
    return replace(
        box,
        sizes={**box.sizes, "wall": Measure(7.0, "length")},
        stencils={**box.stencils, "Outline": outline},
        lumber={"board": board},
    )


@pytest.fixture
def there(archive: Archive, made: Any, box: Facts, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Archive:
    """Versions 0.9 (another object), 0.10 (with the mistake of 1.0), 1.0 and 1.1 (mended)."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PLANBOOK_ARCHIVE", raising=False)
    first = replace(box, sizes={**box.sizes, "wall": Measure(5.0, "length")})
    for version, facts, pdf in (
        ("0.9", first, OLD),
        ("0.10", replace(box, words={}), booklet("0.10")),
        ("1.0", box, OLD),
        ("1.1", mended(box), NEW),
    ):
        manifest, files = made(version=version, facts=facts)
        books = {f"booklets/tern-box-{edition}.pdf": pdf for edition in ("a4-mm", "letter-in")}
        archive.add(manifest, {**files, **books})
    Path("orders.csv").write_text("order,name,contact\n1042,Ada Fenn,ada@example.org\nA/7,Bo Reed,\n", "utf-8")
    return archive


@pytest.fixture
def command(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    def runs(*args: object) -> tuple[int, str, str]:
        status = run([str(arg) for arg in args])
        return status, *capsys.readouterr()

    return runs


def sold(command: Any, release: str, *more: object) -> tuple[int, str, str]:
    found: tuple[int, str, str] = command("copies", release, "--orders", "orders.csv", "--out", "out", "-q", *more)
    return found


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_every_order_gets_all_booklets_and_stands_in_the_register_once(command, there):
    assert sold(command, "tern-box@1.0", "--licence", "One maker") == (0, "", "")
    names = sorted(path.name for path in Path("out").iterdir())
    assert len(names) == 4
    assert {"tern-box-a4-mm-1-0-1042.pdf", "tern-box-letter-in-1-0-1042.pdf"} <= set(names)
    for name in names:
        assert (Path("out") / name).read_bytes().startswith(OLD)
    _, listed, _ = command("buyers", "list")
    assert [(row["order"], row["release"], row["version"]) for row in rows(listed)] == [
        ("1042", "tern-box", "1.0"),
        ("A/7", "tern-box", "1.0"),
    ]


def test_an_edition_narrows_it_and_the_name_alone_is_the_greatest_version(command, there):
    assert sold(command, "tern-box", "--edition", "a4-mm", "--licence", "One")[0] == 0
    assert sorted(path.name for path in Path("out").iterdir())[0] == "tern-box-a4-mm-1-1-1042.pdf"
    assert len(list(Path("out").iterdir())) == 2
    status, out, _ = sold(command, "tern-box", "--edition", "a3-mm", "--licence", "One", "--format", "lines")
    assert status == 1
    assert "archive/releases/tern-box@1.1.json:1:1: error COP04 no-such-edition: " in out


def test_buyers_are_listed_by_release(command, there):
    sold(command, "tern-box@1.0", "--licence", "One")
    sold(command, "tern-box@1.1", "--licence", "One")
    for name, count in (("tern-box", 4), ("tern-box@1.1", 2), ("tern-box@1.1.0", 2), ("tern-box@2.0", 0), ("gull", 0)):
        assert len(rows(command("buyers", "list", "--release", name)[1])) == count, name
    assert command("buyers", "list", "--release", "tern-box@new")[0] == 2


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("tern-box@3.0",), "there is no release `tern-box@3.0`"),
        (("tern box",), "is not the name of a release"),
        (("tern-box@1.0", "--archive", "nowhere"), "nowhere"),
        (("tern-box@1.0", "--register", "archive/objects/b.sqlite"), "keep them apart"),
        (("tern-box@1.0", "--register", "archive/own.sqlite"), "keep them apart"),
        (("tern-box@1.0", "--out", "archive/objects/copies"), "keep them apart"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(command, there, args, said):
    status, _, err = sold(command, *args, "--licence", "One")
    assert (status, said in err) == (2, True), err
    assert not Path("out").exists()


def test_a_damaged_booklet_is_sold_to_nobody(command, there):
    (entry,) = [e for e in there.release("tern-box@1.1").files if e.path.endswith("a4-mm.pdf")]
    there.store.object_path(entry.sha256).write_bytes(NEW[:-1])
    status, _, err = sold(command, "tern-box@1.1", "--licence", "One")
    assert (status, "was changed" in err, Path("out").exists(), Path(USUAL).exists()) == (2, True, False, False)


def test_a_release_without_booklets_is_told(command, there, made):
    manifest, files = made(design="gull-box")
    there.add(manifest, {path: data for path, data in files.items() if not path.startswith("booklets/")})
    status, out, _ = sold(command, "gull-box", "--licence", "One", "--format", "lines")
    assert (status, "COP01" in out) == (1, True)


def test_a_register_beside_an_archive_is_no_part_of_it_and_in_no_export(command, there):
    """Every byte of the export is looked at as it is unpacked by the standard library."""
    assert USUAL in BESIDE
    register = there.folder / USUAL
    assert sold(command, "tern-box@1.0", "--licence", "One maker", "--register", register)[0] == 0
    assert b"Ada Fenn" in register.read_bytes()
    assert verify(there).findings == ()
    export(there, ["tern-box@1.0", "tern-box@1.1"], Path("out.zip"))
    with zipfile.ZipFile("out.zip") as packed:
        assert all(name.split("/")[0] in ("archive.json", "releases", "objects") for name in packed.namelist())
        whole = b"".join(name.encode() + packed.read(name) for name in packed.namelist())
    for word in (b"Ada", b"Fenn", b"ada@example.org", b"Bo Reed", b"1042", b"One maker", b"SQLite"):
        assert word not in whole, word
    for path in (path for path in there.folder.rglob("*") if path.is_file() and path != register):
        assert b"Ada Fenn" not in path.read_bytes(), path


def text_of(path: Path) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    try:
        return [page.get_textpage().get_text_range() for page in document]
    finally:
        document.close()


def test_a_correction_finds_by_itself_what_changed_and_whom_it_concerns(command, there):
    for release in ("tern-box@0.9", "tern-box@0.10", "tern-box@1.0", "tern-box@1.1"):
        sold(command, release, "--licence", "One")
    status, out, err = command("errata", "tern-box@1.0", "tern-box@1.1", "--out", "sheet.pdf")
    assert status == 0
    assert {(row["order"], row["version"]) for row in rows(out)} == {
        (order, version) for order in ("1042", "A/7") for version in ("1.0", "0.10")
    }
    assert "sheet-a4-mm.pdf: pages 2, 5\nsheet-letter-in.pdf: pages 2, 5\n4 copies are concerned" in err
    assert "the same is wrong in `tern-box@0.10`" in err
    front, first, second = text_of(Path("sheet-a4-mm.pdf"))
    assert "Your copy is version 1.0; this corrects it to version 1.1." in front
    assert "Print these stencils again" in front
    assert "Sizes: “wall” was 6 mm, and is now 7 mm" in front
    assert "Lumber: “board” was 1 of black cherry, 170 × 70 × 50.8 mm" in front
    assert "7 mm" in first
    assert "Outline" in second
    inches = text_of(Path("sheet-letter-in.pdf"))[0]
    assert "“wall” was 0.236 in" in inches
    with pikepdf.open("sheet-a4-mm.pdf") as document:
        assert document.check_pdf_syntax() == []


def test_buyers_go_to_a_file_if_asked_and_lines_of_ones_own_take_the_place(command, there):
    sold(command, "tern-box@1.0", "--licence", "One")
    own = ("--pages", "3-4", "--change", "A word", "--stencil", "Lid", "--edition", "a4-mm", "--buyers", "who.csv")
    status, out, _ = command("errata", "tern-box@1.0", "tern-box@1.1", "--out", "sheet.pdf", "-q", *own)
    assert (status, out) == (0, "")
    assert [row["order"] for row in rows(Path("who.csv").read_text("utf-8"))] == ["1042", "A/7"]
    front, *pages = text_of(Path("sheet.pdf"))
    assert ("A word" in front, "“wall”" in front, "Lid" in front, len(pages)) == (True, False, True, 2)


def test_without_a_stencil_to_print_again_the_sheet_says_so(command, there, made, box):
    manifest, files = made(version="1.1.1", facts=replace(mended(box), words={}))
    del files["booklets/tern-box-letter-in.pdf"]
    there.add(manifest, {**files, "booklets/tern-box-a4-mm.pdf": booklet("1.1.1", ("Mill it, 8 mm.", *STEPS[1:]))})
    status, _, err = command("errata", "tern-box@1.1", "tern-box", "--out", "sheet.pdf")
    assert (status, "sheet.pdf: page 2\n0 copies are concerned" in err) == (0, True)
    assert "No stencil need be printed again" in text_of(Path("sheet.pdf"))[0]


@pytest.mark.parametrize(
    ("args", "status", "said"),
    [
        (("tern-box@1.0", "tern-box@1.0"), 1, "COP05"),
        (("tern-box@0.10", "tern-box@1.0"), 1, "COP05"),
        (("tern-box@1.0", "tern-box@1.1", "--pages", "9", "--edition", "a4-mm"), 1, "COP03"),
        (("tern-box@1.0", "tern-box@1.1", "--edition", "a3-mm"), 1, "COP04"),
        (("tern-box@1.0", "tern-box@1.1", "--pages", "2"), 2, "name its edition"),
        (("tern-box@1.0", "orders.csv"), 2, "cannot be compared"),
        (("tern-box@1.0", "gull-box@1.0"), 2, "are two designs"),
        (("tern-box@1.0", "tern-box@1.1", "--register", "none.sqlite"), 2, "no register"),
    ],
)
def test_a_correction_that_cannot_be_made_writes_nothing(command, there, made, args, status, said):
    there.add(*made(design="gull-box"))
    ended, out, err = command("errata", *args, "--out", "sheet.pdf", "--format", "lines")
    assert (ended, said in out + err) == (status, True), out + err
    assert not list(Path().glob("*.pdf"))
