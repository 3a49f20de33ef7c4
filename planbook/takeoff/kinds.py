"""Kinds of findings about what to buy and how to cut it up; not how they are found."""

from planbook.text import Kind, Severity

_STOCK = '[stock.side]\nwood  = "cherry"\ngrain = "x"\n'

THICKNESS_UNFIT = Kind(
    "BUY05",
    "thickness-fits-nothing",
    Severity.NOTE,
    "A board of the rack is of a wood that the design uses, but too thin for its parts, or far too thick.",
    "It stays in the rack, and the part is bought instead.",
    '[rack.offcut]\nwood = "cherry"\nthickness = "15 mm"  # the design needs 19 mm',
    '[rack.offcut]\nwood = "cherry"\nthickness = "21 mm"',
)
PART_TOO_LARGE = Kind(
    "BUY06",
    "part-too-large",
    Severity.WARNING,
    "A part is wider or longer than any board, bar or sheet that is commonly sold, or that the rack holds.",
    "The list cannot say what to buy for it. Wide parts are glued up from narrow boards.",
    _STOCK + 'size  = ["900 mm", "500 mm", "19 mm"]',
    _STOCK + 'size  = ["900 mm", "250 mm", "19 mm"]',
)
GRAIN_FORBIDS = Kind(
    "BUY07",
    "grain-forbids-fit",
    Severity.WARNING,
    "A part would fit if it were turned, but its grain runs along its board and a turned part has it across.",
    "A part with its grain across looks wrong and may break; only material without grain may be turned.",
    '[stock.side]\nwood  = "birch plywood"\ngrain = "x"\nsize  = ["600 mm", "1500 mm", "18 mm"]',
    '[stock.side]\nwood  = "birch plywood"\ngrain = "y"\nsize  = ["600 mm", "1500 mm", "18 mm"]',
)
KERF_LARGER = Kind(
    "BUY08",
    "kerf-larger-than-part",
    Severity.WARNING,
    "A part is smaller than the kerf of the saw that cuts it out.",
    "More wood goes to dust than into the part, and nobody can hold it; cut it from a larger piece.",
    _STOCK + 'size  = ["2 mm", "60 mm", "9 mm"]\nrough = ["2 mm", "60 mm", "9 mm"]',
    _STOCK + 'size  = ["2 mm", "60 mm", "9 mm"]\nrough = ["150 mm", "70 mm", "12 mm"]',
)
TOO_MANY_PARTS = Kind(
    "BUY09",
    "too-many-parts",
    Severity.ERROR,
    "So many copies are asked for that one layout would hold more parts than it can search.",
    "A layout of that size helps nobody at the saw; cut in batches.",
    "planbook takeoff shelf --make 9999",
    "planbook takeoff shelf --make 50",
)
THICKNESS_NOT_SOLD = Kind(
    "BUY10",
    "thickness-not-sold",
    Severity.WARNING,
    "A part is thicker than any lumber that is commonly sold.",
    "It has to be laminated from thinner boards, each of them a board of the design.",
    _STOCK + 'size  = ["600 mm", "160 mm", "140 mm"]',
    _STOCK + 'size  = ["600 mm", "160 mm", "70 mm"]',
)
MATCH_APART = Kind(
    "BUY11",
    "match-apart",
    Severity.WARNING,
    "Boards that shall match differ in their wood, or in the thickness they are cut from.",
    "They cannot come from one board, so they cannot match; each is cut on its own.",
    '[stock.left]\nwood  = "cherry"\nmatch = "pair"\n\n[stock.right]\nwood  = "sugar maple"\nmatch = "pair"',
    '[stock.left]\nwood  = "cherry"\nmatch = "pair"\n\n[stock.right]\nwood  = "cherry"\nmatch = "pair"',
)
MATCH_TOO_LARGE = Kind(
    "BUY12",
    "match-too-large",
    Severity.WARNING,
    "Boards that shall match do not fit on one board, of those sold or in the rack.",
    "The list cannot say what to buy for them; let fewer of them match.",
    '[stock.a]\nsize  = ["2 m", "280 mm", "19 mm"]\nmatch = "all"\n\n[stock.b]\nsize  = ["2 m", "280 mm", "19 mm"]'
    '\nmatch = "all"',
    '[stock.a]\nsize  = ["900 mm", "280 mm", "19 mm"]\nmatch = "all"\n\n[stock.b]\nsize  = ["900 mm", "280 mm", '
    '"19 mm"]\nmatch = "all"',
)

ALL: tuple[Kind, ...] = (
    THICKNESS_UNFIT,
    PART_TOO_LARGE,
    GRAIN_FORBIDS,
    KERF_LARGER,
    TOO_MANY_PARTS,
    THICKNESS_NOT_SOLD,
    MATCH_APART,
    MATCH_TOO_LARGE,
)
