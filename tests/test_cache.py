import os
import re
import tomllib
from importlib import metadata
from pathlib import Path

from planbook import cache
from planbook.cache import LIBRARIES, Folder, Forgetful, kept, usual, versions


def test_what_was_put_there_comes_back(tmp_path):
    store = Folder(tmp_path)
    assert store.get("a") is None
    store.put("a", b"one\ntwo\0")
    store.put("b", b"")
    assert (store.get("a"), store.get("b"), store.get("c")) == (b"one\ntwo\0", b"", None)


def test_a_broken_file_counts_as_not_there(tmp_path):
    store = Folder(tmp_path)
    store.put("a", b"some bytes that matter")
    (path,) = tmp_path.glob("*/*")
    whole = path.read_bytes()
    for broken in (whole[:-1], whole.replace(b"matter", b"mutter"), b"", b"no line end"):
        path.write_bytes(broken)
        assert store.get("a") is None
    path.write_bytes(whole)
    assert store.get("a") == b"some bytes that matter"


def test_a_folder_that_cannot_be_written_costs_nothing_but_time(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    store = Folder(blocked)
    store.put("a", b"1")
    assert store.get("a") is None
    assert kept(store, "a", lambda: b"made") == b"made"


def test_things_are_made_once(tmp_path):
    store, made = Folder(tmp_path), []

    def make():
        made.append(1)
        return b"made"

    assert [kept(store, "a", make) for _ in range(3)] == [b"made"] * 3
    assert len(made) == 1
    assert [kept(Forgetful(), "a", make) for _ in range(2)] == [b"made"] * 2
    assert len(made) == 3


def test_another_program_has_other_keys(tmp_path, monkeypatch):
    store = Folder(tmp_path)
    store.put("a", b"old")
    monkeypatch.setattr(cache, "program", lambda: "another version")
    assert store.get("a") is None


def test_what_was_not_used_for_longest_goes_first(tmp_path, monkeypatch):
    store = Folder(tmp_path)
    for number in range(10):
        store.put(str(number), b"x" * 1000)
        os.utime(store._path(str(number)), (number, number))
    store.get("0")
    monkeypatch.setattr(cache, "MOST_BYTES", 8000)
    store.tidy()
    left = [n for n in range(10) if store._path(str(n)).exists()]
    assert left[0] == 0
    assert left[1:] == list(range(10 - len(left) + 1, 10))
    assert sum(p.stat().st_size for p in tmp_path.glob("*/*")) <= 0.8 * 8000


def test_the_environment_says_where(tmp_path, monkeypatch):
    monkeypatch.setenv("PLANBOOK_CACHE", str(tmp_path))
    found = usual()
    assert isinstance(found, Folder)
    assert found.folder == tmp_path
    monkeypatch.setenv("PLANBOOK_CACHE", "none")
    assert isinstance(usual(), Forgetful)
    monkeypatch.delenv("PLANBOOK_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "x"))
    found = usual()
    assert isinstance(found, Folder)
    assert found.folder == tmp_path / "x" / "planbook"


def test_the_versions_are_those_that_the_standard_library_reads():
    found = dict(line.split() for line in versions())
    for name in LIBRARIES:
        try:
            wanted = metadata.version(name)
        except metadata.PackageNotFoundError:
            assert not [each for each in found if each.lower().replace("_", "-") == name]
            continue
        assert wanted in {version for each, version in found.items() if each.lower().replace("_", "-") == name}


def test_every_library_of_the_program_counts():
    project = tomllib.loads((Path(cache.__file__).parents[1] / "pyproject.toml").read_text("utf-8"))["project"]
    needed = {re.split(r"[=<>]", each)[0] for each in project["dependencies"]}
    # These read or show, and decide nothing that is printed.
    assert needed - set(LIBRARIES) == {"click", "pypdfium2", "rich"}


def test_half_written_files_are_nobodys_entry_and_go_in_the_end(tmp_path, monkeypatch):
    store = Folder(tmp_path)
    store.put("a", b"whole")
    path = store._path("a")
    (half := path.with_suffix(".99999-0badcafe")).write_bytes(b"ha")
    os.utime(half, (1, 1))
    assert store.get("a") == b"whole"
    monkeypatch.setattr(cache, "MOST_BYTES", path.stat().st_size)
    monkeypatch.setattr(cache, "LEFT", 1)
    store.tidy()
    assert not half.exists()
    assert store.get("a") == b"whole"
