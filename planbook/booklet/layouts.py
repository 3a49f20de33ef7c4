"""Finds the folders of templates and style sheets; it does not fill them in."""

import re
from functools import cache
from pathlib import Path

from planbook.booklet.problem import LayoutProblem

_NAME = re.compile(r"[a-z][a-z0-9-]{0,40}")


USUAL = "booklet"
"""The layout of an edition that asks for no other."""


def layout_folder(layout: str | Path) -> Path:
    """The folder of a layout: in an installed package beside the code, in a checkout beside the package.

    A path is the folder of somebody's own layout. Raises LayoutProblem when there is none.
    """
    if isinstance(layout, Path):
        if not layout.is_dir():
            raise LayoutProblem("there is no such folder", f"{layout}")
        return layout.resolve()
    known = layout_names()
    if not _NAME.fullmatch(layout) or layout not in known:
        message = f"there is no layout of this name; there are: {', '.join(known) or 'none'}"
        raise LayoutProblem(message, f"layouts/{layout[:60]}")
    return layout_root() / layout


def layout_names() -> tuple[str, ...]:
    """The names of the layouts there are, in order."""
    root = layout_root()
    return tuple(sorted(path.parent.name for path in root.glob("*/book.html"))) if root.is_dir() else ()


def shared_folder() -> Path:
    """The folder of what several layouts take in: any template finds it by name after its own folder."""
    return layout_root() / "shared"


@cache
def layout_root() -> Path:
    """The folder of all layouts."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "layouts"
    return inside if inside.is_dir() else package.parent / "layouts"
