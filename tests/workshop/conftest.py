"""What several of the workshop's tests build: designs read from two texts, and blocks carried out one by one."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from planbook.model import Design
from planbook.reader import read_design
from planbook.workshop import Event, Timeline
from planbook.workshop.run import build

HEAD = 'title = "Test"\nversion = "1"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
BOARDS = Path(__file__).with_name("boards.toml").read_text("utf-8")
"""Two boards of 100 by 20 by 60 mm, one behind the other, and a stencil for the front."""
JOINTS = Path(__file__).with_name("joints.toml").read_text("utf-8")
"""A rail, a post at its right end, and a thin pattern behind them."""
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


Run = Callable[..., Timeline]


def running(design: str, *first: str) -> object:
    """A fixture: builds a design with the blocks it is given, after those that come first, one step each."""

    @pytest.fixture
    def run(tmp_path: Path) -> Run:
        def build_blocks(*blocks: str) -> Timeline:
            (tmp_path / "design.toml").write_text(design, "utf-8")
            steps = (f"## Step {n}\n\nDo it.\n\n{block}\n" for n, block in enumerate((*first, *blocks), 1))
            (tmp_path / "steps.md").write_text("\n".join(steps), "utf-8")
            reading = read_design(tmp_path)
            assert reading.design is not None, reading.findings
            return build(reading.design)

        return build_blocks

    return run


def block(kind: str, body: str) -> str:
    return f"```{kind}\n{body}\n```\n"


MILL = block("mill", 'boards = ["maple"]')
MILL_ALL = block("mill", 'boards = ["rail", "post", "pattern"]')
STICK = block("stick", 'piece = "maple"\nstencil = "round"')


def clean(timeline: Timeline) -> tuple[Event, ...]:
    """The events of a build without troubles."""
    assert timeline.troubles == ()
    return timeline.events


def worked(timeline: Timeline) -> tuple[Event, ...]:
    """The events after the milling, each of which is shown and takes its time."""
    events = clean(timeline)
    assert all(event.show and event.show.pieces for event in events)
    assert all(event.hands_on > 0 for event in events)
    return events[1:]


def made(event: Event) -> dict[str, float]:
    return {piece.name: piece.solid.volume for piece in event.made}


def lost(event: Event) -> float:
    return sum(loss.volume for loss in event.lost)


def disc(radius: float) -> float:
    """The area of a round hole as it is cut: a polygon whose chords stay within 0.02 mm of the circle."""
    turn = min(math.pi / 8, 2 * math.acos(1 - 0.02 / radius))
    corners = 4 * math.ceil(math.pi / 2 / turn)
    return corners / 2 * radius**2 * math.sin(2 * math.pi / corners)
