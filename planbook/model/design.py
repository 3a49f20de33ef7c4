"""Frozen records of a design as its maker wrote it; nothing here is computed from solids."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from planbook.handbook import BUILT_IN, Handbook
from planbook.model.pictures import Photo
from planbook.model.strokes import Drawn
from planbook.model.translation import Translation
from planbook.model.tree import Node
from planbook.model.written import Operation, Prose, Step
from planbook.text import Place, Sources
from planbook.units import Formula

Axis = Literal["x", "y", "z"]
FaceName = Literal["front", "back", "left", "right", "top", "bottom"]
FACES: tuple[FaceName, ...] = ("front", "back", "left", "right", "top", "bottom")
ORIGINS = ("lower left", "lower right", "lower middle", "middle", "world")


@dataclass(frozen=True, slots=True)
class Expr:
    """A formula and the place of its text (inside the quotes)."""

    formula: Formula
    place: Place


@dataclass(frozen=True, slots=True)
class Size:
    """A named size; its formula may use earlier sizes."""

    name: str
    expr: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class Stock:
    """A board as it stands in the blank: finished size and lower corner along x, y, z.

    A board of a batch has the name of the `batch`, and stands `nth` (from 0) times `step` beyond `at`.
    Boards with the same word in `match` are cut from one board, for grain or colour that match.
    """

    name: str
    wood: str
    size: tuple[Expr, Expr, Expr]
    at: tuple[Expr, Expr, Expr]
    grain: Axis
    rough: tuple[Expr, Expr, Expr] | None
    place: Place
    wood_place: Place
    batch: str = ""
    step: tuple[Expr, Expr, Expr] | None = None
    nth: int = 0
    match: str = ""


@dataclass(frozen=True, slots=True)
class Shape:
    """A plane shape: its kind, its fields by name (formulas, names of other shapes), what a drawing holds of it."""

    name: str
    kind: str
    fields: Mapping[str, Node]
    place: Place
    drawn: Drawn | None = None


@dataclass(frozen=True, slots=True)
class Hole:
    """A drill point of a stencil: its middle on the face and its diameter."""

    name: str
    at: tuple[Expr, Expr]
    diameter: Expr
    place: Place


@dataclass(frozen=True, slots=True)
class LineUse:
    """A named line of a stencil and the shape it follows."""

    name: str
    shape: str
    place: Place


@dataclass(frozen=True, slots=True)
class RegionUse:
    """A named region of a stencil: a point that lies in it."""

    name: str
    at: tuple[Expr, Expr]
    place: Place


@dataclass(frozen=True, slots=True)
class Stencil:
    """A sheet stuck on a face: lines to cut, regions they make, holes to bore. u right, v up, seen from outside."""

    name: str
    title: str
    number: int
    face: FaceName
    origin: str
    lines: tuple[LineUse, ...]
    regions: tuple[RegionUse, ...]
    holes: tuple[Hole, ...]
    note: str
    place: Place


@dataclass(frozen=True, slots=True)
class Tool:
    """A machine or tool with the setting that this design asks for. Lengths as formulas; `body` is of a blade."""

    name: str
    kind: str
    kerf: Expr | None
    kerf_range: tuple[Expr, Expr] | None
    width: Expr | None
    diameter: Expr | None
    capacity: Expr | None
    note: str
    place: Place
    body: Expr | None = None
    teeth_per_inch: float | None = None


@dataclass(frozen=True, slots=True)
class Supply:
    """Glue, finish, abrasive, lining or hardware; `product` is its row in the handbook."""

    name: str
    kind: str
    product: str
    count: int | None
    note: str
    place: Place


@dataclass(frozen=True, slots=True)
class Fit:
    """What must hold when the work is done: its kind and its fields by name."""

    name: str
    kind: str
    fields: Mapping[str, Node]
    place: Place


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do when something went wrong: what is seen, why it is so, what to do; `why` may be empty.

    It may belong to a piece, to a step (by number, 0 for none) and to a fit.
    """

    name: str
    seen: Prose
    why: Prose
    mend: Prose
    place: Place
    piece: str = ""
    piece_place: Place | None = None
    step: int = 0
    fit: str = ""

    @property
    def prose(self) -> tuple[Prose, Prose, Prose]:
        """All that it says, in order."""
        return self.seen, self.why, self.mend


@dataclass(frozen=True, slots=True)
class Varies:
    """What may turn out otherwise for a reader, as far as the maker says; None leaves it to the handbook.

    `sanding` and `thickness` are lengths, more or less; `humidity` is the least and the most relative humidity
    through the year in per cent, `built_at` that of the workshop; `temperature` is in deg C.
    """

    sanding: Expr | None = None
    thickness: Expr | None = None
    humidity: tuple[float, float] | None = None
    built_at: float | None = None
    temperature: float | None = None


@dataclass(frozen=True, slots=True)
class Card:
    """What the cover says: title, summary, version, maker, units of the design, skill, licence, price, use."""

    title: str
    summary: str
    version: str
    maker: str
    units: Literal["in", "mm"]
    skill: str
    licence: str
    price: str
    film: str
    place: Place
    made_for: tuple[str, ...] = ()
    load: str = ""
    made_for_place: Place | None = None
    language: str = "en"
    changes: Mapping[str, str] = field(default_factory=dict)
    film_moment: str = ""


@dataclass(frozen=True, slots=True)
class Named:
    """A name in a choice and what is taken in its place, each with its own place."""

    name: str
    by: str
    name_place: Place
    by_place: Place


@dataclass(frozen=True, slots=True)
class Choice:
    """Other woods and finishes for the same design: woods and boards by name, products by supply."""

    name: str
    title: str
    summary: str
    woods: tuple[Named, ...]
    stock: tuple[Named, ...]
    supplies: tuple[Named, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Design:
    """A whole design as read, with its source texts.

    `choice` is the one that was taken, and `written` the design as it was before; both are None where none was.
    """

    folder: str
    card: Card
    sizes: Mapping[str, Size]
    stock: Mapping[str, Stock]
    shapes: Mapping[str, Shape]
    stencils: Mapping[str, Stencil]
    tools: Mapping[str, Tool]
    supplies: Mapping[str, Supply]
    fits: Mapping[str, Fit]
    intro: str
    steps: tuple[Step, ...]
    sources: Sources = field(default_factory=dict)
    handbook: Handbook = BUILT_IN
    choices: Mapping[str, Choice] = field(default_factory=dict)
    choice: Choice | None = None
    written: "Design | None" = None
    varies: Varies = field(default_factory=Varies)
    translations: Mapping[str, Translation] = field(default_factory=dict)
    remedies: Mapping[str, Remedy] = field(default_factory=dict)
    photos: Mapping[str, Photo] = field(default_factory=dict)

    @property
    def operations(self) -> tuple[Operation, ...]:
        """Every operation of every step, in order."""
        return tuple(op for step in self.steps for op in step.operations)

    @property
    def line_names(self) -> tuple[str, ...]:
        """The names of the lines of all stencils, each once."""
        return tuple(dict.fromkeys(line.name for stencil in self.stencils.values() for line in stencil.lines))
