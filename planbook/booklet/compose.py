"""Fills a layout with a book and returns HTML; what the book says was decided before."""

import base64
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from types import TracebackType
from typing import Any

from jinja2 import FileSystemLoader, StrictUndefined, TemplateError, TemplateSyntaxError
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup

from planbook.booklet.fractions import fractions
from planbook.booklet.layouts import layout_folder
from planbook.booklet.problem import LayoutProblem
from planbook.booklet.records import Book, Figure


def compose(book: Book, layout: str = "booklet") -> str:
    """The whole booklet as one HTML text that needs nothing else but the fonts it names.

    Raises LayoutProblem with file and line when the layout cannot be filled in.
    """
    folder = layout_folder(layout)
    return fill(folder, "book.html", {"book": book, "words": words_of(folder, book.language)})


def fill(folder: Path, template: str, context: Mapping[str, Any]) -> str:
    """Fill one template of a layout's folder. Raises LayoutProblem."""
    try:
        return _environment(folder).get_template(template).render(**context)
    except TemplateSyntaxError as error:
        raise _problem(folder, error.message or "", error.name or template, error.lineno) from error
    except (TemplateError, TypeError, ValueError, ArithmeticError, LookupError, AttributeError) as error:
        file, line = _last_line(folder, error.__traceback__) or (template, 0)
        raise _problem(folder, str(error) or type(error).__name__, file, line) from error


def words_of(folder: Path, language: str) -> Mapping[str, Any]:
    """The fixed words of a layout in a language. Raises LayoutProblem when it does not speak it."""
    path = folder / "words" / f"{language}.toml"
    spoken = sorted(p.stem for p in path.parent.glob("*.toml"))
    if language not in spoken:
        message = f"the layout has no words for the language {language!r}; there are: {', '.join(spoken)}"
        raise LayoutProblem(message, f"layouts/{folder.name}")
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise LayoutProblem(str(error), f"layouts/{folder.name}/words/{path.name}") from error


@cache
def _environment(folder: Path) -> ImmutableSandboxedEnvironment:
    environment = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(folder),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["fractions"] = fractions
    environment.filters["source"] = source
    return environment


def source(figure: Figure) -> Markup:
    """A figure as the address of an image that carries its own content."""
    return Markup("data:image/svg+xml;base64," + base64.b64encode(figure.svg.encode()).decode())


def _problem(folder: Path, message: str, file: str, line: int) -> LayoutProblem:
    return LayoutProblem(message, f"layouts/{folder.name}/{Path(file).name}", line)


def _last_line(folder: Path, trace: TracebackType | None) -> tuple[str, int] | None:
    """The innermost line of a template that an error came from."""
    lines = [line for line in _lines(trace) if Path(line[0]).parent == folder]
    return lines[-1] if lines else None


def _lines(trace: TracebackType | None) -> Iterator[tuple[str, int]]:
    while trace is not None:
        yield trace.tb_frame.f_code.co_filename, trace.tb_lineno
        trace = trace.tb_next
