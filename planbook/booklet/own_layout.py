"""Checks the folder of a layout that is not ours before it is filled in; it fills in nothing."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from itertools import islice
from pathlib import Path
from typing import Any

from jinja2 import Environment, TemplateSyntaxError, nodes
from jinja2.meta import find_undeclared_variables

from planbook.booklet.problem import LayoutProblem
from planbook.booklet.records import Book

NEEDED = ("book.html", "words/en.toml")
"""The files without which nothing can be filled in."""
_GIVEN = {"book", "words"}
_SUFFIXES = (".html", ".css")
MOST_FILES, MOST_BYTES = 500, 2_000_000


def check_layout(folder: Path, environment: Environment, words: Mapping[str, Any]) -> None:
    """Every template must be readable, lie in the folder and ask only for what a booklet has. Raises LayoutProblem.

    What a template that another one takes in asks for is known only when it is filled in.
    """
    for name in NEEDED:
        if not (folder / name).is_file():
            raise LayoutProblem("a layout needs this file", f"{folder.name}/{name}")
    paths = sorted(islice(folder.rglob("*"), MOST_FILES + 1))
    if len(paths) > MOST_FILES:
        raise LayoutProblem(f"a layout has at most {MOST_FILES} files", folder.name)
    for path in paths:
        if not path.resolve().is_relative_to(folder):
            raise LayoutProblem("leads out of the folder of the layout", f"{folder.name}/{path.relative_to(folder)}")
        if path.is_file() and path.stat().st_size > MOST_BYTES:
            where = f"{folder.name}/{path.relative_to(folder)}"
            raise LayoutProblem(f"is larger than {MOST_BYTES // 1_000_000} MB", where)
        if path.suffix in _SUFFIXES and path.is_file():
            _check_template(path, f"{folder.name}/{path.relative_to(folder)}", environment, words)


def _check_template(path: Path, where: str, environment: Environment, words: Mapping[str, Any]) -> None:
    try:
        tree = environment.parse(path.read_text(encoding="utf-8"))
    except TemplateSyntaxError as error:
        raise LayoutProblem(error.message or "cannot be read", where, error.lineno) from error
    except (UnicodeDecodeError, OSError) as error:
        raise LayoutProblem("cannot be read as text", where) from error
    except RecursionError:
        raise LayoutProblem("is nested too deep", where) from None
    for message, line in _unknown(tree, words):
        raise LayoutProblem(message, where, line)
    if path.name == "book.html":
        for name in sorted(find_undeclared_variables(tree) - _GIVEN):
            line = next((node.lineno for node in tree.find_all(nodes.Name) if node.name == name), 0)
            raise LayoutProblem(f"there is nothing called `{name}`; there are `book` and `words`", where, line)


def _unknown(tree: nodes.Template, words: Mapping[str, Any]) -> Iterator[tuple[str, int]]:
    """What is asked of the booklet or of the words and is not there."""
    known = {field.name for field in fields(Book)} | {n for n, v in vars(Book).items() if isinstance(v, property)}
    for node in tree.find_all(nodes.Getattr):
        path = _path(node)
        if path[:1] == ["book"] and path[1] not in known:
            yield f"a booklet has no `{path[1]}`", node.lineno
        if path[:1] == ["words"] and not _holds(words, path[1:]):
            yield f"`{'.'.join(path)}` is not among the words of the layout", node.lineno


def _path(node: nodes.Node) -> list[str]:
    """The names of `words.parts.cover`, or nothing for what is no plain chain of names."""
    if isinstance(node, nodes.Name):
        return [node.name]
    inner = _path(node.node) if isinstance(node, nodes.Getattr) else []
    return [*inner, node.attr] if isinstance(node, nodes.Getattr) and inner else []


def _holds(words: Any, path: list[str]) -> bool:
    for name in path:
        if not isinstance(words, Mapping):
            return True
        if name not in words:
            return False
        words = words[name]
    return True
