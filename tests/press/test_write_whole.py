import os
import stat
from pathlib import Path

import pytest

from planbook.press import file_name, write_whole


def test_a_file_is_written_and_written_over(tmp_path: Path) -> None:
    path = tmp_path / "booklet.pdf"
    write_whole(path, b"one")
    write_whole(path, b"two")
    assert path.read_bytes() == b"two"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_the_older_file_survives_a_failure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    path = tmp_path / "booklet.pdf"
    write_whole(path, b"good")

    def fail(*_: object) -> None:
        raise OSError("the disk is full")

    monkeypatch.setattr(os, step, fail)
    with pytest.raises(OSError, match="the disk is full"):
        write_whole(path, b"half")
    assert path.read_bytes() == b"good"
    assert list(tmp_path.iterdir()) == [path]


def test_a_folder_that_is_not_there_is_an_error_and_leaves_nothing(tmp_path: Path) -> None:
    with pytest.raises(OSError):
        write_whole(tmp_path / "none" / "booklet.pdf", b"data")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such permissions")
def test_the_file_can_be_read_like_any_other(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        write_whole(tmp_path / "booklet.pdf", b"data")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "booklet.pdf").stat().st_mode) == 0o644


def test_a_very_long_name_is_written_too(tmp_path: Path) -> None:
    path = tmp_path / ("a" * 240 + ".pdf")
    write_whole(path, b"data")
    assert path.read_bytes() == b"data"


@pytest.mark.parametrize(
    ("words", "stem"),
    [
        ("stencil 1 Outline", "stencil-1-outline"),
        ("stencil 2 Tür & «Lid» / back\\slash", "stencil-2-tur-lid-back-slash"),
        ("stencil 3 左の引き出し", "stencil-3"),
        ("../../etc/passwd", "etc-passwd"),
        ("", "file"),
        ("...", "file"),
        ("x" * 300, "x" * 80),
    ],
)
def test_a_file_name_is_safe_on_every_system(words, stem):
    assert file_name(words) == stem


def test_two_files_never_share_a_name():
    assert file_name("piece a", {"piece-a.stl": b""}) == "piece-a-2"
    assert file_name("piece a", {"piece-a.stl": b"", "piece-a-2.stl": b""}) == "piece-a-3"
