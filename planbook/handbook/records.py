"""The frozen records of the handbook: one class per table, each row with its source and its standing."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planbook.handbook.timber import change_coefficient, density, gravity_at

Standing = Literal["published", "common practice", "from memory", "the maker's own"]
"""How far a row can be trusted: seen in print, agreed in the trade, remembered and not yet checked, or as its maker
says: such rows stand in the folder of a design, none in the tables of the program."""

STANDINGS: tuple[str, ...] = ("published", "common practice", "from memory")

SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
"""The signal words of ANSI Z535.4 (2007), 4.14: DANGER will, WARNING could, cause death or serious injury;
CAUTION could cause minor or moderate injury; NOTICE is not about injury."""

SIGNALS: tuple[SignalWord, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")

FIGURES: tuple[str, ...] = (
    "plain",
    "straight",
    "cathedral",
    "fleck",
    "ripple",
    "pores",
    "ribbon",
    "bands",
    "layers",
    "speckle",
)
"""Names of the line patterns a picture may lay over a tint."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row has: a plain lower-case name, other names for it, its source and its standing.

    `remembered` names the fields that are from memory in an otherwise published row.
    """

    name: str
    source: str
    standing: Standing
    aliases: tuple[str, ...] = ()
    remembered: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood(Row):
    """A wood or sheet material.

    Shrinkage is in per cent of the green size, green to ovendry. Specific gravity is ovendry mass over volume
    at the stated moisture. `change_*` is the fractional change of size per point of moisture content, valid
    from 6 to 14 %; for sheet goods both figures are in the plane of the sheet. `dust` completes the sentence
    "The dust of this wood ..."; its potency runs from + to ++++. `tint` and `figure` are for pictures only.
    """

    latin: str
    group: Literal["hardwood", "softwood", "sheet"]
    shrink_radial: float | None = None
    shrink_tangential: float | None = None
    shrink_volumetric: float | None = None
    gravity_green: float | None = None
    gravity_12: float | None = None
    change_radial: float | None = None
    change_tangential: float | None = None
    dust: str = ""
    dust_site: tuple[str, ...] = ()
    dust_potency: str = ""
    dust_source: str = ""
    tint: str
    figure: str

    @property
    def density_12(self) -> float:
        """Density at 12 % moisture in kg/m3 by Wood Handbook Eq. 4-14.

        The tabulated gravity at 12 % is used where there is one, else that from the green gravity (Eq. 4-11).
        Raises ValueError when the wood has neither.
        """
        if self.gravity_12 is not None:
            return density(self.gravity_12, 12)
        if self.gravity_green is None:
            raise ValueError(f"{self.name} has no specific gravity")
        return density(gravity_at(self.gravity_green, self.shrink_volumetric, 12), 12)

    @property
    def coefficient_radial(self) -> float | None:
        """Radial change per point of moisture: the tabulated figure, else from the shrinkage, else None."""
        return _coefficient(self.change_radial, self.shrink_radial)

    @property
    def coefficient_tangential(self) -> float | None:
        """Tangential change per point of moisture: as tabulated, else from the shrinkage, else None."""
        return _coefficient(self.change_tangential, self.shrink_tangential)


def _coefficient(tabulated: float | None, shrinkage: float | None) -> float | None:
    if tabulated is not None or shrinkage is None:
        return tabulated
    return change_coefficient(shrinkage)


@dataclass(frozen=True, slots=True, kw_only=True)
class Blade(Row):
    """A kind of saw blade; lengths in millimetres. `least_radius_mm` is a published figure, or None."""

    kind: Literal["band saw", "scroll saw", "table saw", "hand saw"]
    width_mm: Fraction | None = None
    kerf_mm: Fraction
    kerf_min_mm: Fraction
    kerf_max_mm: Fraction
    body_mm: Fraction
    teeth_per_inch: float | None = None
    least_radius_mm: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue(Row):
    """A glue: minutes it stays open, is clamped and takes to cure; grams for a square metre of joint."""

    kind: str
    open_minutes: float
    clamp_minutes: float
    cure_minutes: float
    spread_g_m2: float
    gap_filling: bool
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish(Row):
    """A finish: square metres a litre covers, usual coats, minutes between them, days to cure."""

    kind: Literal["drying oil", "shellac", "lacquer", "wax", "varnish", "waterborne", "paint"]
    coverage_m2_per_litre: float
    coats: int
    recoat_minutes: float
    cure_days: float
    flammable: bool
    oily_rags: bool
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Abrasive(Row):
    """A FEPA P grit and its average particle size in micrometres."""

    grit: int
    micrometres: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper(Row):
    """A sheet of paper, upright, in exact millimetres, with the edge most printers cannot reach."""

    width_mm: Fraction
    height_mm: Fraction
    margin_mm: Fraction
    margin_source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lining(Row):
    """A lining: how much of it (`unit`) a square metre takes, what sticks it down, hours to wait."""

    kind: str
    unit: Literal["m2", "g", "ml"]
    amount_per_m2: float
    adhesive: str
    wait_hours: float
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate(Row):
    """Hands-on minutes of an operation: to set up once, and for each unit of work."""

    setup_minutes: float
    unit_minutes: float
    unit: Literal["cut metre", "hole", "m2", "joint", "piece", "plug", "edge metre", "pass"]

    def minutes(self, amount: float) -> float:
        """Hands-on minutes for an amount of work in the row's own unit."""
        return self.setup_minutes + self.unit_minutes * amount


@dataclass(frozen=True, slots=True, kw_only=True)
class LumberSize(Row):
    """A nominal size of lumber and what is left of it when dressed, in millimetres."""

    kind: Literal["hardwood thickness", "softwood thickness", "softwood width"]
    nominal_mm: Fraction
    dressed_mm: Fraction
    one_side_mm: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize(Row):
    """A common size of a sheet material, in millimetres."""

    width_mm: Fraction
    length_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Row):
    """A limit that the review goes by: a length in millimetres, or a plain number of what `unit` says."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardSize(Row):
    """A width, length or metric thickness in which boards are sold; `planed_mm` is what planing leaves of it."""

    kind: Literal[
        "hardwood thickness",
        "hardwood width",
        "hardwood length",
        "softwood thickness",
        "softwood width",
        "softwood length",
    ]
    system: Literal["in", "mm"]
    size_mm: Fraction
    planed_mm: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting(Row):
    """What is allowed for when stock is cut up, in millimetres.

    `edge_trim_mm` comes off each long edge, `end_trim_mm` off each end of what is bought; `squaring_*_mm` is
    added to a part without a rough size; an offcut of the `keep_*_mm` size is worth keeping; a board up to
    `plane_off_mm` too thick is planed down.
    """

    stock: Literal["lumber", "bar", "sheet"]
    system: Literal["in", "mm"]
    kerf_mm: Fraction
    edge_trim_mm: Fraction
    end_trim_mm: Fraction
    squaring_width_mm: Fraction
    squaring_length_mm: Fraction
    keep_width_mm: Fraction
    keep_length_mm: Fraction
    plane_off_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Package(Row):
    """How much of a supply is sold at once; for an abrasive, the area that one sheet sands."""

    kind: Literal["glue", "finish", "lining", "abrasive"]
    unit: Literal["ml", "g", "m2"]
    amount: Fraction
    system: Literal["in", "mm"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """A caution: its signal word, its subject, and plain sentences: hazard, consequence, how to avoid.

    `called` is what it is called in running words where its name is that of an operation. That of a wood's dust also
    has the `effect` and the `sites` that its sentences are made of, for other languages.
    """

    signal: SignalWord
    about: Literal["operation", "tool", "supply", "wood", "geometry"]
    subject: str
    hazard: str
    consequence: str
    avoid: str
    called: str = ""
    effect: str = ""
    sites: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """The name of the caution, under which it is looked up."""
        return self.name

    @property
    def text(self) -> str:
        """The whole caution in running words, without the signal word."""
        return f"{self.hazard} {self.consequence} {self.avoid}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Precaution(Row):
    """One item of the page of general precautions: a headline that stands alone, and what to do."""

    headline: str
    text: str
