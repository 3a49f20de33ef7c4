"""The same work on a real local cluster, of which a worker is killed meanwhile."""

import os
import shutil
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from planbook.cluster import NoCluster, each_done_there
from planbook.many import Crashed


def killed_once(task: tuple[int, str]) -> tuple[int, int]:
    """Runs on a worker. The first worker that takes the second task is killed with it; the next one does it."""
    number, folder = task
    mark = Path(folder) / "killed"
    if number == 1 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    if number == 2:
        raise ValueError("no third")
    return number, os.getpid()


def where(_: int) -> str:
    """The folder that the worker is in."""
    return os.getcwd()


def _free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


@pytest.fixture(scope="module")
def scheduler(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A scheduler and two workers without nannies, each a process of its own, as on a cluster."""
    folder, port = tmp_path_factory.mktemp("cluster"), _free_port()
    address = f"tcp://127.0.0.1:{port}"
    here = Path(__file__).parent
    paths = os.pathsep.join((str(here.parent), str(here), os.environ.get("PYTHONPATH", "")))
    environment = {**os.environ, "PYTHONPATH": paths, "PLANBOOK_CACHE": "none"}
    dask = (sys.executable, "-m", "distributed.cli.dask_scheduler")
    worker = (sys.executable, "-m", "distributed.cli.dask_worker")
    commands = [
        [*dask, "--host", "127.0.0.1", "--port", str(port), "--no-dashboard", "--no-show"],
        *([[*worker, address, "--no-nanny", "--nthreads", "1", "--no-dashboard", "--name", name] for name in "ab"]),
    ]
    running = []
    try:
        for command in commands:
            with (folder / f"log{len(running)}").open("w") as log:
                running.append(subprocess.Popen(command, stdout=log, stderr=log, env=environment, cwd=folder))
        yield address
    finally:
        for process in running:
            process.kill()
        for process in running:
            process.wait()


def _ready(address: str, workers: int) -> None:
    from distributed import Client

    with Client(address, timeout="60s", set_as_default=False) as client:
        client.wait_for_workers(workers, timeout=90)


@pytest.mark.slow
@pytest.mark.filterwarnings("default")
def test_a_worker_that_is_killed_loses_nothing(scheduler: str, tmp_path: Path) -> None:
    _ready(scheduler, 2)
    results = dict(each_done_there(killed_once, [(n, str(tmp_path)) for n in range(8)], scheduler))
    assert (tmp_path / "killed").exists()
    assert sorted(results) == list(range(8))
    assert [results[n][0] for n in range(8) if n != 2] == [0, 1, 3, 4, 5, 6, 7]
    assert (type(results[2]), str(results[2])) == (ValueError, "no third")
    assert os.getpid() not in {result[1] for result in results.values() if not isinstance(result, Exception)}


@pytest.mark.slow
@pytest.mark.filterwarnings("default")
def test_workers_work_in_the_folder_of_whoever_asked(scheduler: str) -> None:
    _ready(scheduler, 1)
    assert dict(each_done_there(where, [1, 2], scheduler)) == {0: os.getcwd(), 1: os.getcwd()}


@pytest.mark.slow
@pytest.mark.filterwarnings("default")
def test_a_scheduler_that_is_not_there_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("planbook.cluster.TIMEOUT", "2s")
    address = f"tcp://127.0.0.1:{_free_port()}"
    with pytest.raises(NoCluster, match=address):
        next(each_done_there(where, [1], address))


def test_without_the_extra_it_is_told_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(NoCluster, match=r"planbook\[cluster\]"):
        next(each_done_there(where, [1], "tcp://127.0.0.1:1"))


def test_a_task_that_kills_every_worker_is_told_as_such() -> None:
    from distributed.scheduler import KilledWorker

    from planbook.cluster import _ordinary

    assert isinstance(_ordinary(KilledWorker("task", "worker", 3)), Crashed)
    assert isinstance(_ordinary(KeyboardInterrupt()), Crashed)
    assert isinstance(_ordinary(OSError("disk")), OSError)


@pytest.mark.slow
@pytest.mark.filterwarnings("default")
def test_a_design_is_built_there_as_here(scheduler: str, tmp_path: Path) -> None:
    starter = Path(__file__).parents[1] / "planbook" / "cli" / "starter"
    shutil.copytree(starter, tmp_path / "box", ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    _ready(scheduler, 1)
    told = []
    for out, options in (("here", ()), ("there", ("--scheduler", scheduler))):
        command = [sys.executable, "-m", "planbook.cli", "build", "box", "--nominal", "--out", out, *options]
        done = subprocess.run(command, cwd=tmp_path, check=True, capture_output=True, text=True, timeout=600)
        told.append(done.stdout.replace(out, "OUT"))
    assert told[0] == told[1]
    here, there = ({path.name: path.read_bytes() for path in (tmp_path / out).iterdir()} for out in ("here", "there"))
    assert here == there
    assert len(here) == 3
