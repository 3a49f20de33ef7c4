"""Checkers of PDF standards that are not ours, the invented booklet, and what every page of a PDF is tagged as."""

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import page as checker
import pytest

HERE = Path(__file__).parent
Faults = Callable[..., list[str]]


def _module(path: Path, name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def tray() -> ModuleType:
    return _module(HERE.parent / "booklet" / "boat_tray.py", "boat_tray_conforming")


@pytest.fixture(scope="session")
def tags() -> ModuleType:
    """The module tests/conformance/tag_tree.py."""
    return _module(HERE / "tag_tree.py", "tag_tree")


@pytest.fixture(scope="session")
def ink() -> ModuleType:
    """The module tests/conformance/ink.py."""
    return _module(HERE / "ink.py", "ink_outside")


@pytest.fixture(scope="session")
def faults() -> Faults:
    """What an independent checker, page-validation, finds in a PDF.

    It has 104 rules of PDF/UA-1 (`ua1`, after the Matterhorn Protocol of the PDF Association) and 148 of PDF/A-3u
    (`3u`, ISO 19005-3).
    """

    def found(pdf: bytes, profile: str = "ua1") -> list[str]:
        report = checker.validate_pdf_bytes(pdf, profile=profile)
        assert report.rules.total > 100
        return [f"{failure.rule_id}: {failure.message}" for failure in report.failures]

    return found
