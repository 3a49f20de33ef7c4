"""Kinds of findings about a rack file; what its boards are good for is found later."""

from planbook.text import Kind, Severity

_ROW = '[rack."long board"]\nwood = "cherry"\nthickness = "27 mm"\nwidth = "150 mm"\nlength = "2 m"'

NAME_TWICE = Kind(
    "BUY01",
    "rack-name-twice",
    Severity.ERROR,
    "Two boards of the rack have the same name, or names that differ only in capitals or blanks.",
    "A layout says which board to take; with two of one name nobody knows. Boards that are alike need only `count`.",
    "name,wood,thickness,width,length\noak 1,white oak,27 mm,150 mm,2 m\nOak 1,white oak,27 mm,180 mm,1 m",
    "name,wood,thickness,width,length\noak 1,white oak,27 mm,150 mm,2 m\noak 2,white oak,27 mm,180 mm,1 m",
)
DEFECT_OFF = Kind(
    "BUY02",
    "defect-off-the-board",
    Severity.ERROR,
    "A stretch to keep clear of ends before it begins, or lies beyond the board.",
    "The knot is somewhere else, and a part would be laid over it.",
    f'{_ROW}\ndefects = [{{ from = "2.1 m", to = "2.2 m" }}]',
    f'{_ROW}\ndefects = [{{ from = "1.1 m", to = "1.2 m" }}]',
)
TRIM_BELOW_KERF = Kind(
    "BUY03",
    "trim-below-kerf",
    Severity.ERROR,
    "A trim is less than the kerf.",
    "Every cut takes a whole kerf: a trim is at least that, or nothing.",
    'kerf = "3 mm"\nedge_trim = "2 mm"',
    'kerf = "3 mm"\nedge_trim = "4 mm"',
)
RACK_COLUMNS = Kind(
    "BUY04",
    "rack-columns",
    Severity.ERROR,
    "The first line of a rack in CSV lacks a column, has one twice, or one that is not known.",
    "The first line says what the columns hold: name, wood, thickness, width, length; if wanted also count, kind, "
    "planed and defects.",
    "name,wood,thick,width,length",
    "name,wood,thickness,width,length",
)

ALL: tuple[Kind, ...] = (NAME_TWICE, DEFECT_OFF, TRIM_BELOW_KERF, RACK_COLUMNS)
