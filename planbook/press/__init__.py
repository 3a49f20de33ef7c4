"""HTML to PDF, page checks and safe writing: the only place that knows the PDF libraries."""

from planbook.press.fetch import Refused
from planbook.press.files import file_name, write_whole
from planbook.press.findings import nearly_empty
from planbook.press.library import HOW_TO_INSTALL, MissingLibrary
from planbook.press.pages import bookmarks, metadata, page_count, page_sizes
from planbook.press.press import Pressed, Standard, press, press_samples
from planbook.press.rasters import png

__all__ = [
    "HOW_TO_INSTALL",
    "MissingLibrary",
    "Pressed",
    "Refused",
    "Standard",
    "bookmarks",
    "file_name",
    "metadata",
    "nearly_empty",
    "page_count",
    "page_sizes",
    "png",
    "press",
    "press_samples",
    "write_whole",
]
