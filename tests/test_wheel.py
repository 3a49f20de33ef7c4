"""The wheel in an empty environment, outside the checkout: layouts, tables and fonts are found there."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def run(*command: str, cwd: Path) -> str:
    # Where the checkout is on the path of modules, it would be found in place of what was installed.
    own = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(command, cwd=cwd, env=own, capture_output=True, text=True, timeout=900, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout + done.stderr


@pytest.mark.slow
def test_an_installed_wheel_builds_a_new_design(tmp_path: Path) -> None:
    run(sys.executable, "-m", "build", "--wheel", "--outdir", str(tmp_path), str(ROOT), cwd=tmp_path)
    (wheel,) = tmp_path.glob("*.whl")
    run(sys.executable, "-m", "venv", "empty", cwd=tmp_path)
    python = tmp_path / "empty" / "bin" / "python"
    run(str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", str(wheel), cwd=tmp_path)
    where = run(str(python), "-c", "import planbook; print(planbook.__file__)", cwd=tmp_path)
    assert str(tmp_path) in where
    planbook = str(tmp_path / "empty" / "bin" / "planbook")
    run(planbook, "new", "first", cwd=tmp_path)
    run(planbook, "build", "first", "--paper", "a4", "--units", "mm", "--out", "out", cwd=tmp_path)
    (booklet,) = (tmp_path / "out").glob("*.pdf")
    assert booklet.read_bytes().startswith(b"%PDF-")
