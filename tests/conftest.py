"""Fixtures for all tests: the reader of expectations in cases."""

import gc
import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import HealthCheck, settings

# How busy a machine is tells nothing about the code.
settings.register_profile("planbook", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("planbook")

CASES = Path(__file__).parent / "cases"


@pytest.fixture(autouse=True)
def nothing_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reads or fills the cache of the person who runs it."""
    monkeypatch.setenv("PLANBOOK_CACHE", "none")


def _load() -> ModuleType:
    name = "planbook_case_expectations"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, CASES / "expectations.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]


@pytest.fixture(scope="session")
def expectations() -> ModuleType:
    """The module tests/cases/expectations.py: `case_folders`, `expected_findings`, `found_findings`."""
    return _load()


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test with the argument `case_folder` runs for every case below the folder of its mark `cases`."""
    if "case_folder" in metafunc.fixturenames:
        (folder,) = metafunc.definition.get_closest_marker("cases").args
        root = CASES / folder
        found = _load().case_folders(root)
        metafunc.parametrize("case_folder", found, ids=[path.relative_to(root).as_posix() for path in found])


def pytest_configure(config: pytest.Config) -> None:
    """Declare the mark that names a folder of cases."""
    config.addinivalue_line("markers", "cases(folder): run the test for every case below tests/cases/FOLDER")


def pytest_unconfigure() -> None:
    """Let go of what the tests made: a function that hypothesis leaves with the collector would keep their solids."""
    gc.callbacks.clear()
