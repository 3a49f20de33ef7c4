"""Loads the printer, and says in plain words what to install where its system libraries are missing."""

import io
import warnings
from contextlib import redirect_stderr, redirect_stdout
from importlib import import_module
from typing import Any

HOW_TO_INSTALL = (
    ("Debian, Ubuntu", "sudo apt install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"),
    ("Fedora", "sudo dnf install pango"),
    ("macOS", "brew install pango"),
    ("Windows", "in MSYS2: pacman -S mingw-w64-ucrt-x86_64-pango"),
)


class MissingLibrary(Exception):  # noqa: N818 - it is told to people like a finding
    """A system library of the printer cannot be loaded; the message says which and how to install it."""


def printer() -> Any:
    """The WeasyPrint module. Raises MissingLibrary. What it would print while loading is held back."""
    try:
        with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return import_module("weasyprint")
    except OSError as error:
        raise MissingLibrary(_message(str(error))) from None


def _message(reason: str) -> str:
    lines = [f"  {system}: {command}" for system, command in HOW_TO_INSTALL]
    first = reason.splitlines()[0] if reason else "nothing more"
    headline = "the PDF printer needs the library Pango, which cannot be loaded here; to install it:"
    return "\n".join((headline, *lines, f"(the system says: {first})"))
