"""`planbook shelf`: its exit statuses, what it prints, and what it refuses."""

import json
from pathlib import Path

from planbook.archive import Archive
from planbook.archive.manifest import About, Made, Manifest


def put(folder: Path, **files: bytes) -> None:
    words = ("Gull tray", "A tray.", "Saltmarsh Workshop", "mm", "", "Build it.", "", ("white ash",), ("tray",))
    about = About(*words, ("Saw it",), ("Rim",), ("band saw",), ())
    made = Made("0.1.0", "0" * 64, "3.11", {})
    manifest = Manifest("gull-tray", "1.0", "2026-03-01T10:00:00Z", about, made, ())
    Archive(folder).add(manifest, {f"offer/{name}": data for name, data in files.items()} | {"source/x": b"x"})


def test_a_shelf_is_written_and_told(command, tmp_path):
    put(tmp_path / "archive")
    ran = command("shelf", tmp_path / "archive", "--out", tmp_path / "site")
    assert ran.status == 0
    assert f"wrote {tmp_path / 'site' / 'index.html'} (1 design, 9 files)" in ran.out
    assert "Gull tray" in (tmp_path / "site" / "plans" / "gull-tray" / "index.html").read_text()
    again = command("shelf", tmp_path / "archive", "--out", tmp_path / "site", "--quiet")
    assert (again.status, again.out) == (0, "")


def test_what_is_left_out_is_a_warning_with_a_place(command, tmp_path):
    put(tmp_path / "archive", **{"sample-pages.pdf": b"<script>"})
    ran = command("shelf", tmp_path / "archive", "--out", tmp_path / "site", "--format", "json")
    assert ran.status == 0
    (told,) = json.loads(ran.out)
    assert (told["code"], told["severity"]) == ("SHF01", "warning")
    assert "gull-tray@1.0.json" in json.dumps(told)


def test_refusals_are_one_sentence(command, tmp_path):
    ran = command("shelf", tmp_path / "nothing", "--out", tmp_path / "site")
    assert (ran.status, ran.out) == (2, "")
    assert "does not exist" in ran.err
    put(tmp_path / "archive")
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "index.html").write_text("mine")
    ran = command("shelf", tmp_path / "archive", "--out", tmp_path / "site")
    assert ran.status == 2
    assert "was not written by `planbook shelf`" in ran.err
    (tmp_path / "file").write_text("mine")
    assert command("shelf", tmp_path / "archive", "--out", tmp_path / "file" / "site").status == 2
    assert command("shelf", tmp_path / "archive", "--out", tmp_path / "file").status == 2


def test_a_damaged_archive_is_told_of(command, tmp_path):
    put(tmp_path / "archive", **{"cover-1200x900.png": b"picture"})
    entry = Archive(tmp_path / "archive").release("gull-tray").entry("offer/cover-1200x900.png")
    Archive(tmp_path / "archive").store.object_path(entry.sha256).unlink()
    ran = command("shelf", tmp_path / "archive", "--out", tmp_path / "site")
    assert ran.status == 2
    assert "is missing" in ran.err
    assert not (tmp_path / "site").exists()
