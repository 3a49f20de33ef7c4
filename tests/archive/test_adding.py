"""Releases are added once, read as they were, and found by their names."""

import hashlib
import json
import subprocess
from dataclasses import replace

import pytest

from planbook.archive import ArchiveProblem, Damaged, Taken
from planbook.archive.manifest import read_manifest, written


def test_a_release_is_read_as_it_was_put(archive, add, made):
    assert add()
    manifest, files = made()
    found = archive.release("tern-box@1.0")
    assert {entry.path: archive.read(entry) for entry in found.files} == files
    assert (found.about, found.made, found.released) == (manifest.about, manifest.made, manifest.released)
    assert archive.booklets("tern-box@1.0") == {
        "tern-box-a4-mm.pdf": b"%PDF a4 1.0",
        "tern-box-letter-in.pdf": b"%PDF letter 1.0",
    }


def test_objects_are_named_by_the_checksum_that_coreutils_finds(archive, add):
    add()
    objects = sorted(path for path in (archive.folder / "objects").rglob("*") if path.is_file())
    assert len(objects) == 5
    told = subprocess.run(["sha256sum", *objects], check=True, capture_output=True, text=True).stdout
    for line in told.splitlines():
        checksum, path = line.split("  ")
        assert path.endswith(f"objects/{checksum[:2]}/{checksum[2:]}")


def test_the_same_is_nothing_new_and_other_contents_are_refused(archive, add):
    assert add()
    assert not add()
    with pytest.raises(Taken, match=r"tern-box@1\.0"):
        add(text="# more")
    with pytest.raises(Taken):
        add(version="1.0.0", text="# more")
    assert archive.release("tern-box").name == "tern-box@1.0"
    assert [row.name for row in archive_rows(archive)] == ["tern-box@1.0"]


def test_what_may_not_be_released_is_not_seen(archive, add, made):
    def forbid():
        raise ArchiveProblem("not now")

    with pytest.raises(ArchiveProblem, match="not now"):
        archive.add(*made(), forbid)
    with pytest.raises(ArchiveProblem, match="no release `tern-box`"):
        archive.release("tern-box")
    assert add()


def test_the_greatest_version_stands_for_the_design(archive, add):
    for version in ("1.0", "1.10", "1.9.3", "1.2"):
        add(version=version)
    assert archive.release("tern-box").name == "tern-box@1.10"
    assert [row.version for row in archive_rows(archive)] == ["1.0", "1.2", "1.9.3", "1.10"]


def test_a_release_that_is_not_there_is_answered_with_near_ones(archive, add):
    add()
    with pytest.raises(ArchiveProblem, match=r"no release `tern-bix`.*there is `tern-box`"):
        archive.release("tern-bix")
    with pytest.raises(ArchiveProblem, match=r"there is `tern-box@1\.0`"):
        archive.release("tern-box@1.1")


def test_a_folder_without_an_archive_is_refused(archive, tmp_path, add):
    with pytest.raises(ArchiveProblem, match="does not exist"):
        archive.release("tern-box")
    archive.folder.mkdir()
    (archive.folder / "letter.txt").touch()
    with pytest.raises(ArchiveProblem, match="is not an archive"):
        archive.release("tern-box")
    with pytest.raises(ArchiveProblem, match="holds other files"):
        add()
    assert [path.name for path in archive.folder.iterdir()] == ["letter.txt"]


def test_a_changed_object_is_never_handed_out_and_is_mended_by_the_same_release(archive, add):
    add()
    entry = archive.release("tern-box").entry("stencils/outline.svg")
    path = archive.store.object_path(entry.sha256)
    path.write_bytes(b"<svG/>")
    with pytest.raises(Damaged, match="was changed"):
        archive.read(entry)
    add(version="1.0.1")
    assert archive.read(entry) == b"<svg/>"
    path.unlink()
    with pytest.raises(Damaged, match="is missing"):
        archive.read(entry)


def test_a_manifest_holds_only_in_its_one_form(made):
    manifest, _ = made()
    data = written(manifest)
    assert read_manifest(data, "tern-box@1.0").seal == json.loads(data)["seal"]
    for position in range(0, len(data), 7):
        for flip in (1, 32):
            changed = bytearray(data)
            changed[position] ^= flip
            with pytest.raises(Damaged):
                read_manifest(bytes(changed), "tern-box@1.0")
    for other in (data + b"\n", data.replace(b"\n ", b"\n  ", 1), b"", b"[" * 100_000, b"null", b"{}"):
        with pytest.raises(Damaged):
            read_manifest(other, "tern-box@1.0")
    with pytest.raises(Damaged, match="another release"):
        read_manifest(data, "tern-box@1.1")


def test_the_seal_is_a_sha256_of_the_rest(made):
    body = json.loads(written(made()[0]))
    seal = body.pop("seal")
    text = json.dumps(body, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    assert seal == hashlib.sha256(text.encode()).hexdigest()


@pytest.mark.parametrize("path", ["../x", "source/aux.svg", "a\\b", "/etc/passwd"])
def test_a_manifest_with_an_unsafe_name_is_no_manifest(made, path):
    from planbook.archive.manifest import Entry

    manifest = replace(made()[0], files=(Entry(path, "0" * 64, 0),))
    with pytest.raises(Damaged, match="names a file that"):
        read_manifest(written(manifest), "tern-box@1.0")


def archive_rows(archive):
    with archive.catalogue() as catalogue:
        return catalogue.rows()
