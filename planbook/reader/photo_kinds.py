"""Kinds of findings about photos, a film, and what else the words of a step bring with them; not how they are found."""

from planbook.text import Kind, Severity

ERROR, WARNING = Severity.ERROR, Severity.WARNING

NOT_A_PHOTO = Kind(
    "PHO01",
    "photo-not-readable",
    ERROR,
    "A photo is damaged, is no JPEG or PNG, or is another sort of picture than its name says.",
    "Half a picture would be printed, or none.",
    "![The lid from below](lid.heic)",
    "![The lid from below](lid.jpg)",
)
TOO_MANY_DOTS = Kind(
    "PHO02",
    "photo-too-large",
    ERROR,
    "A photo has more than 50 million dots.",
    "It is refused before it is unpacked, which would take the memory of a whole build; paper shows about a million.",
    "![The panorama](shore.jpg) (24000 x 9000 dots)",
    "![The panorama](shore.jpg) (4000 x 1500 dots)",
)
FROM_ELSEWHERE = Kind(
    "PHO03",
    "photo-from-elsewhere",
    ERROR,
    "A photo is asked for by an address, not by the name of a file in the folder of the design.",
    "Nothing is loaded from the network: the plan would depend on it, and somebody would learn who reads it.",
    "![The lid](https://pictures.example/lid.jpg)",
    "![The lid](lid.jpg)",
)
TOO_COARSE = Kind(
    "PHO04",
    "photo-too-coarse",
    WARNING,
    "A photo has fewer than 120 dots to the inch at the size at which it is printed.",
    "Its dots would be seen, and what it is to show would not. Photos are made smaller for paper, never larger.",
    "![The lid](thumbnail.jpg) (320 x 240 dots)",
    "![The lid](lid.jpg) (1600 x 1200 dots)",
)
WITHOUT_WORDS = Kind(
    "PHO05",
    "photo-without-words",
    WARNING,
    "A photo has no alternative text.",
    "Who has the plan read aloud would only hear that there is a photo.",
    "![](lid.jpg)",
    "![The lid from below, its groove to the left](lid.jpg)",
)
A_STRIP = Kind(
    "PHO06",
    "photo-a-strip",
    WARNING,
    "A photo is so long and narrow that less than 15 mm is left of its narrow side on the page.",
    "Nobody would make out what is in it.",
    "![The edge](edge.jpg) (3000 x 150 dots)",
    "![The edge](edge.jpg) (3000 x 1500 dots, cut to what matters)",
)
OUTSIDE_STEPS = Kind(
    "PHO07",
    "photo-outside-steps",
    WARNING,
    "A photo stands before the first step.",
    "Photos are printed in steps; of this one only its words are.",
    "# Curlew box\n\n![The box](box.jpg)\n\n## Glue up the blank",
    "# Curlew box\n\n## Glue up the blank\n\n![The blank in its clamps](blank.jpg)",
)
SEVERAL_IN_ONE = Kind(
    "PHO08",
    "photo-moves",
    WARNING,
    "A picture file holds several pictures that follow one another.",
    "Paper shows the first of them.",
    "![The drawer slides in](drawer.png) (12 pictures)",
    "![The drawer half way in](drawer.png)",
)
UNSURE_COLOURS = Kind(
    "PHO09",
    "photo-colours-unsure",
    WARNING,
    "A photo is in four printing colours and does not say which, or its colour profile cannot be used.",
    "What its numbers look like is then a guess, and the wood may come out in another colour.",
    "![The lid](lid-cmyk.jpg)",
    "![The lid](lid.jpg) (saved in sRGB)",
)
NOT_UNDERSTOOD = Kind(
    "PHO10",
    "photo-not-understood",
    WARNING,
    "Words look like a photo, but are not written as Markdown wants it; they are printed as they stand.",
    "A name with blanks has to stand in angle brackets.",
    "![The lid](the lid.jpg)",
    "![The lid](<the lid.jpg>)",
)
HTML = Kind(
    "PHO11",
    "html-in-words",
    WARNING,
    "The words of a step hold HTML.",
    "It is printed as text and never run: a plan goes to paper, and to people who do not know who wrote it.",
    "Saw <b>slowly</b>.",
    "Saw **slowly**.",
)
LINK_NOWHERE = Kind(
    "PHO12",
    "link-not-printed",
    WARNING,
    "A link does not lead to the web, by `http://` or `https://`.",
    "A reader of the booklet has no such file; only the words of the link are printed.",
    "See [the jig](../jigs/fence.html).",
    "See [the jig](https://saltmarsh.example/jigs/fence).",
)
NOT_AN_ADDRESS = Kind(
    "FIL01",
    "film-not-an-address",
    ERROR,
    "The address of a film is no web address, has characters that none can have, or is longer than 300 characters.",
    "It is printed as a link and as a code to scan: whoever follows it must come to the film and nowhere else.",
    'film = "javascript:play()"',
    'film = "https://film.example/saltmarsh/curlew-box"',
)
BAD_PATTERN = Kind(
    "FIL02",
    "film-pattern-unfit",
    ERROR,
    "A pattern for the moments of a film does not say in which seconds, or has another name in braces.",
    "How an address names a moment differs from place to place; the pattern says it, and it is never guessed.",
    'film_moment = "https://film.example/saltmarsh/curlew-box?from={time}"',
    'film_moment = "https://film.example/saltmarsh/curlew-box?from={seconds}"',
)
NO_FILM = Kind(
    "FIL03",
    "moment-without-film",
    ERROR,
    "A step names a moment of a film, and the design names no film.",
    "There is nothing that the reader could be led to.",
    '```film\nat = "4 min 10 s"\n```',
    'film = "https://film.example/saltmarsh/curlew-box"  # in design.toml\n\n```film\nat = "4 min 10 s"\n```',
)
BAD_MOMENT = Kind(
    "FIL04",
    "moment-not-readable",
    ERROR,
    "A `film` block does not say when, by one time such as `4 min 10 s`, of less than a day.",
    "The link and the code to scan would lead to another place of the film.",
    '```film\nat = "4:10"\n```',
    '```film\nat = "4 min 10 s"\n```',
)
TWO_MOMENTS = Kind(
    "FIL05",
    "two-moments",
    ERROR,
    "A step names two moments of the film.",
    "It has room for one code to scan; two side by side would be scanned by mistake for each other.",
    '```film\nat = "4 min"\n```\n\n```film\nat = "5 min"\n```',
    '```film\nat = "4 min"\n```',
)

ALL: tuple[Kind, ...] = tuple(kind for kind in tuple(vars().values()) if isinstance(kind, Kind))
