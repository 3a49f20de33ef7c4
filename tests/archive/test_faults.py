"""Whatever stops a release, the archive is whole up to the last one that was finished."""

import errno
import os
import random
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planbook.archive import Archive, ArchiveProblem, Refused
from planbook.archive.exporting import export
from planbook.archive.importing import import_releases
from planbook.archive.store import Store
from planbook.archive.verify import verify

WORKER = Path(__file__).parent / "release_worker.py"
ROOT = Path(__file__).parent.parent.parent
STARTER = ROOT / "planbook" / "cli" / "starter"
KILLS, OF_ONE_ARCHIVE = 100, 10


def started(*args: object, **named: object) -> subprocess.Popen[str]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, *map(str, args)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment, **named)  # type: ignore[call-overload,no-any-return]


def sound(archive: Archive) -> set[str]:
    """The names of all releases of an archive that has nothing wrong but what a stopped release leaves."""
    if not archive.store.releases.is_dir():  # stopped before there was one
        return set()
    assert [finding for finding in verify(archive).findings if finding.code != "ARC06"] == []
    with archive.catalogue() as catalogue:
        names = {row.name for row in catalogue.rows()}
    assert names == set(archive.store.names())
    return names


@pytest.mark.slow
def test_killed_at_a_hundred_random_moments(tmp_path):
    chance = random.Random(20261129)
    source = Archive(tmp_path / "source")
    with started(WORKER, source.folder, "gull-box") as worker:
        assert worker.stdout
        lines = [worker.stdout.readline()]
        begun = time.monotonic()
        lines += [worker.stdout.readline() for _ in range(8)]
        each = (time.monotonic() - begun) / 8
        worker.kill()
    names = [line.strip() for line in lines[1:]]
    packed = tmp_path / "gull.zip"
    export(source, names, packed)
    finished, unfinished = 0, 0
    for kill in range(KILLS):
        archive = Archive(tmp_path / f"archive-{kill // OF_ONE_ARCHIVE}")
        importing = [packed] if kill % 5 == 4 else []
        design = "gull-box" if importing else f"tern-{kill}"
        with started(WORKER, archive.folder, design, *importing) as worker:
            assert worker.stdout
            assert worker.stdout.readline() == "ready\n"
            ready = [] if importing else [worker.stdout.readline() for _ in range(chance.choice((0, 0, 1, 2)))]
            time.sleep(chance.uniform(0, each))
            worker.send_signal(signal.SIGKILL)
            told = set("".join((*ready, worker.stdout.read())).split())
        assert importing or worker.returncode == -signal.SIGKILL
        there = sound(archive)
        assert told <= there
        # One may have been finished that there was no time to tell of; an import tells at its end.
        extra = {name for name in there if name.startswith(f"{design}@")} - told
        assert importing or len(extra) <= 1
        for name in told | extra:
            for entry in archive.release(name).files:
                assert len(archive.read(entry)) == entry.size
        finished += len(told)
        unfinished += any((archive.folder / "incoming").glob("*"))
    assert finished > KILLS / 2
    assert unfinished > 0


def test_a_disk_that_is_full_at_any_write(archive, add, made, monkeypatch):
    add(version="1.0")
    real = {name: getattr(os, name) for name in ("fsync", "replace")}
    calls = {"left": 0}

    def failing(name):
        def call(*args, **named):
            calls["left"] -= 1
            if calls["left"] == 0:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return real[name](*args, **named)

        return call

    failures: list[int | None] = []
    for moment in range(1, 200):
        calls["left"] = moment
        with monkeypatch.context() as patched:
            for name in real:
                patched.setattr(os, name, failing(name))
            try:
                archive.add(*made(version=f"1.{moment}", text=f"# {moment}"))
                done = True
            except OSError as error:
                done = False
                failures.append(error.errno)
        there = sound(archive)
        assert (f"tern-box@1.{moment}" in there) or not done
        assert not list(archive.store.incoming.iterdir())
        if done and calls["left"] > 0:
            break
    assert failures == [errno.ENOSPC] * len(failures)
    assert len(failures) >= 8
    assert "tern-box@1.0" in there


@pytest.mark.parametrize(("most", "releases"), [(3_000, 0), (40_000, 6)])
def test_files_that_cannot_grow_any_further(tmp_path, most, releases):
    """A real limit of the system, setrlimit(2): first no object can be written, then only SQLite meets it."""
    archive = Archive(tmp_path / "archive")

    def limit() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

    with started(WORKER, archive.folder, "tern-box", preexec_fn=limit, stderr=subprocess.PIPE) as worker:
        assert worker.stdout
        lines = [worker.stdout.readline().strip() for _ in range(releases + 1)]
        if not releases:
            assert "File too large" in worker.communicate(timeout=60)[1]
        worker.kill()
    told = set(lines) - {"ready"}
    assert len(told) == releases
    verify(archive)  # the catalogue could not be written; it is now
    assert told <= sound(archive)


def test_a_folder_that_nobody_may_write_in(archive, add, made, monkeypatch):
    add()
    real = os.open

    def refusing(path, flags, *args, **named):
        if flags & (os.O_WRONLY | os.O_RDWR) and str(archive.folder) in str(path):
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))
        return real(path, flags, *args, **named)

    monkeypatch.setattr(os, "open", refusing)
    with pytest.raises(OSError, match="Read-only"):
        archive.add(*made(version="1.1"))
    assert archive.release("tern-box").name == "tern-box@1.0"
    (archive.folder / "catalogue.sqlite").unlink()
    assert archive.release("tern-box").name == "tern-box@1.0"
    assert not (archive.folder / "catalogue.sqlite").exists()
    (finding,) = verify(archive).findings
    assert (finding.code, finding.hint) == ("ARC05", "let planbook write in the folder")


def test_two_processes_that_release_at_once(tmp_path):
    archive = Archive(tmp_path / "archive")
    workers = [started(WORKER, archive.folder, design) for design in ("tern-box", "gull-box")]
    told: set[str] = set()
    for worker in workers:
        assert worker.stdout
        lines = [worker.stdout.readline().strip() for _ in range(7)]
        told |= set(lines[1:])
    for worker in workers:
        worker.kill()
        worker.communicate()
    assert len(told) == 12
    assert told <= sound(archive)


def test_a_lock_that_is_held_too_long_is_a_refusal(archive, add):
    add()
    with (
        archive.store.writing(),
        pytest.raises(ArchiveProblem, match="another process is writing"),
        Store(archive.folder).writing(0.1),
    ):
        pass
    add(version="1.1")


def test_reading_goes_on_while_another_process_writes(archive, add):
    add()
    with archive.store.writing():
        assert archive.release("tern-box").name == "tern-box@1.0"


def test_a_catalogue_with_a_broken_page_is_named_and_made_again(archive, add):
    for number in range(40):
        add(version=f"1.{number}", summary=f"{number} " * 200)
    path = archive.folder / "catalogue.sqlite"
    data = bytearray(path.read_bytes())
    size = int.from_bytes(data[16:18], "big")
    for page in range(1, len(data) // size):
        data[page * size : page * size + 64] = b"\xff" * 64
    path.write_bytes(data)
    assert [finding.code for finding in verify(archive).findings] == ["ARC05"]
    assert len(sound(archive)) == 40
    with sqlite3.connect(path) as base:
        assert base.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_an_import_that_is_stopped_at_any_moment(archive, add, tmp_path, monkeypatch):
    add(version="1.0")
    add(version="1.1")
    packed = tmp_path / "box.zip"
    export(archive, ["tern-box@1.0", "tern-box@1.1"], packed)
    real, moment = os.replace, 0
    while True:
        moment += 1
        other = Archive(tmp_path / f"other-{moment}")
        count = iter(range(1, moment + 1))

        def stop(*args, count=count, last=moment):
            if next(count, last) == last:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return real(*args)

        with monkeypatch.context() as patched:
            patched.setattr(os, "replace", stop)
            try:
                import_releases(other, packed)
                break
            except OSError:
                pass
            except Refused as problem:
                raise AssertionError("the export is sound") from problem
        if other.store.releases.is_dir():
            assert sound(other) <= {"tern-box@1.0", "tern-box@1.1"}
        if moment > 60:
            break
    assert 5 < moment < 60
    assert sound(other) == {"tern-box@1.0", "tern-box@1.1"}


@pytest.mark.slow
def test_a_release_killed_while_it_writes_is_made_whole_by_the_next(tmp_path):
    design = tmp_path / "pencil-block"
    shutil.copytree(STARTER, design, ignore=shutil.ignore_patterns("__pycache__", "*.py"))
    archive = Archive(tmp_path / "archive")
    with started("-m", "planbook.cli", "release", design, "--quiet") as worker:
        while not list((archive.folder / "objects").glob("*/*")):
            assert worker.poll() is None
            time.sleep(0.002)
        worker.kill()
    assert sound(archive) == set()
    with started("-m", "planbook.cli", "release", design, "--quiet") as worker:
        worker.communicate()
    assert worker.returncode == 0
    assert sound(archive) == {"pencil-block@1.0"}
    assert verify(archive).findings == ()
