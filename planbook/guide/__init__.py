"""The handbook of the tool: written chapters, and chapters made from the code they speak of; it knows no terminal."""

from planbook.guide.make import guide_html
from planbook.guide.records import Command, Option
from planbook.guide.writing import FILES, Written, write_guide

__all__ = ["FILES", "Command", "Option", "Written", "guide_html", "write_guide"]
