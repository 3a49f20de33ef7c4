"""The sample booklet, shared by the tests of this folder."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def boat_tray() -> ModuleType:
    spec = importlib.util.spec_from_file_location("boat_tray", Path(__file__).with_name("boat_tray.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
