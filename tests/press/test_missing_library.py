import gc
import logging
import sys
import warnings
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from types import ModuleType

import pytest

from planbook.booklet import Edition
from planbook.press import MissingLibrary, press
from planbook.press.complaints import FASTER, advice_in, heard


class Unloadable(MetaPathFinder, Loader):
    """Stands in for the printer on a machine where a system library cannot be opened."""

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        return ModuleSpec(name, self) if name == "weasyprint" else None

    def create_module(self, spec: ModuleSpec) -> None:
        return None

    def exec_module(self, module: ModuleType) -> None:
        print("could not import some external libraries")
        warnings.warn("a library will be needed", DeprecationWarning, stacklevel=1)
        raise OSError("cannot load library 'libpango-1.0-0': cannot open shared object file\nAdditionally, ...")


@pytest.fixture
def without_pango(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in [name for name in sys.modules if name == "weasyprint" or name.startswith("weasyprint.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setattr(sys, "meta_path", [Unloadable(), *sys.meta_path])


@pytest.mark.usefixtures("without_pango")
def test_a_missing_library_is_told_with_the_package_to_install(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(MissingLibrary) as caught:
        press("<p>hello", Edition().paper_row)
    message = str(caught.value)
    for words in (
        "Debian, Ubuntu: sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
        "Fedora: sudo dnf install pango",
        "macOS: brew install pango",
        "Windows: in MSYS2: pacman -S mingw-w64-ucrt-x86_64-pango",
        "libpango-1.0-0': cannot open shared object file",
    ):
        assert words in message
    assert "Traceback" not in message
    assert "Additionally" not in message
    assert caught.value.__cause__ is None
    assert capsys.readouterr() == ("", "")


def test_what_the_printer_logs_is_kept_and_not_printed(capsys: pytest.CaptureFixture[str]) -> None:
    found = press("<!DOCTYPE html><html lang=en><style>p { colr: red }</style><p>hello", Edition().paper_row)
    assert any("colr" in complaint for complaint in found.complaints)
    assert capsys.readouterr() == ("", "")


def test_a_slow_way_of_embedding_fonts_is_advice_not_a_complaint() -> None:
    said = ['Using fontTools instead of HarfBuzz-Subset for font "Source Sans Pro".', "odd", "odd"]
    assert advice_in(said) == (("odd",), (FASTER,))
    assert advice_in(["odd"]) == (("odd",), ())


def test_loggers_are_put_back_as_they_were() -> None:
    logger = logging.getLogger("saltmarsh")
    logger.handlers = [before := logging.NullHandler()]
    with heard("saltmarsh") as said:
        logger.warning("a  long\nline %s", "x" * 400)
    assert said == [("a long line " + "x" * 400)[:300] + "…"]
    assert logger.handlers == [before]
    assert logger.propagate


@pytest.mark.parametrize("collecting", [True, False])
def test_garbage_collection_is_left_as_it_was(collecting: bool) -> None:
    before = gc.isenabled()
    (gc.enable if collecting else gc.disable)()
    try:
        press("<!DOCTYPE html><html lang=en><title>t</title><p>hello", Edition().paper_row)
        assert gc.isenabled() == collecting
    finally:
        (gc.enable if before else gc.disable)()
