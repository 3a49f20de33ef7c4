"""A release comes back as it was frozen, whole or not at all."""

import subprocess

import pytest

from planbook.archive import ArchiveProblem, Damaged
from planbook.archive.restore import restore


def test_the_files_come_back_with_checksums_that_coreutils_reads(archive, add, made, tmp_path):
    add()
    folder, files = restore(archive, "tern-box@1.0", tmp_path / "out")
    assert folder == tmp_path / "out" / "tern-box-1.0"
    for path, data in made()[1].items():
        assert (folder / path).read_bytes() == data
    assert set(files) == {path for path in folder.rglob("*") if path.is_file()}
    told = subprocess.run(
        ["sha256sum", "--check", "--strict", "SHA256SUMS"], cwd=folder, check=True, capture_output=True
    )
    assert told.stdout.count(b": OK\n") == 5


def test_nothing_is_written_over(archive, add, tmp_path):
    add()
    (tmp_path / "tern-box-1.0").mkdir()
    with pytest.raises(ArchiveProblem, match="is there already"):
        restore(archive, "tern-box", tmp_path)
    assert list((tmp_path / "tern-box-1.0").iterdir()) == []


def test_a_changed_object_leaves_nothing_behind(archive, add, tmp_path):
    add()
    entry = archive.release("tern-box").entry("stencils/outline.svg")
    archive.store.object_path(entry.sha256).write_bytes(b"<svG/>")
    with pytest.raises(Damaged):
        restore(archive, "tern-box", tmp_path / "out")
    assert list((tmp_path / "out").iterdir()) == []
