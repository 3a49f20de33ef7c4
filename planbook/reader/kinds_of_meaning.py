"""Kinds of findings about what a design says: formulas, values, names of other things, steps."""

from planbook.text import Kind, Severity

ERROR = Severity.ERROR

NEEDS_UNIT = Kind(
    "INP22",
    "needs-unit",
    ERROR,
    "A bare number stands where a length or an angle is wanted.",
    "12 what? Millimetres and inches are both at home in this trade.",
    "radius = 12",
    'radius = "12 mm"',
)
FORMULA_SYNTAX = Kind(
    "INP23",
    "formula-not-readable",
    ERROR,
    "A formula breaks off, has something left over, or gives a function too many or too few values.",
    "A formula is arithmetic over sizes, such as `2 * wall + 1/8 in`.",
    'width = "2 * (wall + 1 mm"',
    'width = "2 * (wall + 1 mm)"',
)
UNKNOWN_UNIT = Kind(
    "INP24",
    "unknown-unit",
    ERROR,
    "A number is followed by a word that is not a unit.",
    "Lengths are in mm, cm, m, in or ft; angles in deg.",
    'wall = "3 mn"',
    'wall = "3 mm"',
)
UNKNOWN_FUNCTION = Kind(
    "INP25",
    "unknown-function",
    ERROR,
    "A formula calls a function that does not exist.",
    "Formulas have a short list of functions, such as `min`, `max`, `sqrt`, `sin`.",
    'wall = "maximum(10 mm, gap)"',
    'wall = "max(10 mm, gap)"',
)
UNKNOWN_SIZE = Kind(
    "INP26",
    "unknown-size",
    ERROR,
    "A formula uses a name that is not a size of the design.",
    "The value would have to be guessed.",
    '[sizes]\nwall = "12 mm"\nouter = "2 * wal"',
    '[sizes]\nwall = "12 mm"\nouter = "2 * wall"',
)
UNIT_MISMATCH = Kind(
    "INP27",
    "unit-mismatch",
    ERROR,
    "A formula mixes lengths, angles and numbers, or comes to another kind of value than its key takes.",
    "A length added to an angle means nothing; the product of two lengths is an area.",
    'radius = "wall * wall"',
    'radius = "2 * wall"',
)
DIVISION_BY_ZERO = Kind(
    "INP28",
    "division-by-zero",
    ERROR,
    "A formula divides by zero.",
    "There is no such value.",
    'part = "width / 0"',
    'part = "width / 2"',
)
FORMULA_TOO_LARGE = Kind(
    "INP29",
    "formula-too-large",
    ERROR,
    "A formula is longer than 500 characters or has brackets more than 40 deep.",
    "Nobody can check such a formula; name its parts as sizes.",
    'width = "((((((((((((((((((((((((((((((((((((((((((1 mm))))))))))))))))))))))))))))))))))))))))))"',
    'width = "1 mm"',
)
NOT_FINITE = Kind(
    "INP30",
    "no-such-value",
    ERROR,
    "A formula asks for a value that does not exist, such as the root of a negative number.",
    "No saw can be set to it.",
    'side = "sqrt(1 mm * 1 mm - 2 mm * 2 mm)"',
    'side = "sqrt(2 mm * 2 mm - 1 mm * 1 mm)"',
)
OUT_OF_RANGE = Kind(
    "INP31",
    "out-of-range",
    ERROR,
    "A length is more than 100 m, or a number is too large to mean anything.",
    "It is a slip of the unit or of the decimal point.",
    'width = "1000000000 mm"',
    'width = "100 mm"',
)
CIRCULAR_SIZE = Kind(
    "INP32",
    "circular-size",
    ERROR,
    "A size is made from itself, directly or by way of others.",
    "Sizes may be written in any order, but one of them must come first.",
    '[sizes]\nwall = "gap"\ngap = "wall"',
    '[sizes]\nwall = "12 mm"\ngap = "wall"',
)
MEASURE_TOO_EARLY = Kind(
    "INP33",
    "measured-too-early",
    ERROR,
    "A formula of `design.toml` measures a piece, or the kerf of a saw.",
    "Pieces and cuts exist only during the build; measure them in the operations of `steps.md`.",
    "[sizes]\nrunner = 'width of \"lid\"'",
    '[sizes]\nrunner = "80 mm"',
)
NOT_ABOVE_ZERO = Kind(
    "INP34",
    "not-above-zero",
    ERROR,
    "A size, diameter, thickness or count that must be more than zero is not.",
    "A board or a hole of no size, or less, cannot be made.",
    'size = ["200 mm", "0 mm", "90 mm"]',
    'size = ["200 mm", "19 mm", "90 mm"]',
)
SIZE_NOT_ABOVE_ZERO = Kind(
    "INP35",
    "size-not-above-zero",
    Severity.WARNING,
    "A named length is zero or negative.",
    "It is allowed, for a length may be a shift; but it is more often a slip.",
    '[sizes]\nwall = "12 mm - 20 mm"',
    '[sizes]\nwall = "20 mm - 12 mm"',
)
UNKNOWN_SHAPE = Kind(
    "INP36",
    "unknown-shape",
    ERROR,
    "A stencil or a shape uses a shape that the design does not have.",
    "There would be nothing to draw.",
    '[shapes.drum]\nkind = "circle"\n[stencils.front.lines]\noutline = "durm"',
    '[shapes.drum]\nkind = "circle"\n[stencils.front.lines]\noutline = "drum"',
)
CIRCULAR_SHAPE = Kind(
    "INP37",
    "circular-shape",
    ERROR,
    "A shape is made from itself, directly or by way of others.",
    "One of them must be drawn first.",
    '[shapes.rim]\nkind = "offset"\nof = "rim"\nby = "6 mm"',
    '[shapes.rim]\nkind = "offset"\nof = "drum"\nby = "6 mm"',
)
UNKNOWN_WOOD = Kind(
    "INP38",
    "unknown-wood",
    ERROR,
    "A board is of a wood that the handbook does not have.",
    "Weight, movement and warnings are taken from the handbook.",
    'wood = "wallnut"',
    'wood = "walnut"',
)
UNKNOWN_PRODUCT = Kind(
    "INP39",
    "unknown-product",
    ERROR,
    "A glue, finish or lining is not in the handbook.",
    "Curing times, coverage and cautions are taken from the handbook.",
    'kind = "glue"\nproduct = "yelow wood glue"',
    'kind = "glue"\nproduct = "yellow wood glue"',
)
EMPTY_STENCIL = Kind(
    "INP40",
    "empty-stencil",
    ERROR,
    "A stencil has neither a line nor a hole.",
    "An empty sheet would be printed and stuck on.",
    '[stencils.front]\ntitle = "Front"\nface = "front"',
    '[stencils.front]\ntitle = "Front"\nface = "front"\nlines = { outline = "drum" }',
)
NO_STEPS = Kind(
    "INP41",
    "no-steps",
    ERROR,
    "`steps.md` has no step.",
    "A step is a second-level heading; without one nothing is built.",
    "# Curlew box\n\nSaw the outline.",
    "# Curlew box\n\n## Saw the outline\n\nKeep outside the line.",
)
UNTITLED_STEP = Kind(
    "INP42",
    "untitled-step",
    ERROR,
    "A step has an empty heading.",
    "Steps are found, named and referred to by their headings.",
    "## \n\nSaw the outline.",
    "## Saw the outline\n\nKeep outside the line.",
)
OPERATION_BEFORE_STEP = Kind(
    "INP43",
    "operation-before-step",
    ERROR,
    "A block with an operation stands before the first step.",
    "An operation belongs to a step; outside of one it would not be carried out.",
    '```saw\npiece = "blank"\n```\n\n## Saw the outline',
    '## Saw the outline\n\n```saw\npiece = "blank"\n```',
)
BLOCK_NOT_CLOSED = Kind(
    "INP44",
    "block-not-closed",
    ERROR,
    "A fenced block is not closed.",
    "It would swallow every step that follows.",
    '## Saw\n\n```saw\npiece = "blank"\n\n## Sand',
    '## Saw\n\n```saw\npiece = "blank"\n```\n\n## Sand',
)
STRAY_BRACE = Kind(
    "INP45",
    "stray-brace",
    Severity.WARNING,
    "A `{` in prose begins no name, or one stands in a heading.",
    "In prose `{name}` stands for a piece or a size; a brace that is meant as such is written `{{`.",
    "Leave {wall on both sides.",
    "Leave {wall} on both sides.",
)
NOTHING_TO_REPLACE = Kind(
    "INP46",
    "nothing-to-replace",
    ERROR,
    "A choice replaces a wood, a board or a supply that the design does not have.",
    "The choice would leave out what its maker meant to change.",
    '[supplies.oil]\nkind = "finish"\nproduct = "tung oil"\n[choices.light]\nsupplies = { oli = "shellac" }',
    '[supplies.oil]\nkind = "finish"\nproduct = "tung oil"\n[choices.light]\nsupplies = { oil = "shellac" }',
)
CHOICE_WITHOUT_EFFECT = Kind(
    "INP47",
    "choice-without-effect",
    Severity.WARNING,
    "A choice of woods, or a part of one, changes nothing.",
    "It would be offered to a reader, who would then look for the difference.",
    '[supplies.oil]\nkind = "finish"\nproduct = "tung oil"\n[choices.light]\nsupplies = { oil = "tung oil" }',
    '[supplies.oil]\nkind = "finish"\nproduct = "tung oil"\n[choices.light]\nsupplies = { oil = "shellac" }',
)
REPLACED_TWICE = Kind(
    "INP48",
    "replaced-twice",
    ERROR,
    "A choice replaces one wood twice, under two of its names.",
    "Only one of the two could be taken.",
    'woods = { walnut = "cherry", "black walnut" = "white oak" }',
    'woods = { walnut = "cherry" }',
)
SAME_CHOICE = Kind(
    "INP49",
    "same-choice",
    Severity.WARNING,
    "Two choices come to the same woods and supplies.",
    "They would be offered side by side as if they were different.",
    '[choices.dark]\nwoods = { cherry = "walnut" }\n[choices.deep]\nwoods = { cherry = "black walnut" }',
    '[choices.dark]\nwoods = { cherry = "walnut" }\n[choices.pale]\nwoods = { cherry = "white ash" }',
)
TOO_MANY_CHOICES = Kind(
    "INP50",
    "too-many-choices",
    ERROR,
    "A design has more than five choices of woods.",
    "The booklet shows them side by side, and a reader can weigh no more.",
    "[choices.one]\n...\n[choices.six]",
    "[choices.one]\n...\n[choices.five]",
)
DRAWING_NOT_READABLE = Kind(
    "INP51",
    "drawing-not-readable",
    ERROR,
    "A drawing is neither SVG nor DXF, breaks the rules of its format, or draws no outline under the name asked for.",
    "An outline is one open line or one or more closed ones, made of paths, circles, ellipses, rectangles and lines.",
    '[shapes.pebble]\nkind = "drawing"\nfile = "pebble.svg"\nid = "label"   (a text)',
    '[shapes.pebble]\nkind = "drawing"\nfile = "pebble.svg"\nid = "outline"   (a path)',
)
UNKNOWN_DRAWING_ID = Kind(
    "INP52",
    "unknown-drawing-id",
    ERROR,
    "A drawing has no element (SVG), no layer and no handle (DXF) of that name.",
    "There would be nothing to draw.",
    '[shapes.pebble]\nkind = "drawing"\nfile = "pebble.svg"\nid = "peble"',
    '[shapes.pebble]\nkind = "drawing"\nfile = "pebble.svg"\nid = "pebble"',
)
DRAWING_WITHOUT_SIZE = Kind(
    "INP53",
    "drawing-without-size",
    ERROR,
    "A drawing does not say in which unit it is drawn, and the shape says neither its width nor its height.",
    "A stencil is printed at true size: 160 what?",
    '[shapes.pebble]\nkind = "drawing"\nfile = "pebble.dxf"\nid = "outline"',
    '[shapes.pebble]\nkind = "drawing"\nfile = "pebble.dxf"\nid = "outline"\nwidth = "160 mm"',
)
REMEDY_FOR_NOTHING = Kind(
    "INP54",
    "remedy-for-nothing",
    ERROR,
    "A remedy names a fit or a step that the design does not have.",
    "The booklet leads the reader from the remedy to it.",
    '[fits."drawer slides"]\n...\n[remedies.sticks]\nfit = "drawer slide"',
    '[fits."drawer slides"]\n...\n[remedies.sticks]\nfit = "drawer slides"',
)
