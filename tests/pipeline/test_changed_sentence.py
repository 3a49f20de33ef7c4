"""A booklet of which one sentence was changed: what is kept of the rest gives the same bytes as a cold build."""

import shutil
from pathlib import Path

import pytest

from planbook.cache import Folder
from planbook.drawing import portraits, stencil_pages
from planbook.drawing import steps as step_drawing
from planbook.pipeline import build
from planbook.pipeline.wanted import Wanted
from planbook.workshop import kept

STARTER = Path(__file__).parents[2] / "planbook" / "cli" / "starter"


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.slow
def test_it_is_the_same_as_a_cold_build_and_nothing_is_drawn_or_proved_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    design, store = tmp_path / "box", Folder(tmp_path / "cache")
    shutil.copytree(STARTER, design, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    build(design, Wanted(), tmp_path / "before", cache=store)
    steps = (design / "steps.md").read_text("utf-8")
    heading = next(line for line in steps.split("\n") if line.startswith("## "))
    (design / "steps.md").write_text(steps.replace(heading, f"{heading}\n\nOne more sentence.", 1), "utf-8")
    cold = build(design, Wanted(), tmp_path / "cold")
    for module, name in (
        (stencil_pages, "stencil_pages"),
        (portraits, "piece_picture"),
        (portraits, "cover_picture"),
        (step_drawing, "step_picture"),
        (kept, "prove"),
    ):
        monkeypatch.setattr(module, name, lambda *_, name=name, **__: pytest.fail(f"{name} was asked again"))
    warm = build(design, Wanted(), tmp_path / "warm", cache=store)
    assert warm.findings == cold.findings
    assert contents(tmp_path / "warm") == contents(tmp_path / "cold")
    assert contents(tmp_path / "warm") != contents(tmp_path / "before")
