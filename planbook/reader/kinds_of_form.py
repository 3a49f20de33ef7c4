"""Kinds of findings about the form of a design: its files, its TOML, its keys, types and names."""

from planbook.text import Kind, Severity

ERROR = Severity.ERROR

FOLDER_MISSING = Kind(
    "INP01",
    "folder-missing",
    ERROR,
    "The folder of a design does not exist, or is not a folder.",
    "A design is a folder with `design.toml` and `steps.md` in it.",
    "designs/curlw-box/",
    "designs/curlew-box/",
)
FILE_MISSING = Kind(
    "INP02",
    "file-missing",
    ERROR,
    "`design.toml`, `steps.md`, or a drawing or handbook that the design names is not in its folder.",
    "Sizes and stock stand in the one, the steps in the other; outlines and figures may come from further files.",
    "designs/curlew-box/Design.toml",
    "designs/curlew-box/design.toml\ndesigns/curlew-box/steps.md",
)
FILE_OUTSIDE = Kind(
    "INP03",
    "file-outside",
    ERROR,
    "A file of the design is a link or a path that leads out of its folder.",
    "A design from somebody else must not be able to read other files of the reader.",
    "steps.md -> ../../notes.md",
    "steps.md",
)
FILE_UNREADABLE = Kind(
    "INP04",
    "file-unreadable",
    ERROR,
    "A file of the design cannot be opened, or is not a plain file.",
    "What cannot be read cannot be built.",
    "steps.md/ (a folder)",
    "steps.md (a file)",
)
FILE_TOO_LARGE = Kind(
    "INP05",
    "file-too-large",
    ERROR,
    "A file of the design is larger than 2 MB.",
    "A written design is a few kilobytes; a file this large is something else.",
    "design.toml of 40 MB",
    "design.toml of 12 kB",
)
NOT_UTF8 = Kind(
    "INP06",
    "not-utf8",
    ERROR,
    "A file holds bytes that are not UTF-8.",
    "Fractions, degree signs and names would be printed as other characters.",
    "design.toml saved as Latin-1 or UTF-16",
    "design.toml saved as UTF-8",
)
LINE_TOO_LONG = Kind(
    "INP07",
    "line-too-long",
    ERROR,
    "A line has more than 4000 characters.",
    "Nobody can find a mistake in such a line, and it is seldom meant.",
    'note = "..." (5000 characters in one line)',
    'note = """\n...\n"""',
)
TOML_SYNTAX = Kind(
    "INP08",
    "not-toml",
    ERROR,
    "A line of `design.toml`, or of a block in `steps.md`, breaks the rules of TOML.",
    "TOML takes lengths as texts in quotation marks, one key to a line, tables in square brackets.",
    "[sizes]\nwall = 12 mm",
    '[sizes]\nwall = "12 mm"',
)
WRITTEN_TWICE = Kind(
    "INP09",
    "written-twice",
    ERROR,
    "A key or a table is written twice.",
    "Two values for one thing: nobody can know which one is meant.",
    '[sizes]\nwall = "12 mm"\nwall = "10 mm"',
    '[sizes]\nwall = "12 mm"',
)
TOO_DEEP = Kind(
    "INP10",
    "nested-too-deep",
    ERROR,
    "Tables or lists are nested more than 32 deep.",
    "No design needs more than six levels; deeper nesting is a slip or a trap.",
    "points = [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[0]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]",
    'points = [["0 mm", "0 mm"]]',
)
UNKNOWN_KEY = Kind(
    "INP11",
    "unknown-key",
    ERROR,
    "A table has a key that means nothing there.",
    "A mistyped key would be passed over, and its value would be missed without a word.",
    '[stock.left]\nwod = "cherry"',
    '[stock.left]\nwood = "cherry"',
)
MISSING_KEY = Kind(
    "INP12",
    "missing-key",
    ERROR,
    "A table lacks a key that it must have.",
    "The value cannot be guessed.",
    '[shapes.drum]\nkind = "circle"\nat = ["0 mm", "0 mm"]',
    '[shapes.drum]\nkind = "circle"\nat = ["0 mm", "0 mm"]\nradius = "40 mm"',
)
WRONG_TYPE = Kind(
    "INP13",
    "wrong-type",
    ERROR,
    "A value is of another type than its key takes: a number for a text, a text for a list.",
    "Only a value of the right type can be read in one way.",
    "version = 1.0",
    'version = "1.0"',
)
NOT_A_CHOICE = Kind(
    "INP14",
    "not-a-choice",
    ERROR,
    "A value is none of the words that its key takes.",
    "The words are few and fixed, so that a mistyped one is noticed.",
    'face = "frnt"',
    'face = "front"',
)
WRONG_COUNT = Kind(
    "INP15",
    "wrong-count",
    ERROR,
    "A list has more or fewer values than it takes.",
    "A point on a face is two lengths, a point or size in space three.",
    'size = ["200 mm", "19 mm"]',
    'size = ["200 mm", "19 mm", "90 mm"]',
)
KEYS_AT_ODDS = Kind(
    "INP16",
    "keys-at-odds",
    ERROR,
    "Two keys of one table say the same thing twice, or contradict each other.",
    "A circle has one radius, a band is wider outside than inside, a range runs from less to more.",
    'radius = "20 mm"\ndiameter = "45 mm"',
    'radius = "20 mm"',
)
EMPTY_TEXT = Kind(
    "INP17",
    "empty-text",
    ERROR,
    "A text that is printed or looked up is empty.",
    "A booklet without a title or version cannot be told from another.",
    'title = ""',
    'title = "Curlew box"',
)
BAD_TEXT = Kind(
    "INP18",
    "bad-text",
    ERROR,
    "A text holds a control character, or a character that changes the direction of the text.",
    "Such characters are unseen, and what is printed would not be what is written.",
    'note = "keep \\u0007 clear"',
    'note = "keep clear"',
)
BAD_NAME = Kind(
    "INP19",
    "bad-name",
    ERROR,
    "A name is empty, longer than 80 characters, or holds braces, line ends or unseen characters.",
    "Names are printed on pictures and written in prose as `{name}`.",
    '[stock."left {side}"]',
    '[stock."left side"]',
)
SAME_NAME = Kind(
    "INP20",
    "same-name",
    ERROR,
    "Two names of one table differ only in capital letters.",
    "Read aloud in a workshop they are the same name.",
    '[sizes]\nwall = "12 mm"\nWall = "10 mm"',
    '[sizes]\nwall = "12 mm"\n"thin wall" = "10 mm"',
)
SIZE_NOT_IN_FORMULA = Kind(
    "INP21",
    "size-not-in-formula",
    Severity.WARNING,
    "A size has a name that no formula can use.",
    "In a formula a name is letters, digits and blanks; a hyphen would be a minus sign.",
    '[sizes]\nwall-thickness = "12 mm"',
    '[sizes]\n"wall thickness" = "12 mm"',
)
