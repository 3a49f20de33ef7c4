"""`planbook build` of several designs: none stops the others, and what is told comes in the order asked for."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from planbook.booklet import LayoutProblem
from planbook.cli import building
from planbook.many import Crashed
from planbook.pipeline import Built

STARTER = Path(__file__).parents[2] / "planbook" / "cli" / "starter"


@pytest.fixture
def folders(tmp_path):
    found = [tmp_path / name for name in ("ash", "beech", "cherry")]
    for folder in found:
        folder.mkdir()
        (folder / "design.toml").touch()
    return found


def outcomes(monkeypatch, results, order):
    """What other processes come back with, in an order of their own."""

    def elsewhere(tasks, jobs, scheduler, begun):
        for number in order:
            begun(number)
            yield number, results[tasks[number].folder.name]

    monkeypatch.setattr(building, "_elsewhere", elsewhere)


def test_a_design_that_cannot_be_built_does_not_stop_the_others(command, pipeline, folders, monkeypatch):
    build = pipeline.build

    def sometimes(folder, *args, **options):
        pipeline.raises = LayoutProblem("odd", "book.html", 3) if folder.name == "beech" else None
        return build(folder, *args, **options)

    monkeypatch.setattr(sys.modules["planbook.pipeline"], "build", sometimes)
    ran = command("build", *folders)
    assert [asked[1] for asked in pipeline.asked] == folders
    assert ran.status == 2
    assert [line for line in ran.out.splitlines() if "mend" in line] == [
        f"{folders[0]}: nothing to mend",
        f"{folders[2]}: nothing to mend",
    ]
    problem = LayoutProblem("odd", "book.html", 3)
    assert ran.err.splitlines() == [
        f"planbook: {folders[1]}: {problem}",
        f"{folders[0]}: built",
        f"{folders[1]}: not built: {problem}",
        f"{folders[2]}: built",
    ]


def test_results_are_told_in_the_order_of_the_designs(command, pipeline, folders, monkeypatch):
    pipeline.error()
    stopped = Built(tuple(pipeline.findings), {})
    results = {"ash": Built((), {}, (Path("ash.pdf"),)), "beech": Crashed(), "cherry": stopped}
    for order in ((2, 0, 1), (1, 2, 0)):
        outcomes(monkeypatch, results, order)
        ran = command("build", "--jobs", "2", *folders)
        assert ran.status == 3
        assert ran.out.index("ash.pdf") < ran.out.index("FLO02")
        assert [line.split(": ", 1)[1] for line in ran.err.splitlines()[-3:]] == [
            "built",
            "not built: the process at work on it came to a sudden end (killed, or out of memory)",
            "not built: a finding stops it",
        ]


def test_a_fault_with_one_design_is_told_and_the_others_are_built(command, pipeline, folders, monkeypatch):
    built = Built((), {}, (Path("some.pdf"),))
    outcomes(monkeypatch, {"ash": ZeroDivisionError("by none"), "beech": built, "cherry": built}, (0, 1, 2))
    ran = command("build", "-j", "3", *folders)
    assert ran.status == 3
    assert "planbook has a fault, which is not one of your design (ZeroDivisionError: by none)" in ran.err
    assert ran.out.count("wrote some.pdf") == 2


def test_quiet_has_no_summary(command, pipeline, folders):
    ran = command("build", "-q", *folders)
    assert (ran.status, ran.out, ran.err) == (0, "", "")


@pytest.mark.parametrize("jobs", ["0", "-1", "many", "1000"])
def test_a_number_of_processes_that_is_none_is_refused(command, pipeline, design, jobs):
    assert command("build", "--jobs", jobs, design).status == 2
    assert pipeline.asked == []


def _run(tmp_path, name, designs, *options):
    environment = {**os.environ, "PLANBOOK_CACHE": str(tmp_path / f"cache-{name}")}
    command = [sys.executable, "-m", "planbook.cli", "build", *designs, "--out", str(tmp_path / name), *options]
    done = subprocess.run(command, env=environment, cwd=tmp_path, capture_output=True, text=True, timeout=600)
    texts = [text.replace(str(tmp_path / name), "OUT") for text in (done.stdout, done.stderr)]
    return done.returncode, *texts, {path.name: path.read_bytes() for path in (tmp_path / name).iterdir()}


@pytest.mark.slow
def test_two_processes_write_and_say_the_same_as_one(tmp_path):
    designs = ["one", "two", "three"]
    for name in designs:
        shutil.copytree(STARTER, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    steps = tmp_path / "two" / "steps.md"
    steps.write_text(steps.read_text("utf-8").replace("```saw", "```sow"), "utf-8")
    with (tmp_path / "three" / "design.toml").open("a") as file:
        file.write('\n[tools.rasp]\nkind = "other"\n')
    alone = _run(tmp_path, "alone", designs)
    assert alone[0] == 1
    assert sorted(alone[3]) == sorted(
        f"{name}-a4-mm.{kind}" for name in ("one", "three") for kind in ("pdf", "csv", "json")
    )
    assert _run(tmp_path, "apart", designs, "--jobs", "2") == alone
    assert _run(tmp_path, "apart", designs, "--jobs", "2") == alone, "found again"


def test_a_cluster_that_is_not_there_is_refused(command, pipeline, design, monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    ran = command("build", design, "--scheduler", "tcp://127.0.0.1:1")
    assert (ran.status, ran.out) == (2, "")
    assert "pip install 'planbook[cluster]'" in ran.err
