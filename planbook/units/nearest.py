"""Finds the known names nearest to a mistyped one (it does not word the suggestion)."""

from collections.abc import Iterable
from difflib import get_close_matches

_LONGEST_NAME = 80  # difflib is quadratic; nobody mistypes a longer name


def near(name: str, known: Iterable[str], most: int = 4) -> tuple[str, ...]:
    """Return up to `most` known names nearest to `name`, best first, ignoring case.

    Names that resemble it come first, then names that hold it as a whole word.
    """
    wanted = " ".join(name.lower().split())[:_LONGEST_NAME]
    if not wanted or most < 1:
        return ()
    spelled: dict[str, str] = {}
    for each in known:
        spelled.setdefault(each.lower()[:_LONGEST_NAME], each)
    close = get_close_matches(wanted, spelled, n=most, cutoff=0.6)
    holding = [each for each in spelled if each not in close and wanted in each.replace("_", " ").split()]
    return tuple(spelled[each] for each in (*close, *holding)[:most])
