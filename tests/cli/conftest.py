"""Runs command lines in the test's own process, with a pipeline that finds what the test wants."""

import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

import planbook.pipeline
from planbook.cli.run import run
from planbook.text import Finding, Kind, Place, Severity, Source

ERROR = Kind("FLO02", "piece-already-used", Severity.ERROR, "A piece is used twice.", "It is gone.", "bad", "good")
WARNING = Kind("SUP04", "tool-never-used", Severity.WARNING, "A tool idles.", "It costs money.", "bad", "good")


@dataclass
class Ran:
    status: int
    out: str
    err: str


def holding(toml: str) -> object:
    """A fixture: the folder of a design that mills a panel and a rail, with this file for all else."""

    @pytest.fixture
    def folder(tmp_path: Path) -> Path:
        steps = '# Test\n\n## Mill\n\nMill both.\n\n```mill\nboards = ["panel", "rail"]\n```\n'
        (tmp_path / "design.toml").write_text(toml, "utf-8")
        (tmp_path / "steps.md").write_text(steps, "utf-8")
        return tmp_path

    return folder


@pytest.fixture
def command(capsys: pytest.CaptureFixture[str]) -> Callable[..., Ran]:
    def runs(*args: Any) -> Ran:
        status = run([str(arg) for arg in args])
        caught = capsys.readouterr()
        return Ran(status, caught.out, caught.err)

    return runs


@dataclass
class FakePipeline:
    """Stands in for planbook.pipeline: what it finds, and what it was asked."""

    findings: list[Finding] = field(default_factory=list)
    raises: BaseException | None = None
    asked: list[tuple[Any, ...]] = field(default_factory=list)
    prices: Path | None = None
    nominal: bool = False
    processes: int = 0

    def check(
        self,
        folder: Path,
        progress: Callable[[str], None],
        *,
        choice: str | None = None,
        nominal: bool = False,
    ) -> Any:
        self.asked.append(("check", folder) if choice is None else ("check", folder, choice))
        self.nominal = nominal
        progress("building")
        return self._result()

    def build(
        self,
        folder: Path,
        edition: Any,
        out: Path,
        progress: Callable[[str], None],
        *,
        cache: Any,
        choice: str | None,
        prices: Path | None,
        nominal: bool,
        rack: Path | None,
        processes: int,
    ) -> Any:
        self.asked.append(
            ("build", folder, edition, out) if choice is None else ("build", folder, edition, out, choice)
        )
        self.prices = prices
        self.nominal = nominal
        self.processes = processes
        return self._result(files=() if any(f.stops for f in self.findings) else (out / f"{folder.name}.pdf",))

    def build_all(self, orders: Any, out: Path, progress: Callable[[str], None], *, cache: Any, processes: int) -> Any:
        self.asked.append(("build all", [order.wanted for order in orders], out, processes))
        return self._result(files=(out / "several.pdf",))

    def all_kinds(self) -> tuple[Kind, ...]:
        return (ERROR, WARNING)

    def explain(self, code: str) -> Kind | None:
        return next((kind for kind in self.all_kinds() if code in (kind.code, kind.name)), None)

    def _result(self, files: tuple[Path, ...] = ()) -> Any:
        if self.raises is not None:
            raise self.raises
        found = ModuleType("result")
        sources = {"steps.md": Source("steps.md", "one\ntwo words\n")}
        found.__dict__.update(findings=tuple(self.findings), sources=sources, files=files)
        return found

    def error(self, headline: str = "step 9 takes `left cheek`") -> None:
        self.findings.append(ERROR.at(Place("steps.md", 2, 5, 5), headline, label="gone", hint="take another"))

    def warning(self) -> None:
        self.findings.append(WARNING.at(Place("steps.md", 1, 1, 3), "`rasp` is never used"))


@pytest.fixture
def pipeline(monkeypatch: pytest.MonkeyPatch) -> FakePipeline:
    fake = FakePipeline()
    module = ModuleType("planbook.pipeline")
    module.__path__ = list(planbook.pipeline.__path__)
    for name in ("check", "build", "build_all", "all_kinds", "explain"):
        setattr(module, name, getattr(fake, name))
    monkeypatch.setitem(sys.modules, "planbook.pipeline", module)
    return fake


@pytest.fixture
def design(tmp_path: Path) -> Path:
    folder = tmp_path / "box"
    folder.mkdir()
    (folder / "design.toml").touch()
    return folder
