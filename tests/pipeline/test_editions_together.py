"""Several editions of one design: built and drawn once, and each the same as if it were built alone."""

import shutil
from pathlib import Path

import pytest

from planbook.booklet import Edition, LayoutProblem
from planbook.cache import Folder
from planbook.pipeline import build, build_all, building
from planbook.pipeline.building import kept_of
from planbook.pipeline.finished import Order
from planbook.pipeline.wanted import Wanted

ROOT = Path(__file__).parents[2]
WANTED = (Wanted(paper="a4", units="mm"), Wanted(paper="letter", units="in", language="de"))


@pytest.fixture
def design(tmp_path: Path) -> Path:
    starter = ROOT / "planbook" / "cli" / "starter"
    shutil.copytree(starter, tmp_path / "box", ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return tmp_path / "box"


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.slow
def test_two_editions_at_once_are_those_built_alone(
    design: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for wanted in WANTED:
        build(design, wanted, tmp_path / "alone")
    checks = []
    check = building.check
    monkeypatch.setattr(building, "check", lambda *each, **more: checks.append(each) or check(*each, **more))
    orders, store = [Order(design, wanted) for wanted in WANTED], Folder(tmp_path / "cache")
    assert kept_of(orders, tmp_path / "at once", store) is None
    built = build_all(orders, tmp_path / "at once", cache=store, processes=2)
    assert len(checks) == 1
    assert contents(tmp_path / "at once") == contents(tmp_path / "alone")
    assert len(built.files) == 6
    found = kept_of(orders, tmp_path / "again", store)
    assert found is not None
    assert (found.findings, [path.name for path in found.files]) == (built.findings, [p.name for p in built.files])
    assert contents(tmp_path / "again") == contents(tmp_path / "alone")


@pytest.mark.slow
def test_what_the_layout_does_wrong_comes_out_of_another_process(design: Path, tmp_path: Path) -> None:
    layout = tmp_path / "mine"
    shutil.copytree(ROOT / "layouts" / "booklet", layout)
    with (layout / "style.css").open("a") as file:
        file.write("\nbody { background: url(https://example.org/a.png) }\n")
    orders = [Order(design, Edition("a4", units, layout=layout)) for units in ("mm", "in")]
    with pytest.raises(LayoutProblem, match="asks for"):
        build_all(orders, tmp_path / "out", processes=2)
    assert not (tmp_path / "out").exists()
