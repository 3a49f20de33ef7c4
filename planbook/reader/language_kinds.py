"""Kinds of findings about a design in another language; not how they are found."""

from planbook.text import Kind, Severity

STEPS_DIFFER = Kind(
    "LAN01",
    "steps-differ",
    Severity.ERROR,
    "A translation of the steps has more or fewer steps than `steps.md`.",
    "Words of one step would be printed beside the picture of another.",
    "steps.md: 34 headings\nsteps.de.md: 33 headings",
    "steps.md: 34 headings\nsteps.de.md: 34 headings",
)
PLACEHOLDER_LOST = Kind(
    "LAN02",
    "placeholder-lost",
    Severity.ERROR,
    "A translation lacks a name in braces that the original has.",
    "The reader of the translation would not learn the size, or which piece is meant.",
    "Saw the {blank} {allowance} outside the line.\n\nDen {blank} außerhalb der Linie sägen.",
    "Saw the {blank} {allowance} outside the line.\n\nDen {blank} {allowance} außerhalb der Linie sägen.",
)
OPERATION_IN_TRANSLATION = Kind(
    "LAN03",
    "operation-in-translation",
    Severity.ERROR,
    "A translation of the steps holds an operation.",
    "Operations are carried out as they stand in `steps.md`; a second copy would soon differ from it.",
    '## Bohren\n\n```bore\npiece = "side"\n```',
    "## Bohren\n\nBohren Sie durch.",
)
NOTHING_CALLED_SO = Kind(
    "LAN04",
    "nothing-called-so",
    Severity.WARNING,
    "A translation has words for a name or text that the design does not have.",
    "They are printed nowhere; what they were meant for stays in the first language.",
    '[words]\n"left chek" = "linke Wange"',
    '[words]\n"left cheek" = "linke Wange"',
)
NOT_TRANSLATED = Kind(
    "LAN05",
    "not-translated",
    Severity.NOTE,
    "A design, or a part of it, is not told in the language of the booklet.",
    "What is missing is printed in the language of the design, and marked as such for those who have it read aloud.",
    "steps.md",
    "steps.md\nsteps.de.md\ndesign.de.toml",
)
NO_SUCH_LANGUAGE = Kind(
    "LAN06",
    "no-such-language",
    Severity.WARNING,
    "A file is named like a translation, but no booklet can be printed in that language.",
    "It would never be read.",
    "steps.dk.md",
    "steps.de.md",
)

ALL = (
    STEPS_DIFFER,
    PLACEHOLDER_LOST,
    OPERATION_IN_TRANSLATION,
    NOTHING_CALLED_SO,
    NOT_TRANSLATED,
    NO_SUCH_LANGUAGE,
)
