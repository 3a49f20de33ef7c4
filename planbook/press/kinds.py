"""Kinds of findings about a finished PDF that copies or corrections are to be made from."""

from planbook.text import Kind, Severity

NOT_A_MASTER = Kind(
    "COP01",
    "not-a-master",
    Severity.ERROR,
    "A file that copies or corrections are to be made from is not a PDF that this can be done with.",
    "A copy is the released booklet with the buyer's name added to it; a file that is damaged or locked with a "
    "password cannot take a name.",
    "planbook copies curlew-box.pdf --orders orders.csv --out copies  # a file that is broken",
    "planbook copies curlew-box@1.0 --orders orders.csv --out copies",
)
NO_ROOM = Kind(
    "COP02",
    "no-room-for-the-mark",
    Severity.ERROR,
    "A page has no free strip along an edge for the buyer's name, or the page is turned.",
    "The name must lie on no line and no word. The layouts of the house leave room; a layout of your own may not.",
    "@page { margin: 0 }",
    "@page { margin: 15mm }",
)
NO_SUCH_PAGE = Kind(
    "COP03",
    "no-such-page",
    Severity.ERROR,
    "A page is asked for that the booklet does not have.",
    "A correction sheet that lacks a page corrects nothing.",
    "planbook errata old.pdf new.pdf --pages 400 --out correction.pdf",
    "planbook errata old.pdf new.pdf --pages 5,7-8 --out correction.pdf",
)
NO_EDITION = Kind(
    "COP04",
    "no-such-edition",
    Severity.ERROR,
    "An edition is asked for that the release does not have.",
    "A release holds the booklets that were printed when it was made; none is built afterwards.",
    "planbook copies curlew-box@1.0 --orders orders.csv --out copies --edition a3-mm",
    "planbook copies curlew-box@1.0 --orders orders.csv --out copies --edition a4-mm",
)
NOTHING_TO_CORRECT = Kind(
    "COP05",
    "nothing-to-correct",
    Severity.ERROR,
    "No page of the new booklet differs from the old one.",
    "A correction sheet without pages tells its reader nothing.",
    "planbook errata curlew-box@1.0 curlew-box@1.0 --out correction.pdf",
    "planbook errata curlew-box@1.0 curlew-box@1.0.1 --out correction.pdf",
)

ALL: tuple[Kind, ...] = (NOT_A_MASTER, NO_ROOM, NO_SUCH_PAGE, NO_EDITION, NOTHING_TO_CORRECT)
