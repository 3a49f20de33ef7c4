"""HTML to PDF, page checks and safe writing: the only place that knows the PDF libraries."""

from planbook.press.fetch import Refused
from planbook.press.files import file_name, write_whole
from planbook.press.library import HOW_TO_INSTALL, MissingLibrary
from planbook.press.pages import bookmarks, metadata, page_count, page_sizes
from planbook.press.press import Pressed, press

__all__ = [
    "HOW_TO_INSTALL",
    "MissingLibrary",
    "Pressed",
    "Refused",
    "bookmarks",
    "file_name",
    "metadata",
    "page_count",
    "page_sizes",
    "press",
    "write_whole",
]
