"""A layout that does not come with the program is printed in a process of its own, which is stopped if it takes too much."""

import shutil
from pathlib import Path

import pytest

from planbook.booklet import LayoutProblem
from planbook.pipeline import build, pressing
from planbook.pipeline.wanted import Wanted

ROOT = Path(__file__).parents[2]
STARTER = ROOT / "planbook" / "cli" / "starter"


@pytest.fixture
def design(tmp_path: Path) -> Path:
    shutil.copytree(STARTER, tmp_path / "box", ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    return tmp_path / "box"


@pytest.fixture
def layout(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "layouts" / "booklet", tmp_path / "mine")
    return tmp_path / "mine"


def printed(design: Path, layout: str) -> bytes:
    built = build(design, Wanted("a4", "mm", layout=layout), design.parent / "out", nominal=True)
    (pdf,) = (path for path in built.files if path.suffix == ".pdf")
    return pdf.read_bytes()


@pytest.mark.slow
def test_a_sound_layout_prints_the_same_bytes_there(design: Path, layout: Path) -> None:
    assert printed(design, str(layout)) == printed(design, "booklet")


def test_a_layout_that_runs_on_is_stopped(design: Path, layout: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pressing, "MOST_SECONDS", 0.2)
    with (layout / "style.css").open("a") as style:
        style.write("\n@page { size: 4mm 4mm; margin: 0 }\n")
    with pytest.raises(LayoutProblem, match="takes more than"):
        printed(design, str(layout))
    assert not (design.parent / "out").exists()


def test_our_own_layouts_need_no_other_process(design: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pressing, "MOST_SECONDS", 0.0)
    assert printed(design, "booklet").startswith(b"%PDF-")
