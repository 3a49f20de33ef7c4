"""Small releases made by hand, so that the archive is tested without building anything."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from planbook.archive import Archive
from planbook.archive.facts import (
    Did,
    Facts,
    FitFact,
    LumberFact,
    Measure,
    PieceFact,
    StencilFact,
    StepFact,
    facts_json,
)
from planbook.archive.manifest import About, Made, Manifest

BOX = Facts(
    title="Tern box",
    units="mm",
    words={"title": "Tern box", "licence": "Build as many as you like."},
    sizes={"wall": Measure(6.0, "length"), "slope": Measure(10.0, "angle")},
    pieces={
        "box": PieceFact((150.0, 60.0, 45.0), 200_000.0, ("black cherry",), "part"),
        "lid": PieceFact((150.0, 60.0, 8.0), 70_000.0, ("sugar maple",), "part"),
        "jig": PieceFact((80.0, 40.0, 12.0), 38_000.0, ("birch plywood",), "kept"),
    },
    steps=(
        StepFact("Mill the board", "a1", (Did("mill", ("board",), ("board",), (), {}),)),
        StepFact(
            "Saw the outline",
            "b1",
            (Did("saw", ("board",), ("box", "waste"), ("band saw",), {"leave": (Measure(0.5, "length"),)}),),
        ),
        StepFact("Oil the box", "c1", (Did("finish", ("box",), ("box",), ("oil",), {"bare": "the inside"}),)),
    ),
    stencils={
        "Outline": StencilFact(1, (150.0, 60.0), "aa", "aw"),
        "Lid": StencilFact(2, (150.0, 60.0), "bb", "bw"),
    },
    lumber={"board": LumberFact("black cherry", (170.0, 70.0, 50.8), 1)},
    fits={"lid slides": FitFact("slide", 0.2, None, 0.25, 0.6)},
    tools=("band saw",),
    supplies={"oil": "50 ml"},
)
MADE = Made("0.1.0", "0" * 64, "3.11", {"numpy": "2.0"}, ("planbook build tern-box",))


@pytest.fixture
def archive(tmp_path: Path) -> Archive:
    return Archive(tmp_path / "archive")


@pytest.fixture
def box() -> Facts:
    return BOX


@pytest.fixture
def made() -> Callable[..., tuple[Manifest, dict[str, bytes]]]:
    """A manifest and its files; what is in `about` is changed."""

    def make(
        design: str = "tern-box", version: str = "1.0", facts: Facts = BOX, text: str = "", **about: Any
    ) -> tuple[Manifest, dict[str, bytes]]:
        told = About(
            facts.title,
            "A box with a lid.",
            "Saltmarsh Workshop",
            "mm",
            "You have sawn curves.",
            "Build as many as you like.",
            "",
            ("black cherry", "sugar maple"),
            tuple(facts.pieces),
            tuple(step.title for step in facts.steps),
            tuple(facts.stencils),
            facts.tools,
            tuple(facts.supplies),
        )
        manifest = Manifest(design, version, "2026-03-01T10:00:00Z", replace(told, **about), MADE, ())
        files = {
            f"source/{design}/design.toml": f'version = "{version}"\n{text}'.encode(),
            f"booklets/{design}-a4-mm.pdf": b"%PDF a4 " + version.encode(),
            f"booklets/{design}-letter-in.pdf": b"%PDF letter " + version.encode(),
            "stencils/outline.svg": b"<svg/>",
            "facts.json": facts_json(facts),
        }
        return manifest, files

    return make


@pytest.fixture
def add(archive: Archive, made: Any) -> Callable[..., bool]:
    """Add a release made by hand to the archive."""
    return lambda *args, **named: archive.add(*made(*args, **named))
