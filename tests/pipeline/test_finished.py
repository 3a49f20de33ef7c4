"""Finished builds that are kept: the same findings and files as before, and another key for whatever may change them."""

import os
import shutil
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest

from planbook import cache as caching
from planbook import machine
from planbook.booklet import Edition
from planbook.cache import Folder, Forgetful
from planbook.drawing.correction import Correction
from planbook.pipeline import building, inputs
from planbook.pipeline.finished import Finished, Order, find, keep, key_of
from planbook.pipeline.inputs import files_digest
from planbook.pipeline.records import Built
from planbook.pipeline.wanted import Wanted
from planbook.text import Aside, Finding, Place, Severity, Source, for_people, plain
from planbook.text.stored import restored_findings, restored_sources, stored_findings, stored_sources

STARTER = Path(__file__).parents[2] / "planbook" / "cli" / "starter"
FINDING = Finding(
    "FLO02",
    "piece-already-used",
    Severity.WARNING,
    "step 2 takes `a\u202eb`",
    Place("box/steps.md", 2, 5, 5),
    "gone",
    (Aside(Place("box/design.toml", 1, 1, 3), "made here"),),
    ("one", "two"),
    "take another",
)
SOURCES = {name: Source(name, f"one\ntwo wörds {name}\n") for name in ("box/steps.md", "box/design.toml")}
FILES = {"box-a4-mm.pdf": b"%PDF", "box-files/piece.stl": b"solid", "box-a4-mm.csv": b""}


@pytest.fixture
def design(tmp_path: Path) -> Path:
    folder = tmp_path / "box"
    shutil.copytree(STARTER, folder, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return folder


def kept(store: Folder, key: str, out: Path) -> Built:
    built = Built((FINDING,), SOURCES, tuple(out / name for name in FILES))
    keep(store, key, Finished((FINDING,), SOURCES, FILES))
    return built


def test_findings_come_back_as_they_were_shown() -> None:
    findings = restored_findings(stored_findings([FINDING]))
    sources = restored_sources(stored_sources(SOURCES))
    assert findings == (FINDING,)
    assert plain(for_people(findings[0], sources)) == plain(for_people(FINDING, SOURCES))
    assert "wörds" in plain(for_people(findings[0], sources))


def test_what_is_kept_is_found_with_its_files(tmp_path: Path) -> None:
    store, out = Folder(tmp_path / "cache"), tmp_path / "out"
    assert find(store, "k", out) is None
    built = kept(store, "k", out)
    found = find(store, "k", out)
    assert found is not None
    assert (found.findings, dict(found.sources), found.files) == (built.findings, SOURCES, built.files)
    assert {name: (out / name).read_bytes() for name in FILES} == FILES


def test_a_file_that_is_there_is_left_alone_and_another_one_is_mended(tmp_path: Path) -> None:
    store, out = Folder(tmp_path / "cache"), tmp_path / "out"
    kept(store, "k", out)
    find(store, "k", out)
    booklet, lists = out / "box-a4-mm.pdf", out / "box-a4-mm.csv"
    os.utime(booklet, (1, 1))
    lists.write_bytes(b"somebody's own")
    find(store, "k", out)
    assert booklet.stat().st_mtime == 1
    assert lists.read_bytes() == b""


@pytest.mark.parametrize("broken", [b"", b"x", None])
def test_a_broken_entry_counts_as_missing_and_writes_nothing(tmp_path: Path, broken: bytes | None) -> None:
    for number in range(len(FILES) + 1):
        store, out = Folder(tmp_path / f"cache{number}"), tmp_path / f"out{number}"
        kept(store, "k", out)
        digests = [f"file {sha256(data).hexdigest()}" for data in FILES.values()]
        path = store._path(("k", *digests)[number])
        path.write_bytes(path.read_bytes()[:-1] if broken is None else broken)
        assert find(store, "k", out) is None
        assert not out.exists()


@pytest.mark.parametrize("text", [b"[]", b"{}", b'{"findings": [{}], "sources": {}, "files": []}', b"\xff"])
def test_an_entry_of_another_form_counts_as_missing(tmp_path: Path, text: bytes) -> None:
    store = Folder(tmp_path / "cache")
    store.put("k", text)
    assert find(store, "k", tmp_path / "out") is None


def test_nothing_is_kept_without_a_key(tmp_path: Path) -> None:
    store = Folder(tmp_path / "cache")
    keep(store, None, Finished((), {}, FILES))
    assert not store.folder.exists()
    keep(Forgetful(), "k", Finished((), {}, FILES))
    assert find(Forgetful(), "k", tmp_path) is None


def test_the_key_covers_everything_that_is_asked(design: Path, tmp_path: Path) -> None:
    (rack := tmp_path / "rack.csv").write_text("name\n")
    (prices := tmp_path / "prices.csv").write_text("name\n")
    plain_order = Order(design, Wanted())
    orders = [
        plain_order,
        replace(plain_order, choice="pale"),
        replace(plain_order, prices=prices),
        replace(plain_order, rack=rack),
        replace(plain_order, nominal=True),
        *(
            replace(plain_order, wanted=wanted)
            for wanted in (
                Wanted(paper="a3"),
                Wanted(units="both"),
                Wanted(language="de"),
                Wanted(ink="black"),
                Wanted(layout="shop"),
                Wanted(stencils_on="roll"),
                Wanted(draft=True),
                Wanted(correction=Correction(99.0, 100.0)),
                Wanted(tool_files=True),
                Wanted(archive=True),
                Wanted(work_a_day=60),
                Edition("a4", "mm"),
                Edition("a4", "mm", work_a_day=60),
            )
        ),
    ]
    keys = [key_of(order) for order in orders]
    assert None not in keys
    assert len(set(keys)) == len(orders)
    assert key_of(plain_order) == keys[0]
    rack.write_text("other\n")
    assert key_of(orders[3]) != keys[3]
    assert key_of(Order(design, lambda card: Edition())) is None


@pytest.mark.parametrize("name", ["design.toml", "steps.md", "new.svg", "sub/photo.jpg", "handbook.toml", "rows.csv"])
def test_the_key_covers_every_file_of_the_design(design: Path, name: str) -> None:
    before = key_of(Order(design, Wanted()))
    path = design / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes((path.read_bytes() if path.exists() else b"") + b" ")
    after = key_of(Order(design, Wanted()))
    assert after != before
    path.unlink()
    assert key_of(Order(design, Wanted())) != after


def test_what_a_build_wrote_itself_does_not_count(design: Path) -> None:
    before = key_of(Order(design, Wanted()))
    for name in ("box-a4-mm.pdf", "box-by-the-fire-letter-in-decimal-de-shop-archive.pdf", "box-a4-mm.json"):
        (design / name).touch()
    for folder in ("box-files", "box-pale-files", "box-offer"):
        (design / folder).mkdir()
        (design / folder / "stencil-1.svg").touch()
    assert key_of(Order(design, Wanted())) == before
    (design / "boxes-a4-mm.pdf").touch()
    assert key_of(Order(design, Wanted())) != before


def test_names_links_and_odd_files_count_without_being_followed(design: Path, tmp_path: Path) -> None:
    (outside := tmp_path / "outside.svg").write_text("one")
    seen = {files_digest(design)}
    (design / "a.svg").symlink_to(outside)
    seen.add(files_digest(design))
    outside.unlink()
    seen.add(files_digest(design))
    (design / "a.svg").unlink()
    (design / "loop").symlink_to(design)
    seen.add(files_digest(design))
    os.mkfifo(design / "pipe.svg")
    seen.add(files_digest(design))
    assert len(seen) == 5


def test_a_folder_that_is_too_large_has_no_key(design: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(inputs, "MOST_BYTES", 100)
    assert key_of(Order(design, Wanted())) is None


def test_a_layout_of_ones_own_counts_with_its_files(design: Path, tmp_path: Path) -> None:
    layout = tmp_path / "mine"
    layout.mkdir()
    (layout / "style.css").write_text("a")
    order = Order(design, Wanted(layout=str(layout)))
    before = key_of(order)
    (layout / "style.css").write_text("b")
    assert key_of(order) != before


def test_the_key_covers_fonts_and_settings_of_the_machine(
    design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fonts = tmp_path / "fonts" / "sub"
    fonts.mkdir(parents=True)
    monkeypatch.setattr(machine, "FONTS", (str(tmp_path / "fonts"),))
    monkeypatch.setattr(machine, "LIBRARIES", (str(tmp_path / "cache.so"),))

    def key() -> str | None:
        machine.surroundings.cache_clear()
        return key_of(Order(design, Wanted()))

    keys = [key()]
    (fonts / "Serif.ttf").touch()
    keys.append(key())
    (tmp_path / "cache.so").touch()
    keys.append(key())
    monkeypatch.setenv("LANG", "xx_YY")
    keys.append(key())
    machine.surroundings.cache_clear()
    assert len(set(keys)) == 4


def test_a_second_build_finds_the_first_and_is_the_same(
    design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with (design / "design.toml").open("a") as file:
        file.write('\n[tools.rasp]\nkind = "other"\n')
    store = Folder(tmp_path / "cache")
    first = building.build(design, Wanted(), tmp_path / "one", cache=store)
    assert first.findings
    assert len(first.files) == 3
    monkeypatch.setattr(building, "check", lambda *_, **__: pytest.fail("nothing changed"))
    second = building.build(design, Wanted(), tmp_path / "two", cache=store)
    assert second.findings == first.findings
    assert dict(second.sources) == dict(first.sources)
    assert [path.name for path in second.files] == [path.name for path in first.files]
    assert [path.read_bytes() for path in second.files] == [path.read_bytes() for path in first.files]
    assert plain(for_people(second.findings[0], second.sources)) == plain(for_people(first.findings[0], first.sources))
    monkeypatch.setattr(caching, "program", lambda: "another version")
    with pytest.raises(pytest.fail.Exception):
        building.build(design, Wanted(), tmp_path / "two", cache=store)


def test_a_design_that_changes_during_its_build_is_not_kept(
    design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def changed(*_: object) -> object:
        (design / "steps.md").write_text("another")
        return iter([Finished((), {}, {"box.pdf": b"of the older text"})])

    monkeypatch.setattr(building, "_afresh", changed)
    store = Folder(tmp_path / "cache")
    before = key_of(Order(design, Wanted()))
    building.build(design, Wanted(), tmp_path, cache=store)
    assert store.get(str(before)) is None
    assert store.get(str(key_of(Order(design, Wanted())))) is None
