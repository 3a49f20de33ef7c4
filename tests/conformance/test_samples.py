"""The sample designs as they are sold: each edition passes the checker, and keeps its margins."""

from pathlib import Path
from types import ModuleType

import pytest

from planbook.pipeline import build_all
from planbook.pipeline.finished import Order
from planbook.pipeline.wanted import Wanted

pytestmark = pytest.mark.slow
DESIGNS = Path(__file__).parents[2] / "designs"
EDITIONS = {
    "curlew-box": (Wanted("a4", "mm", "de", archive=True), Wanted("letter", "in", layout="shop", ink="black")),
    "dory-stool": (Wanted("a4", "mm", "de"), Wanted("tabloid", "in-decimal", "fr", layout="shop")),
    "heron-puzzle": (Wanted("letter", "in"), Wanted("a3", "mm", "es")),
    "pebble-box": (Wanted("a4", "both", "fr", archive=True), Wanted("letter", "in", "de", layout="shop")),
    "tide-shelf": (Wanted("letter", "in"), Wanted("a4", "mm", "es", "black", layout="shop")),
}
"""Each paper, unit, language, ink and layout in some of them."""


def test_every_sample_is_here() -> None:
    assert {path.parent.name for path in DESIGNS.glob("*/design.toml")} == set(EDITIONS)


@pytest.mark.parametrize("name", EDITIONS)
def test_editions_of_a_sample(name: str, tmp_path: Path, ink: ModuleType, faults) -> None:
    orders = [Order(DESIGNS / name, wanted, nominal=True) for wanted in EDITIONS[name]]
    built = build_all(orders, tmp_path)
    files = [path for path in built.files if path.suffix == ".pdf"]
    assert len(files) == sum(1 + wanted.archive for wanted in EDITIONS[name])
    for path in files:
        pdf, archive = path.read_bytes(), path.stem.endswith("archive")
        assert faults(pdf, "3u" if archive else "ua1") == [], path.name
        assert ink.outside(pdf, cover="shop" not in path.stem) == [], path.name
