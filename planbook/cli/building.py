"""`planbook build` for one design or many: what is kept is found here, the rest is built here or by other processes."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planbook.cli.designs import build_one
from planbook.cli.progress import counting
from planbook.cli.refusal import Refusal, fault_words
from planbook.cli.showing import Report
from planbook.machine import processors

if TYPE_CHECKING:
    from planbook.pipeline import Built
    from planbook.pipeline.wanted import Wanted

REFUSED, FAULT = 2, 3


@dataclass(frozen=True, slots=True)
class Options:
    """What is asked of every design."""

    editions: "tuple[Wanted, ...]"
    out: Path
    choice: str | None = None
    prices: Path | None = None
    rack: Path | None = None
    nominal: bool = False


@dataclass(frozen=True, slots=True)
class _Task:
    folder: Path
    options: Options
    quiet: bool = True
    processes: int = 1

    def done(self) -> "Built":
        asked = self.options
        return build_one(
            self.folder,
            asked.editions,
            asked.out,
            self.quiet,
            choice=asked.choice,
            prices=asked.prices,
            rack=asked.rack,
            nominal=asked.nominal,
            processes=self.processes,
        )


def build_each(
    folders: Sequence[Path], options: Options, report: Report, jobs: int | None = None, scheduler: str | None = None
) -> int:
    """Build designs, show what was found in the order given, and return the exit status. Raises Refusal.

    A single design is built in this process, with the help of another one. Of several, none stops the others.
    """
    if len(folders) == 1 and scheduler is None:
        (folder,) = folders
        built = _Task(folder, options, report.quiet, jobs or min(2, processors())).done()
        report.add(folder, built.findings, built.sources, built.files)
        return report.end()
    shown = _Shown(folders, report)
    for number, result in _results(folders, options, jobs or 1, scheduler, report.quiet):
        shown.take(number, result)
    return shown.end()


def _results(
    folders: Sequence[Path], options: Options, jobs: int, scheduler: str | None, quiet: bool
) -> "Iterator[tuple[int, Built | Exception]]":
    if jobs == 1 and scheduler is None:
        for number, folder in enumerate(folders):
            yield number, _attempt(_Task(folder, options, quiet))
        return
    left: list[int] = []
    for number, folder in enumerate(folders):
        found = _kept(folder, options)
        if found is None:
            left.append(number)
        else:
            yield number, found
    tasks = [_Task(folders[number], options) for number in left]
    with counting(len(tasks), quiet) as (begun, done):
        for place, result in _elsewhere(tasks, jobs, scheduler, lambda place: begun(tasks[place].folder.name)):
            done(tasks[place].folder.name)
            yield left[place], result


def _elsewhere(
    tasks: Sequence[_Task], jobs: int, scheduler: str | None, begun: Callable[[int], None]
) -> "Iterator[tuple[int, Built | Exception]]":
    from planbook.many import each_done

    if scheduler is None:
        yield from each_done(_Task.done, tasks, jobs, begun)
        return
    from planbook.cluster import NoCluster, each_done_there

    try:
        yield from each_done_there(_Task.done, tasks, scheduler, begun)
    except NoCluster as problem:
        raise Refusal(str(problem)) from None


def _attempt(task: _Task) -> "Built | Exception":
    try:
        return task.done()
    except BrokenPipeError:
        raise
    except Exception as problem:
        return problem


def _kept(folder: Path, options: Options) -> "Built | None":
    """What is kept of the last time, if nothing changed; a fault in finding it is left to the build."""
    from planbook.cache import usual
    from planbook.pipeline.building import kept_of
    from planbook.pipeline.finished import Order

    asked = options
    orders = [
        Order(folder, edition, asked.choice, asked.prices, asked.rack, asked.nominal) for edition in asked.editions
    ]
    try:
        return kept_of(orders, asked.out, usual())
    except OSError:
        return None


@dataclass
class _Shown:
    """Shows results in the order of the designs, each as soon as those before it are there."""

    folders: Sequence[Path]
    report: Report
    results: "dict[int, Built | Exception]" = field(default_factory=dict)
    told: list[str] = field(default_factory=list)
    status: int = 0

    def take(self, number: int, result: "Built | Exception") -> None:
        self.results[number] = result
        while len(self.told) in self.results:
            number = len(self.told)
            self.told.append(self._show(self.folders[number], self.results[number]))

    def end(self) -> int:
        """Print the summary and return the exit status."""
        status = max(self.status, self.report.end())
        if not self.report.quiet:
            for folder, words in zip(self.folders, self.told, strict=True):
                click.echo(f"{folder}: {words}", err=True)
        return status

    def _show(self, folder: Path, result: "Built | Exception") -> str:
        if not isinstance(result, Exception):
            self.report.add(folder, result.findings, result.sources, result.files)
            return "built" if result.files else "not built: a finding stops it"
        refused = isinstance(result, Refusal)
        self.status = max(self.status, REFUSED if refused else FAULT)
        words = _words(result).removeprefix(f"{folder}: ")
        click.echo(f"planbook: {folder}: {words}", err=True)
        return f"not built: {words}"


def _words(problem: Exception) -> str:
    from planbook.many import Crashed

    if isinstance(problem, Refusal):
        return problem.format_message()
    return str(problem) if isinstance(problem, Crashed) else fault_words(problem)
