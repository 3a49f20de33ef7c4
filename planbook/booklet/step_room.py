"""How the words and settings of a step share the page with its picture: estimates of heights, no setting of type."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from planbook.booklet.basics import Fact

SLACK = 2.0
"""Less gained than this (mm) is not worth another arrangement."""
POINT = 25.4 / 72
MOST, BY = 96.0, 8.0
"""A picture beside many words is no higher than this, and as high as so many steps of this, mm: few of its sizes
change with a word.
"""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a layout sets steps: heights in mm, and how many letters stand on a line.

    `line` is from one line of words to the next, `row` the same for the settings and `ruled` what each row of them
    takes beyond its lines. Words and values of settings stand in the column beside the picture, or across the page;
    there two short settings share a row. `picture` is the most height of a picture that is neither broad nor high.
    """

    line: float
    row: float
    ruled: float
    words_beside: int
    words_across: int
    value_beside: int
    value_across: int
    picture: float


BOOKLET = Setting(14 * POINT, 14 * POINT, 1.2, 42, 104, 26, 44, 64.0)
SHOP = Setting(17 * POINT, 15 * POINT, 5.5 * POINT, 38, 88, 23, 30, 60.0)


def room_beside(prose: Iterable[str]) -> float:
    """How high the words of a step stand beside a picture of the booklet, mm, which it may fill."""
    high = _words([text for text in prose if text.strip()], BOOKLET.words_beside, BOOKLET)
    return min(MOST, max(BOOKLET.picture, BY * (high // BY)))


def lower(
    picture: float, prose: Sequence[str], settings: Sequence[Fact], waiting: int, film: float = 0.0
) -> tuple[tuple[Fact, ...], ...]:
    """Settings in rows across the page of the booklet, if that takes less height than under the words; else nothing.

    `picture` is the height of the pictures in mm, `waiting` how many lines tell of waiting, `film` the height of
    what leads to a film and stands under the words too, mm.
    """
    words, rows = _words(prose, BOOKLET.words_beside, BOOKLET) + film, tuple(paired(settings))
    under_words = max(picture, words + _column(settings, waiting, BOOKLET))
    below = max(picture, words) + _across(rows, waiting, BOOKLET)
    return rows if below + SLACK < under_words else ()


def wordy(picture: float, prose: Sequence[str], settings: Sequence[Fact], waiting: int, high: bool = False) -> bool:
    """Whether settings of the shop layout take less height across the page, with the words beside the picture instead.

    `picture` is the height of the pictures in mm, `waiting` how many lines tell of waiting; `high` ones keep theirs.
    """
    seen = picture if high else min(picture, SHOP.picture)
    usual = max(seen, _column(settings, waiting, SHOP)) + _words(prose, SHOP.words_across, SHOP)
    rows = tuple(paired(settings, SHOP.value_across))
    other = max(seen, _words(prose, SHOP.words_beside, SHOP)) + _across(rows, waiting, SHOP)
    return other + SLACK < usual


def lengthy(picture: float, prose: Sequence[str], high: bool = False) -> bool:
    """Whether the words beside a picture of the shop layout run on far below it."""
    seen = picture if high else min(picture, SHOP.picture)
    return _words(prose, SHOP.words_beside, SHOP) > seen + 2 * SHOP.line


def paired(settings: Iterable[Fact], most: int = BOOKLET.value_across) -> Iterator[tuple[Fact, ...]]:
    """Settings two by two; one with more than `most` letters has a row to itself."""
    first: Fact | None = None
    for fact in settings:
        if len(fact.value) > most:
            yield from ((first,),) if first else ()
            yield (fact,)
            first = None
        elif first:
            yield (first, fact)
            first = None
        else:
            first = fact
    yield from ((first,),) if first else ()


def _words(prose: Sequence[str], letters: int, setting: Setting) -> float:
    return setting.line * sum(ceil(len(text) / letters) + 0.5 for text in prose)


def _column(settings: Sequence[Fact], waiting: int, setting: Setting) -> float:
    """The height of the settings beside the picture, one below the other."""
    return _ruled([*(ceil(len(fact.value) / setting.value_beside) for fact in settings), *[1] * waiting], setting)


def _across(rows: Sequence[tuple[Fact, ...]], waiting: int, setting: Setting) -> float:
    """The height of the settings in rows across the page."""
    widths = (setting.value_across * 3 ** (len(row) == 1) for row in rows)
    lines = [ceil(max(len(fact.value) for fact in row) / width) for row, width in zip(rows, widths, strict=True)]
    return _ruled([*lines, *[1] * waiting], setting)


def _ruled(lines: Sequence[int], setting: Setting) -> float:
    return sum(setting.row * count + setting.ruled for count in lines)
