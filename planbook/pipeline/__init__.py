"""The whole way: a folder is read, built, reviewed, listed, drawn, composed and pressed. Prints nothing.

What loads the geometry or the printer is imported where it is used, so that what is kept is found without them.
"""

from planbook.pipeline.building import build, build_all
from planbook.pipeline.checking import check, solve
from planbook.pipeline.composing import compose_book, settled_lengths
from planbook.pipeline.files import source_files, tool_files
from planbook.pipeline.kinds import all_kinds, explain
from planbook.pipeline.listing import take_off
from planbook.pipeline.pictures import draw
from planbook.pipeline.records import FORGETFUL, Answered, Built, Checked, Progress, TakenOff, Units

__all__ = [
    "FORGETFUL",
    "Answered",
    "Built",
    "Checked",
    "Progress",
    "TakenOff",
    "Units",
    "all_kinds",
    "build",
    "build_all",
    "check",
    "compose_book",
    "draw",
    "explain",
    "settled_lengths",
    "solve",
    "source_files",
    "take_off",
    "tool_files",
]
