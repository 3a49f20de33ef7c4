"""The sample booklet, set once on each paper for the tests of this folder."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from planbook.booklet import Edition, compose
from planbook.press import Pressed, press

SAMPLE = Path(__file__).parent.parent / "booklet" / "boat_tray.py"


@pytest.fixture(scope="session")
def tray() -> ModuleType:
    spec = importlib.util.spec_from_file_location("boat_tray_pressed", SAMPLE)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def search() -> ModuleType:
    """The module tests/press/outline_search.py."""
    spec = importlib.util.spec_from_file_location("outline_search", Path(__file__).parent / "outline_search.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session", params=["letter", "a4"])
def edition(request: pytest.FixtureRequest) -> Edition:
    return Edition(request.param)


@pytest.fixture(scope="session")
def pressed(tray: ModuleType, edition: Edition) -> Pressed:
    return press(compose(tray.boat_tray(edition)), edition.paper_row)
