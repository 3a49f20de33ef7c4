"""What depends on the terminal: colours, progress, closed pipes, and what is loaded at the start."""

import json
import os
import subprocess
import sys

import pytest

from planbook.cli.progress import telling
from planbook.cli.showing import STYLES, colours, shown
from planbook.text import Severity, Span, for_people

LINE = (Span("error", "error[X]"), Span("headline", ": words"), Span("unheard of", "  "))


def _python(*args, **more):
    command = [sys.executable, "-m", "planbook.cli", *args]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, **more)


def test_colours_only_where_asked_for():
    assert shown([LINE], colour=False) == "error[X]: words"
    assert shown([LINE], colour=True).startswith("\x1b[31m\x1b[1merror[X]\x1b[0m")


@pytest.mark.parametrize(
    ("tty", "environment", "expected"),
    [
        (True, {}, True),
        (False, {}, False),
        (True, {"NO_COLOR": "1"}, False),
        (True, {"NO_COLOR": ""}, True),
        (True, {"TERM": "dumb"}, False),
    ],
)
def test_colours_need_a_terminal_and_nobody_against_them(monkeypatch, tty, environment, expected):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys.stdout, "isatty", lambda: tty)
    assert colours() is expected


def test_every_severity_has_a_colour():
    assert {str(severity) for severity in Severity} <= set(STYLES)


def test_the_colours_cover_the_roles_that_occur(pipeline):
    pipeline.error()
    lines = for_people(pipeline.findings[0], {})
    roles = {span.role for line in lines for span in line} - {"plain", "excerpt"}
    assert roles <= set(STYLES)


@pytest.mark.parametrize(("tty", "quiet"), [(False, False), (True, True)])
def test_no_progress_without_a_terminal_or_if_quiet(capsys, monkeypatch, tty, quiet):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: tty)
    with telling("box", quiet) as progress:
        progress("building")
    assert capsys.readouterr() == ("", "")


def test_progress_is_shown_on_a_terminal(capsys, monkeypatch):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    with telling("[box]", quiet=False) as progress:
        progress("building")
    caught = capsys.readouterr()
    assert caught.out == ""
    assert "[box]" in caught.err


def test_a_closed_pipe_is_no_drama():
    process = _python("--help")
    process.stdout.close()
    assert process.stderr.read() == ""
    process.stderr.close()
    assert process.wait() == 141


def test_help_loads_nothing_heavy():
    code = (
        "import sys, json; from planbook.cli.run import run; run(['--help']); "
        "print(json.dumps(sorted(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    heavy = {"numpy", "manifold3d", "shapely", "weasyprint", "pydantic", "rich", "lark", "jinja2", "pikepdf"}
    assert heavy & set(json.loads(done.stderr)) == set()
    assert not {name for name in json.loads(done.stderr) if name.startswith("planbook.") and ".cli" not in name}


def test_output_that_the_encoding_cannot_hold_is_escaped(tmp_path):
    folder = tmp_path / "b\N{GREEK SMALL LETTER MU}x"
    environment = {**os.environ, "PYTHONIOENCODING": "latin-1"}
    done = subprocess.run(
        [sys.executable, "-m", "planbook.cli", "new", str(folder)],
        capture_output=True,
        env=environment,
        check=False,
    )
    assert done.returncode == 0
    assert b"b\\u03bcx" in done.stdout
