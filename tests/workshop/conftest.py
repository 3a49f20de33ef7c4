"""Fixtures of the workshop's tests: a design read from two texts, and one that several of them build."""

from collections.abc import Callable
from pathlib import Path

import pytest

from planbook.model import Design
from planbook.reader import read_design

HEAD = 'title = "Test"\nversion = "1"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
RING = Path(__file__).parents[1] / "cases" / "workshop" / "ring"


@pytest.fixture
def design_of(tmp_path: Path) -> Callable[[str, str], Design]:
    """The design that two texts say, of which nothing is to be found fault with; one without a card is given one."""

    def written(toml: str, steps: str) -> Design:
        (tmp_path / "design.toml").write_text(toml if toml.startswith("title") else HEAD + toml, "utf-8")
        (tmp_path / "steps.md").write_text(steps, "utf-8")
        reading = read_design(tmp_path)
        assert reading.findings == (), [finding.headline for finding in reading.findings]
        assert reading.design is not None
        return reading.design

    return written


@pytest.fixture(scope="session")
def ring() -> tuple[str, str]:
    """The two texts of a disc that is sawn out of a plate."""
    return tuple((RING / name).read_text("utf-8") for name in ("design.toml", "steps.md"))
