"""How the shelf is written: whole, the same again, beside the files of others, and without what could do harm."""

import io
import json
import os
from pathlib import Path

import pikepdf
import pytest

from planbook.archive import Archive, ArchiveProblem, Damaged
from planbook.booklet.offer import read_listing
from planbook.shelving import NOTED, ShelfProblem, shelve

from .conftest import files_of, fill, listing, offer_of, pdf, picture, put


def test_the_same_archive_makes_the_same_bytes(filled: Archive, site: Path, tmp_path: Path) -> None:
    shelve(filled, tmp_path / "again")
    assert files_of(tmp_path / "again") == files_of(site)
    made = shelve(filled, tmp_path / "again")
    assert (made.designs, made.gone, made.findings) == (5, 0, ())
    assert files_of(tmp_path / "again") == files_of(site)


def test_another_archive_of_the_same_releases_makes_the_same_bytes(archive: Archive, site: Path, tmp_path: Path):
    fill(archive)
    shelve(archive, tmp_path / "site")
    assert files_of(tmp_path / "site") == files_of(site)


def test_what_was_written_before_is_taken_away_and_nothing_else(
    filled: Archive, archive: Archive, tmp_path: Path
) -> None:
    out = tmp_path / "site"
    shelve(filled, out)
    (out / "CNAME").write_text("of somebody else")
    (out / "plans" / "gull-tray" / "photo.jpg").write_bytes(b"of somebody else")
    (out / "plans" / "dory-stool" / "index.html").write_bytes(b"written over by somebody else")
    put(archive, "tern-box", "1.0", "Tern box", offer=offer_of("Tern box", "150 mm", "3 h"))
    assert shelve(archive, out).gone > 10
    left = set(files_of(out))
    kept = {"CNAME", "plans/gull-tray/photo.jpg", "plans/dory-stool/index.html"}
    assert kept <= left
    assert {name.split("/")[1] for name in left - kept if name.startswith("plans/")} == {"tern-box"}
    assert not (out / "plans" / "tide-shelf").exists()
    assert set(json.loads((out / NOTED).read_text())["files"]) == left - kept - {NOTED}


@pytest.mark.parametrize("name", ["index.html", "shelf.css", "plans/tern-box/index.html", "fonts"])
def test_a_file_of_somebody_else_is_not_written_over(filled: Archive, tmp_path: Path, name: str) -> None:
    (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
    (tmp_path / name).write_text("mine")
    before = files_of(tmp_path)
    with pytest.raises(ShelfProblem, match=name.split("/")[-1]):
        shelve(filled, tmp_path)
    assert files_of(tmp_path) == before


@pytest.mark.parametrize("name", ["plans", "fonts", "index.html", NOTED])
def test_nothing_is_written_through_a_link(filled: Archive, tmp_path: Path, name: str) -> None:
    outside, out = tmp_path / "outside", tmp_path / "site"
    outside.mkdir()
    out.mkdir()
    (out / name).symlink_to(outside if "." not in name else outside / "file")
    with pytest.raises(ShelfProblem):
        shelve(filled, out)
    assert list(outside.iterdir()) == []


@pytest.mark.parametrize(
    "note",
    [
        '{"form": "planbook shelf 1", "files": {"../precious.txt": "x"}}',
        '{"form": "planbook shelf 1", "files": {"/etc/passwd": "x"}}',
        '{"form": "planbook shelf 1", "files": {"a": 1}}',
        '{"form": "planbook shelf 1", "files": []}',
        '{"form": "another", "files": {}}',
        "[" * 100_000,
        "[]",
        "\x00",
    ],
)
def test_a_note_that_no_run_wrote_is_refused(filled: Archive, tmp_path: Path, note: str) -> None:
    out = tmp_path / "site"
    out.mkdir()
    (tmp_path / "precious.txt").write_text("mine")
    (out / NOTED).write_text(note)
    with pytest.raises(ShelfProblem, match=NOTED):
        shelve(filled, out)
    assert (tmp_path / "precious.txt").read_text() == "mine"
    assert set(files_of(out)) == {NOTED}


def test_a_write_that_fails_leaves_the_older_pages(
    filled: Archive, archive: Archive, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "site"
    put(archive, "tern-box", "1.0", "Tern box", offer=offer_of("Tern box", "150 mm", "3 h"))
    shelve(archive, out)
    before, count = files_of(out), 0

    def full(handle: int) -> None:
        nonlocal count
        count += 1
        if count > 9:
            raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        with pytest.raises(OSError, match="No space"):
            shelve(filled, out)
    after = files_of(out)
    assert {name: data for name, data in after.items() if name != NOTED} == {
        name: data for name, data in before.items() if name != NOTED
    }
    shelve(filled, out)
    shelve(filled, tmp_path / "fresh")
    assert files_of(out) == files_of(tmp_path / "fresh")


def test_a_changed_object_stops_the_shelf(archive: Archive, tmp_path: Path) -> None:
    put(archive, "tern-box", "1.0", "Tern box", offer=offer_of("Tern box", "150 mm", "3 h"))
    entry = archive.release("tern-box").entry("offer/sample-pages.pdf")
    assert entry is not None
    path = archive.store.object_path(entry.sha256)
    path.write_bytes(path.read_bytes()[:-1] + b"x")
    with pytest.raises(Damaged):
        shelve(archive, tmp_path / "site")
    assert not (tmp_path / "site").exists()


def test_no_archive_is_a_refusal_and_an_empty_one_an_empty_shelf(archive: Archive, tmp_path: Path) -> None:
    with pytest.raises(ArchiveProblem, match="does not exist"):
        shelve(archive, tmp_path / "site")
    with archive.store.writing():
        pass
    assert shelve(archive, tmp_path / "site").designs == 0
    assert "0 plans" in (tmp_path / "site" / "index.html").read_text()


def with_script() -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf())) as made:
        script = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="app.alert(1)")
        made.Root.Names = pikepdf.Dictionary(JavaScript=pikepdf.Dictionary(Names=["x", script]))
        made.save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("cover-1200x900.png", b"<script>alert(1)</script>"),
        ("cover-1200x900.png", picture()[:12]),
        ("thumbnail-500x500.png", picture(5_000, 1)),
        ("thumbnail-500x500.png", b""),
        ("sample-pages.pdf", with_script()),
        ("sample-pages.pdf", b"<html>%PDF-"),
        ("material-sheet.pdf", b"%PDF-1.7 nothing more"),
        ("listing.json", b"[" * 200_000),
        ("listing.json", b"{}"),
        ("listing.json", listing("x", "x", "x", pages="many")),
        ("listing.json", b'"\xff"'),
    ],
)
def test_what_is_not_fit_is_left_out_and_told(archive: Archive, tmp_path: Path, name: str, data: bytes) -> None:
    offer = {**offer_of("Tern box", "150 mm", "3 h"), name: data}
    put(archive, "tern-box", "1.0", "Tern box", offer=offer)
    (finding,) = shelve(archive, tmp_path / "site").findings
    assert (finding.code, finding.stops) == ("SHF01", False)
    assert f"`offer/{name}` of `tern-box@1.0`" in finding.headline
    page = (tmp_path / "site" / "plans" / "tern-box" / "index.html").read_text()
    assert name not in page
    assert "Band saw" in page
    assert data == b"" or data not in files_of(tmp_path / "site").values()


def test_a_listing_is_read_as_it_is_written() -> None:
    assert read_listing(listing("Tern box", "150 mm", "3 h")).facts[1].value == "3 h"
