"""`planbook copies` and `planbook buyers` on a small booklet."""

import os
from pathlib import Path

import pikepdf
import pytest

from planbook.booklet import Edition
from planbook.press import press
from planbook.selling import copy_name

PAGE = """<!DOCTYPE html><html lang="en"><title>Tray</title><style>
@font-face { font-family: "Source Sans Pro"; src: url("planbook:font/SourceSansPro-Regular.ttf") }
@page { size: A4 } p { font-family: "Source Sans Pro" }</style><p>one<p style="break-before: page">two"""


@pytest.fixture(scope="module")
def pdf() -> bytes:
    return press(PAGE, Edition("a4").paper_row).pdf


@pytest.fixture
def shop(tmp_path: Path, pdf: bytes, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "tray.pdf").write_bytes(pdf)
    (tmp_path / "orders.csv").write_text("order,name\n1042,Ada Fenn\nA/7,Żółć\nA-7,Bo Reed\n", "utf-8")
    return tmp_path


def usual(command, *more):
    return command("copies", "tray.pdf", "--orders", "orders.csv", "--out", "out", "--licence", "For one maker", *more)


def test_every_order_gets_a_copy_and_stands_in_the_register(command, shop):
    ran = usual(command, "-q")
    assert (ran.status, ran.out, ran.err) == (0, "", "")
    names = {path.name: path.read_bytes() for path in (shop / "out").iterdir()}
    assert sorted(names) == sorted(copy_name("tray", number) for number in ("1042", "A/7", "A-7"))
    with pikepdf.open(shop / "out" / "tray-1042.pdf") as document:
        assert str(document.docinfo["/CopyFor"]) == "Ada Fenn"
        assert document.check_pdf_syntax() == []
    listed = command("buyers", "list").out
    assert "1042,Ada Fenn,,For one maker,tray," in listed
    assert listed.count("\n") == 4
    assert usual(command, "-q").status == 0
    assert {path.name: path.read_bytes() for path in (shop / "out").iterdir()} == names
    assert command("buyers", "list").out == listed


def test_a_forgotten_buyer_is_gone_and_the_copy_stays(command, shop):
    usual(command, "-q")
    before = (shop / "out" / "tray-1042.pdf").read_bytes()
    ran = command("buyers", "forget", "1042")
    assert "1 copy" in ran.out
    assert "Ada" not in command("buyers", "list", "--release", "tray").out
    assert (shop / "out" / "tray-1042.pdf").read_bytes() == before
    assert command("buyers", "forget", "1042").status == 2


def test_one_bad_line_and_nothing_is_written(command, shop):
    (shop / "orders.csv").write_text("order,name\n1042,Ada Fenn\n1043,=Bo\n", "utf-8")
    ran = usual(command, "--format", "lines")
    assert ran.status == 1
    assert ran.out.startswith("orders.csv:3:6: error ORD04")
    assert sorted(path.name for path in shop.iterdir()) == ["orders.csv", "tray.pdf"]


def test_a_name_that_no_font_has_is_told_where_it_stands(command, shop, monkeypatch):
    monkeypatch.setattr("planbook.press.font_files._folders", lambda: ())
    (shop / "orders.csv").write_text("order,name\n1042,Ada Fenn\n1043,Ada 森\n", "utf-8")
    ran = usual(command, "--format", "lines")
    assert ran.out.startswith("orders.csv:3:6: error ORD07")
    assert "U+68EE" in ran.out
    assert not (shop / "out").exists()


def test_a_mark_that_is_too_long_is_told(command, shop):
    (shop / "orders.csv").write_text(f"order,name\n{'W' * 40},{'W' * 80}\n", "utf-8")
    assert usual(command, "--format", "lines").out.startswith("orders.csv:2:42: error ORD06")


@pytest.mark.parametrize("data", [None, b"no pdf", b"%PDF-1.7\n"])
def test_what_is_no_booklet_is_told(command, shop, data):
    (shop / "tray.pdf").unlink() if data is None else (shop / "tray.pdf").write_bytes(data)
    ran = usual(command, "--format", "lines")
    assert ran.status == 1
    assert ran.out.startswith("tray.pdf:1:1: error COP01")


def test_options_that_cannot_be_used_are_refused(command, shop):
    (shop / "x.ttf").write_bytes(b"no font")
    assert "is not a font" in usual(command, "--font", "x.ttf").err
    assert "x.otf" in usual(command, "--font", "x.otf").err
    (shop / "out").write_bytes(b"a file")
    assert usual(command).status == 2
    assert (
        "is not a register"
        in usual(command, "--register", "orders.csv", "-q").err
        + usual(command, "--register", "orders.csv", "--out", "other").err
    )
    bad = command("copies", "tray.pdf", "--orders", "orders.csv", "--out", "o", "--licence", "=x")
    assert (bad.status, "formula" in bad.err) == (2, True)


def test_an_interrupted_run_leaves_whole_copies_only(command, shop, monkeypatch):
    (shop / "orders.csv").write_text("order,name\n" + "".join(f"{n},Buyer {n}\n" for n in range(1, 101)), "utf-8")
    real, count = os.replace, iter(range(1000))

    def breaks(*args):
        if next(count) == 40:
            raise OSError(28, "No space left on device")
        real(*args)

    monkeypatch.setattr(os, "replace", breaks)
    ran = usual(command)
    assert (ran.status, "no space" in ran.err) == (2, True)
    found = list((shop / "out").iterdir())
    assert len(found) == 40
    assert all(path.suffix == ".pdf" for path in found)
    for path in found[::13]:
        with pikepdf.open(path) as document:
            assert document.check_pdf_syntax() == []


@pytest.mark.parametrize("number", ["con", "../../etc/x", "a\\b:c*?", "COM1", "...", "日本", "x" * 40, " a "])
def test_names_of_copies_are_safe_everywhere(number):
    """Reserved characters and names: Microsoft, "Naming Files, Paths, and Namespaces"."""
    name = copy_name("tray", number)
    assert name.startswith("tray-")
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-.")
    assert name.count(".") == 1


def test_numbers_that_look_alike_have_files_of_their_own():
    numbers = ["A/7", "A-7", "a-7", "A 7", "a_7", "Ä7", "A7", "a7"]
    assert len({copy_name("tray", number) for number in numbers}) == len(numbers)


def test_a_correction_lists_the_buyers_of_the_old_version(command, shop):
    usual(command, "-q")
    new = press(PAGE.replace("two", "two and a half"), Edition("a4").paper_row).pdf
    (shop / "tray-2.pdf").write_bytes(new)
    ran = command("errata", "tray.pdf", "tray-2.pdf", "--pages", "2", "--stencil", "1 Hull", "--out", "sheet.pdf")
    assert ran.status == 0
    assert "1042,Ada Fenn" in ran.out
    assert ran.out.count("\n") == 4
    with pikepdf.open("sheet.pdf") as document:
        assert len(document.pages) == 2
    assert "Ada" not in command("errata", "tray-2.pdf", "tray.pdf", "--pages", "1", "--out", "back.pdf").out
    missing = command("errata", "tray.pdf", "tray-2.pdf", "--pages", "3", "--out", "x.pdf", "--format", "lines")
    assert (missing.status, "COP03" in missing.out, (shop / "x.pdf").exists()) == (1, True, False)


@pytest.mark.parametrize("pages", ["", "0", "2-1", "a", "1;2", "99999", "-1", "1,,2"])
def test_page_lists_that_cannot_be_read_are_refused(command, shop, pages):
    ran = command("errata", "tray.pdf", "tray.pdf", f"--pages={pages}", "--out", "x.pdf")
    assert (ran.status, "--pages" in ran.err) == (2, True)
