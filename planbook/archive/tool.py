"""Which planbook made a release, and on what: with the same, the same bytes come out."""

import platform
from importlib.metadata import PackageNotFoundError, version

from planbook import __version__
from planbook.archive.manifest import Made
from planbook.cache import program

LIBRARIES = (
    *("ezdxf", "font-source-sans-pro", "font-source-serif-pro", "fontpkg-source-code-pro", "fonttools", "jinja2"),
    *("lark", "manifold3d"),
    *("markdown-it-py", "numpy", "pikepdf", "pillow", "pydyf", "pypdfium2", "segno", "shapely", "svgwrite", "tinycss2"),
    *("tinyhtml5", "weasyprint"),
)
"""The libraries that have a hand in the bytes of a release."""


def made_by(commands: tuple[str, ...]) -> Made:
    """The planbook that runs now."""
    found = {}
    for name in LIBRARIES:
        try:
            found[name] = version(name)
        except PackageNotFoundError:
            found[name] = "missing"
    return Made(__version__, program(), platform.python_version(), found, commands)
