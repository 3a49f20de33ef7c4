"""What a booklet says, ready to be set: strings as printed, pictures as SVG; nothing is left to decide."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from markupsafe import Markup

from planbook.booklet.basics import Fact, Figure, FilmRow, Link, MarkRow, PhotoRow, Sheet
from planbook.booklet.bought_rows import BoardRow, CostPage, CutSection, ShoppingRow, SupplyRow

SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]

SLIM = 80.0
"""Measured drawings no wider than this, mm, stand two on a line."""


@dataclass(frozen=True, slots=True)
class PrecautionRow:
    """A general precaution: a headline that stands alone and the words under it."""

    headline: str
    text: str


@dataclass(frozen=True, slots=True)
class CautionRow:
    """A caution at a step in full, or `recalled` ones of earlier steps, under a signal word of ANSI Z535.4."""

    signal: SignalWord
    text: str
    recalled: tuple[Link, ...] = ()

    @property
    def about_injury(self) -> bool:
        """Whether the alert symbol belongs to it: NOTICE is not about injury and has none (ANSI Z535.4)."""
        return self.signal != "NOTICE"


@dataclass(frozen=True, slots=True)
class PieceRow:
    """Pieces that are alike: numbers, small picture, wood, size, the step that makes them and those that take them.

    `others` are the ids of the further pieces that share the row.
    """

    number: str
    name: str
    anchor: str
    figure: Figure | None
    wood: str
    size: str
    made: Link | None
    used: tuple[Link, ...]
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetRow:
    """The measured drawing of pieces that are alike: their numbers and names."""

    numbers: str
    names: str
    figure: Figure

    @property
    def slim(self) -> bool:
        """Whether another finds room beside it."""
        return self.figure.width <= SLIM


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step: its pictures, its words, what to set, what to beware of and how long to wait.

    `across` are the settings by rows of two (or one that is long), where they take less of the page below picture and
    words than under the words; else it is empty. A `broad` picture has the words below it, a `high` one
    is printed as high as it is in any layout. Settings are `wordy` where large type has more room for them across the
    page, with the words beside the picture instead of below; words are `lengthy` where in large type they run on far
    below a picture they stand beside.
    `later` are what is set after the wait, in rows as `across` in `later_across`.
    The languages of heading and words are empty where they are that of the booklet. `photos` are the maker's; `remarks`
    say what the drawings do not show. `meanwhile` and `undone` are later and earlier steps for the wait.
    """

    number: int
    anchor: str
    title: str
    figures: tuple[Figure, ...]
    body: tuple[Markup, ...]
    settings: tuple[Fact, ...]
    cautions: tuple[CautionRow, ...]
    wait: str
    meanwhile: tuple[Link, ...] = ()
    across: tuple[tuple[Fact, ...], ...] = ()
    later: tuple[Fact, ...] = ()
    later_across: tuple[tuple[Fact, ...], ...] = ()
    broad: bool = False
    high: bool = False
    title_language: str = ""
    language: str = ""
    wordy: bool = False
    lengthy: bool = False
    photos: tuple[PhotoRow, ...] = ()
    film: FilmRow | None = None
    remarks: tuple[str, ...] = ()
    undone: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class DayRow:
    """One day: the steps to do, each with what it is about, how long that takes, and what rests overnight.

    `idle` says what rests on a day that has nothing to do.
    """

    number: str
    steps: tuple[tuple[Link, str], ...]
    work: str
    overnight: str
    idle: str = ""


@dataclass(frozen=True, slots=True)
class TimePage:
    """How long it takes: facts, pictures of the days, and the days; `day` is the working day that is assumed.

    `waits` is whether anything rests that leaves hands free.
    """

    facts: tuple[Fact, ...]
    days: tuple[DayRow, ...]
    day: str
    waits: bool
    pictures: tuple[Figure, ...] = ()


@dataclass(frozen=True, slots=True)
class FitRow:
    """Fits that were measured in the simulated build, and are alike: what was asked and what was found.

    `worst` is the tightest (or loosest) of the whole range that was proved, and `corner` when that is so.
    """

    name: str
    what: str
    asked: str
    found: str
    worst: str = ""
    corner: str = ""


@dataclass(frozen=True, slots=True)
class RemedyRow:
    """What is seen, why it is so and what to do; the step, the piece and the fit that it is about.

    Its language is empty where it is that of the booklet.
    """

    seen: Markup
    why: Markup
    mend: Markup
    step: Link | None
    piece: Link | None
    fit: str
    language: str = ""


@dataclass(frozen=True, slots=True)
class MovedRow:
    """Fits that measure alike: what was found, and what makes that less and more, each with by how much.

    `before` leads to the step that joins the pieces, after which nothing can be eased.
    """

    names: tuple[str, ...]
    drawn: str
    less: tuple[Fact, ...]
    more: tuple[Fact, ...]
    before: Link | None


@dataclass(frozen=True, slots=True)
class FitHelp:
    """Fits of one sort: what to do by what is seen, and the fits; `varies` is whether anything moves one of them."""

    title: str
    advice: tuple[Fact, ...]
    rows: tuple[MovedRow, ...]
    varies: bool


@dataclass(frozen=True, slots=True)
class ChoiceColumn:
    """A choice of woods; without a title it is the design as written. `taken` is the one this copy is for."""

    title: str
    summary: str
    taken: bool


@dataclass(frozen=True, slots=True)
class ChoiceRow:
    """Boards, or a supply, and what they are of in each column."""

    name: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choices:
    """The choices of woods side by side; title and summary of the one taken, empty for the design as written."""

    title: str
    summary: str
    columns: tuple[ChoiceColumn, ...]
    rows: tuple[ChoiceRow, ...]


@dataclass(frozen=True, slots=True)
class StencilRow:
    """A full page at true size: `figure` is as large as its sheet."""

    anchor: str
    title: str
    figure: Figure


@dataclass(frozen=True, slots=True)
class Book:
    """A whole booklet. Empty parts are left out of it; a `sample` is marked on every page, as a draft is.

    With `both`, sizes stand in two units and take more room. `foreign` are the languages of the parts (title,
    summary, intro, licence, names) that are not in the language of the booklet; `changes` what each version changed.
    `ways` says that the exploded view shows the ways of pieces as lines, `joined` that the list holds more than it.
    """

    title: str
    summary: str
    maker: str
    version: str
    language: str
    unit: Literal["mm", "in"]
    sheet: Sheet
    draft: bool
    cover: Figure | None
    intro: Markup
    facts: tuple[Fact, ...]
    ruler: Figure
    marks: tuple[MarkRow, ...]
    precautions: tuple[PrecautionRow, ...]
    tools: tuple[SupplyRow, ...]
    supplies: tuple[SupplyRow, ...]
    boards: tuple[BoardRow, ...]
    lumber: tuple[Fact, ...]
    diagrams: tuple[Figure, ...]
    exploded: Figure | None
    pieces: tuple[PieceRow, ...]
    sheets: tuple[SheetRow, ...]
    steps: tuple[StepRow, ...]
    fits: tuple[FitRow, ...]
    proved: str
    stencils: tuple[StencilRow, ...]
    licence: Markup
    colophon: tuple[Fact, ...]
    choices: Choices | None = None
    time: TimePage | None = None
    cost: CostPage | None = None
    shopping: tuple[ShoppingRow, ...] = ()
    cutting: tuple[CutSection, ...] = ()
    ink: Literal["colour", "black"] = "colour"
    both: bool = False
    sample: bool = False
    foreign: Mapping[str, str] = field(default_factory=dict)
    changes: tuple[Fact, ...] = ()
    remedies: tuple[RemedyRow, ...] = ()
    fit_helps: tuple[FitHelp, ...] = ()
    ways: bool = False
    joined: bool = False
    unmeasured: str = ""
    closely: bool = False

    @property
    def knotty(self) -> bool:
        """Whether a board is of solid wood, in which there may be knots."""
        return not all(row.sheet for row in self.boards)

    @property
    def keeps_offcuts(self) -> bool:
        """Whether a cut layout has an offcut worth keeping."""
        return any(sheet.offcuts for section in self.cutting for sheet in section.sheets)

    @property
    def sheet_lines(self) -> tuple[tuple[SheetRow, ...], ...]:
        """The measured drawings: two that are slim and follow one another stand side by side."""
        lines: list[tuple[SheetRow, ...]] = []
        for row in self.sheets:
            if lines and len(lines[-1]) == 1 and lines[-1][0].slim and row.slim:
                lines[-1] = (lines[-1][0], row)
            else:
                lines.append((row,))
        return tuple(lines)
