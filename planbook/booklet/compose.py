"""Fills a layout with a book and returns HTML; what the book says was decided before."""

import base64
import re
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import nullcontext
from functools import cache
from pathlib import Path
from types import TracebackType
from typing import Any

from jinja2 import FileSystemLoader, StrictUndefined, TemplateError, TemplateSyntaxError, pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from planbook.booklet.basics import Figure, PhotoRow
from planbook.booklet.bounds import Sandbox, TooMuch, bounded
from planbook.booklet.fractions import fractions
from planbook.booklet.greys import greyed
from planbook.booklet.layouts import USUAL, layout_folder, layout_root, shared_folder
from planbook.booklet.own_layout import check_layout
from planbook.booklet.problem import LayoutProblem
from planbook.booklet.records import Book
from planbook.booklet.step_room import paired
from planbook.speech import LANGUAGES, LostPlaceholder, placeholders, say, speaking

_STYLE = re.compile(r"<style>.*?</style>", re.DOTALL)
_BOUNDS = {
    MemoryError: "takes more memory than a booklet needs",
    RecursionError: "takes itself in, or is nested too deep",
    SyntaxError: "is nested too deep",
}


def compose(book: Book, layout: str | Path = USUAL) -> str:
    """The whole booklet as one HTML text that needs nothing else but the fonts it names.

    A path is the folder of somebody's own layout, which is checked first.
    Raises LayoutProblem with file and line when the layout cannot be filled in.
    """
    folder = layout_folder(layout)
    if isinstance(layout, Path):
        check_layout(folder, environment(folder), words_of(folder, book.language))
    html = fill(folder, "book.html", {"book": book, "words": words_of(folder, book.language)})
    if book.ink == "black":
        return _STYLE.sub(lambda found: greyed(found[0]), html, count=1)
    return html


def fill(folder: Path, template: str, context: Mapping[str, Any]) -> str:
    """Fill one template of a layout's folder; one that is not ours is kept within bounds. Raises LayoutProblem."""
    ours = folder.parent == layout_root()
    try:
        with nullcontext() if ours else bounded(folder):
            return environment(folder).get_template(template).render(**context)
    except (TooMuch, MemoryError, RecursionError, SyntaxError) as error:
        file, line = _last_line(folder, error.__traceback__) or (template, 0)
        said = _BOUNDS.get(type(error), str(error))
        raise _problem(folder, said, file, line) from None
    except TemplateSyntaxError as error:
        raise _problem(folder, error.message or "", error.name or template, error.lineno) from error
    except (TemplateError, TypeError, ValueError, ArithmeticError, LookupError, AttributeError) as error:
        file, line = _last_line(folder, error.__traceback__) or (template, 0)
        raise _problem(folder, str(error) or type(error).__name__, file, line) from error


def words_of(folder: Path, language: str) -> Mapping[str, Any]:
    """The fixed words of a layout: its own file for the language, else its English by the catalogue.

    Raises LayoutProblem when it does not speak it.
    """
    own = folder / "words" / f"{language}.toml"
    path = own if own.is_file() else folder / "words" / "en.toml"
    if not path.is_file() or language not in LANGUAGES:
        spoken = sorted({*LANGUAGES, *(p.stem for p in path.parent.glob("*.toml"))} if path.is_file() else ())
        message = f"the layout has no words for the language {language!r}; there are: {', '.join(spoken) or 'none'}"
        raise LayoutProblem(message, f"layouts/{folder.name}")
    words = _read_words(folder, path)
    if path != own:
        with speaking(language):
            said: Mapping[str, Any] = _spoken(words)
            return said
    english = folder / "words" / "en.toml"
    if language != "en" and english.is_file():
        _check_placeholders(_read_words(folder, english), words, f"layouts/{folder.name}/words/{path.name}")
    return words


def _read_words(folder: Path, path: Path) -> Mapping[str, Any]:
    try:
        words: Mapping[str, Any] = tomllib.loads(path.read_text(encoding="utf-8"))
        return words
    except (tomllib.TOMLDecodeError, UnicodeDecodeError, OSError) as error:
        raise LayoutProblem(str(error), f"layouts/{folder.name}/words/{path.name}") from error
    except RecursionError:
        raise LayoutProblem("is nested too deep", f"layouts/{folder.name}/words/{path.name}") from None


def _check_placeholders(english: Any, words: Any, where: str) -> None:
    """Every text of a layout's own words has the placeholders of its English. Raises LayoutProblem."""
    if isinstance(english, dict) and isinstance(words, dict):
        for key in english.keys() & words.keys():
            _check_placeholders(english[key], words[key], where)
    elif isinstance(english, list) and isinstance(words, list):
        for one, other in zip(english, words, strict=False):
            _check_placeholders(one, other, where)
    elif isinstance(english, str) and isinstance(words, str) and placeholders(english) != placeholders(words):
        raise LayoutProblem(str(LostPlaceholder(english, words)), where)


def _spoken(words: Any) -> Any:
    """Every text of a tree in the language spoken."""
    if isinstance(words, dict):
        return {key: _spoken(value) for key, value in words.items()}
    return [say(text) for text in words] if isinstance(words, list) else say(words) if isinstance(words, str) else words


@cache
def environment(folder: Path) -> Sandbox:
    """The sandbox that the templates of a folder are filled in by; it reads nothing else but what our layouts share."""
    environment = Sandbox(
        loader=FileSystemLoader([folder, shared_folder()]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["fractions"] = fractions
    environment.filters["source"] = _source
    environment.filters["paired"] = paired
    return environment


def source(figure: Figure | PhotoRow, black: bool = False) -> Markup:
    """A figure or photo as the address of an image that carries its own content; colours as greys if for black ink.

    A photo is grey already where it is printed in black.
    """
    if isinstance(figure, PhotoRow):
        return Markup("data:image/jpeg;base64," + base64.b64encode(figure.jpeg).decode())
    svg = greyed(figure.svg) if black else figure.svg
    return Markup("data:image/svg+xml;base64," + base64.b64encode(svg.encode()).decode())


@pass_context
def _source(context: Context, figure: Figure | PhotoRow) -> Markup:
    book = context.get("book")
    return source(figure, isinstance(book, Book) and book.ink == "black")


def _problem(folder: Path, message: str, file: str, line: int) -> LayoutProblem:
    return LayoutProblem(message, f"layouts/{folder.name}/{Path(file).name}", line)


def _last_line(folder: Path, trace: TracebackType | None) -> tuple[str, int] | None:
    """The innermost line of a template that an error came from."""
    lines = [line for line in _lines(trace) if Path(line[0]).parent in (folder, shared_folder())]
    return lines[-1] if lines else None


def _lines(trace: TracebackType | None) -> Iterator[tuple[str, int]]:
    while trace is not None:
        yield trace.tb_frame.f_code.co_filename, trace.tb_lineno
        trace = trace.tb_next
