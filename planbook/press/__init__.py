"""HTML to PDF, page checks and safe writing: the only place that knows the PDF libraries."""

from planbook.press.copying import LEAST_SIZE, Copier, Owner, copier
from planbook.press.excerpt import excerpt
from planbook.press.fetch import Refused
from planbook.press.findings import nearly_empty
from planbook.press.font_files import NotAFont, check_font, usual_faces
from planbook.press.fonts import with_fonts
from planbook.press.kinds import ALL as KINDS
from planbook.press.kinds import NO_EDITION, NO_ROOM, NO_SUCH_PAGE, NOT_A_MASTER, NOTHING_TO_CORRECT
from planbook.press.library import HOW_TO_INSTALL, MissingLibrary
from planbook.press.looks import other_pages
from planbook.press.mark import MOST_BYTES, NoMaster, with_mark
from planbook.press.outlines import Typesetter
from planbook.press.pages import booklet_facts, bookmarked_pages, bookmarks, metadata, page_count, page_sizes
from planbook.press.press import Pressed, Standard, press, press_page, press_samples
from planbook.press.rasters import png
from planbook.whole_files import file_name, write_whole

__all__ = [
    "HOW_TO_INSTALL",
    "KINDS",
    "LEAST_SIZE",
    "MOST_BYTES",
    "NOTHING_TO_CORRECT",
    "NOT_A_MASTER",
    "NO_EDITION",
    "NO_ROOM",
    "NO_SUCH_PAGE",
    "Copier",
    "MissingLibrary",
    "NoMaster",
    "NotAFont",
    "Owner",
    "Pressed",
    "Refused",
    "Standard",
    "Typesetter",
    "booklet_facts",
    "bookmarked_pages",
    "bookmarks",
    "check_font",
    "copier",
    "excerpt",
    "file_name",
    "metadata",
    "nearly_empty",
    "other_pages",
    "page_count",
    "page_sizes",
    "png",
    "press",
    "press_page",
    "press_samples",
    "usual_faces",
    "with_fonts",
    "with_mark",
    "write_whole",
]
