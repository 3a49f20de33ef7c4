"""A design proved by a second process is the same booklet with the same findings, and no process is left behind."""

import multiprocessing
import shutil
from pathlib import Path

import pytest

from planbook.cache import Folder
from planbook.pipeline import build, building, check, proving
from planbook.pipeline.records import FORGETFUL
from planbook.pipeline.wanted import Wanted
from planbook.reader import read_design
from planbook.workshop import Timeline
from planbook.workshop.envelope import prove

ROOT = Path(__file__).parents[2]
WANTED = Wanted(paper="a4", units="mm")


@pytest.fixture
def design(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(proving, "WORTH", 1)
    starter = ROOT / "planbook" / "cli" / "starter"
    shutil.copytree(starter, tmp_path / "box", ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return tmp_path / "box"


def _files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def _never(*_: object) -> None:
    raise AssertionError("another process is begun")


@pytest.mark.slow
def test_two_processes_make_the_files_and_findings_of_one(design: Path, tmp_path: Path) -> None:
    one = build(design, WANTED, tmp_path / "one")
    two = build(design, WANTED, tmp_path / "two", processes=2)
    assert one.findings == two.findings
    assert _files(tmp_path / "one") == _files(tmp_path / "two")
    assert len(two.files) == 3
    assert not multiprocessing.active_children()


@pytest.mark.parametrize("name", ["dory-stool", "tide-shelf"])
def test_the_envelope_that_comes_back_is_the_one_proved_here(name: str) -> None:
    found = read_design(ROOT / "designs" / name).design
    assert found is not None
    seen: list[Timeline] = []
    there, here = proving.proved(found, FORGETFUL, seen.append), prove(found)
    assert there.envelope is not None
    assert there.envelope.proofs
    assert repr(there.envelope) == repr(here.envelope)
    assert [timeline.envelope for timeline in seen] == [None]


def test_one_process_begins_no_other(design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(multiprocessing, "get_context", _never)
    assert build(design, WANTED, tmp_path / "out", processes=1).files
    assert build(design, WANTED, tmp_path / "out", processes=2, nominal=True).files


def test_a_small_design_begins_no_other(design: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(multiprocessing, "get_context", _never)
    monkeypatch.setattr(proving, "WORTH", 1000)
    assert check(design, meanwhile=lambda _: None).timeline is not None


def test_a_process_that_is_killed_loses_nothing(design: Path) -> None:
    def kill(_: Timeline) -> None:
        (process,) = multiprocessing.active_children()
        process.kill()
        process.join()

    told = check(design, meanwhile=kill)
    assert told.timeline is not None
    assert told.timeline.envelope is not None
    assert told.findings == check(design).findings


def test_a_build_that_is_given_up_leaves_no_process(design: Path) -> None:
    def give_up(_: Timeline) -> None:
        assert multiprocessing.active_children()
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        check(design, meanwhile=give_up)
    assert not multiprocessing.active_children()


def test_what_cannot_be_built_is_not_waited_for(design: Path) -> None:
    steps = design / "steps.md"
    steps.write_text(steps.read_text("utf-8").replace('piece = "', 'piece = "no such ', 1), "utf-8")
    alone = check(design)
    told = check(design, meanwhile=_never)
    assert alone.stops
    assert told.findings == alone.findings
    assert not multiprocessing.active_children()


def test_an_envelope_that_is_kept_begins_no_other(
    design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    store = Folder(tmp_path / "cache")
    first = check(design, cache=store, meanwhile=lambda _: None)
    monkeypatch.setattr(multiprocessing, "get_context", _never)
    assert check(design, cache=store, meanwhile=_never).findings == first.findings


def test_a_fault_of_drawing_ahead_comes_in_its_turn(
    design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked, drawn = [], building.drawn

    def once_not(*all_of: object, **more: object) -> object:
        asked.append(1)
        if len(asked) == 1:
            raise ValueError
        return drawn(*all_of, **more)

    monkeypatch.setattr(building, "drawn", once_not)
    assert build(design, WANTED, tmp_path / "out", processes=2).files
    assert len(asked) == 2
