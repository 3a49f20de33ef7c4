"""Everything that is not as it was written is named; nothing else is."""

import os
import sqlite3
import subprocess

import pytest

from planbook.archive import ArchiveProblem
from planbook.archive.verify import verify


def found(archive):
    return [
        (finding.code, finding.place.file.removeprefix(f"{archive.folder.as_posix()}/"))
        for finding in verify(archive).findings
    ]


def test_a_sound_archive_has_nothing_to_mend(archive, add):
    add()
    add(version="1.1")
    verified = verify(archive)
    assert (verified.findings, verified.releases, verified.objects) == ((), 2, 8)
    sizes = [path.stat().st_size for path in (archive.folder / "objects").rglob("*") if path.is_file()]
    assert verified.bytes == sum(sizes)


def test_every_flipped_byte_of_every_object_is_found_and_named(archive, add):
    add()
    checked = 0
    for entry in archive.release("tern-box").files:
        path = archive.store.object_path(entry.sha256)
        data = path.read_bytes()
        for position in (0, len(data) // 2, len(data) - 1):
            changed = bytearray(data)
            changed[position] ^= 1
            path.write_bytes(changed)
            told = subprocess.run(["sha256sum", path], check=True, capture_output=True, text=True).stdout
            assert told[:64] != entry.sha256
            (finding,) = verify(archive).findings
            assert finding.code == "ARC01"
            assert finding.place.file == path.as_posix()
            assert f"tern-box@1.0: {entry.path}" in finding.notes[0]
            checked += 1
        path.write_bytes(data)
    assert checked == 15
    assert found(archive) == []


def test_missing_strange_and_changed_files_are_named(archive, add):
    add()
    entry = archive.release("tern-box").entry("stencils/outline.svg")
    lost = f"objects/{entry.sha256[:2]}/{entry.sha256[2:]}"
    (archive.folder / lost).unlink()
    (archive.folder / "objects" / "notes.txt").touch()
    (archive.folder / "objects" / "zz").mkdir()
    (archive.folder / "objects" / "zz" / "short").touch()
    (archive.folder / "releases" / "letter.txt").touch()
    os.symlink("/etc/passwd", archive.folder / "link")
    assert sorted(found(archive)) == [
        ("ARC02", lost),
        ("ARC04", "link"),
        ("ARC04", "objects/notes.txt"),
        ("ARC04", "objects/zz/short"),
        ("ARC04", "releases/letter.txt"),
    ]


def test_a_link_in_place_of_an_object_is_strange_and_is_not_followed(archive, add, tmp_path):
    add()
    entry = archive.release("tern-box").entry("stencils/outline.svg")
    path = archive.store.object_path(entry.sha256)
    away = tmp_path / "away"
    path.rename(away)
    path.symlink_to(away)
    assert {code for code, _ in found(archive)} == {"ARC02", "ARC04"}


def test_a_changed_manifest_is_named(archive, add):
    add()
    path = archive.store.manifest_path("tern-box@1.0")
    path.write_bytes(path.read_bytes().replace(b"Saltmarsh", b"Seamarsh!"))
    assert ("ARC03", "releases/tern-box@1.0.json") in found(archive)


def test_objects_of_no_release_are_a_note(archive, add):
    add()
    with archive.store.writing():
        archive.store.put([b"left over"])
    (finding,) = verify(archive).findings
    assert (finding.code, finding.stops) == ("ARC06", False)
    assert "no release names 1 object (9 bytes)" in finding.headline


def test_a_catalogue_that_says_something_else_is_made_again(archive, add):
    add()
    path = archive.folder / "catalogue.sqlite"
    with sqlite3.connect(path) as base:
        base.execute("UPDATE releases SET title = 'Another'")
    assert found(archive) == [("ARC05", "catalogue.sqlite")]
    assert found(archive) == []
    path.unlink()
    assert found(archive) == [("ARC05", "catalogue.sqlite")]
    assert found(archive) == []


def test_a_folder_that_is_no_archive_is_refused(archive):
    with pytest.raises(ArchiveProblem):
        verify(archive)
