"""The functions of formulas."""

from planbook.booklet.manual import manual_words
from planbook.guide.records import KeyRow, Keys, Section
from planbook.units.functions import FUNCTIONS


def function_section() -> Section:
    """Every function with the number of its arguments."""
    rows = tuple(
        KeyRow(name, f"function-{name}", f"{function.wanted} in brackets", manual_words(function.about))
        for name, function in FUNCTIONS.items()
    )
    return Section("Functions", "functions", (Keys("function", rows),))
