"""The tables of `design.toml` other than shapes and fits: which keys they have, of which type, and why."""

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BaseModel, ConfigDict, Field

from planbook.model import Axis, FaceName
from planbook.reader.fields import (
    Batch,
    Box,
    Celsius,
    Count,
    Depth,
    Extent,
    Filled,
    Humidities,
    Humidity,
    OnlyTable,
    PieceName,
    Places,
    Point,
    Purposes,
    Range,
    ShapeName,
    Shift,
    Teeth,
    Version,
    WoodName,
    Words,
)

Origin = Literal["lower left", "lower right", "lower middle", "middle", "world"]

NAMES: dict[str, Any] = {"propertyNames": {"minLength": 1, "maxLength": 80, "pattern": "^[^{}\\n\\r\\t]+$"}}


def _titled(name: str, _info: Any) -> str:
    return name.rstrip("_").replace("_", " ").capitalize()


class Table(BaseModel):
    """A table of a design file. The rules say what a type cannot: which keys exclude or need each other."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, field_title_generator=_titled)

    exactly_one: ClassVar[tuple[tuple[str, ...], ...]] = ()
    at_least_one: ClassVar[tuple[tuple[str, ...], ...]] = ()
    by_kind: ClassVar[Mapping[str, tuple[str, ...]]] = {}

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys as they are written."""
        return tuple(info.alias or name for name, info in cls.model_fields.items())

    @classmethod
    def example(cls, key: str) -> str:
        """How the value of a key may be written, or an empty text."""
        for name, info in cls.model_fields.items():
            if key == (info.alias or name) and info.examples:
                return str(info.examples[0])
        return ""


class CardTable(Table):
    """What the cover says. These keys stand at the top of the file."""

    title: Filled = Field(description="The name of the thing, as the cover shows it.", examples=['"Curlew box"'])
    summary: Words = Field("", description="One or two sentences for the cover and the listing.")
    version: Version = Field(description="The version of the plan, such as 1.0.", examples=['"1.0"'])
    maker: Filled = Field(description="Who sells the plan.", examples=['"Saltmarsh Workshop"'])
    units: Literal["mm", "in"] = Field(
        description="The units in which the design was drawn: mm or in.", examples=['"mm"']
    )
    skill: Words = Field("", description="What the reader should be able to do already, in a few words.")
    licence: Words = Field("", description="What a buyer may do with the plan and with what is built from it.")
    price: Words = Field("", description="The price as the listing shows it.")
    film: Words = Field("", description="The address of a film of the build.")
    film_moment: Words = Field(
        "",
        description="The address of a moment of the film, with {seconds} where the seconds from its start stand, or "
        "with {h}, {min} and {s}.",
        examples=['"https://film.example/curlew-box?from={seconds}"'],
    )
    handbook: Filled | None = Field(
        None,
        description="A file in the folder with rows of your own for the handbook; `handbook.toml` if left out.",
        examples=['"my-rows.toml"'],
    )
    language: Literal["en", "de", "es", "fr"] = Field(
        "en", description="The language in which the design is written.", examples=['"en"']
    )
    made_for: Purposes = Field(
        default_factory=list,
        description="What it will be used for, where that asks for care: the wall, a seat, small children, food.",
        examples=['["wall"]'],
    )
    load: Words = Field("", description="The greatest load that it is made to carry, as the booklet says it.")
    changes: Annotated[dict[str, Words], OnlyTable] = Field(
        default_factory=dict,
        description="What changed, by version, the newest first.",
        examples=['{ "1.1" = "The runner is 0.2 mm thinner." }'],
        json_schema_extra=NAMES,
    )


class TranslationTable(Table):
    """What `design.toml` says, in another language; what is left out stays as it is there."""

    title: Words = Field("", description="The name of the thing, as the cover shows it.")
    summary: Words = Field("", description="One or two sentences for the cover and the listing.")
    skill: Words = Field("", description="What the reader should be able to do already, in a few words.")
    licence: Words = Field("", description="What a buyer may do with the plan and with what is built from it.")
    price: Words = Field("", description="The price as the listing shows it.")
    load: Words = Field("", description="The greatest load that it is made to carry, as the booklet says it.")
    words: Annotated[dict[str, Words], OnlyTable] = Field(
        default_factory=dict,
        description="Names of pieces, tools and supplies, titles, notes and other texts, each with its translation.",
    )


class StockTable(Table):
    """A board as it stands in the blank, finished size; with `count`, a batch of alike boards `leg 1`, `leg 2` ..."""

    wood: WoodName = Field(description="A wood of the handbook.", examples=['"cherry"'])
    size: Box = Field(
        description="Finished size along x (right), y (back) and z (up).",
        examples=['["200 mm", "19 mm", "90 mm"]'],
    )
    at: Places | None = Field(
        None,
        description="Where its lower front left corner stands, zeros if left out; for a batch, a list of such places.",
        examples=['["0 mm", "19 mm", "0 mm"]'],
    )
    count: Batch | None = Field(
        None, description="How many alike boards there are, named after this one with a number."
    )
    step: Shift | None = Field(
        None,
        description="How far each board of a batch stands from the one before, along x, y and z.",
        examples=['["60 mm", "0 mm", "0 mm"]'],
    )
    grain: Axis = Field(description="The direction of the grain.", examples=['"x"'])
    rough: Box | None = Field(None, description="Rough size to buy or to cut first, along x, y and z.")
    match: Words = Field(
        "",
        description="A word shared by boards that must come from one board, so that grain and colour match.",
        examples=['"face pair"'],
    )


class HoleTable(Table):
    """A drill point of a stencil."""

    at: Point = Field(description="Its middle, to the right and up from the origin.", examples=['["0 mm", "0 mm"]'])
    diameter: Extent = Field(description="The diameter of the hole.", examples=['"8 mm"'])


class StencilTable(Table):
    """A sheet that is stuck on a face: lines to cut, regions they make, holes to bore."""

    title: Filled = Field(description="The title printed on the sheet.", examples=['"Front"'])
    face: FaceName = Field(description="The face it is stuck on.", examples=['"front"'])
    origin: Origin = Field("lower left", description="The point of the face from which its lengths are counted.")
    lines: Annotated[dict[str, ShapeName], OnlyTable] = Field(
        default_factory=dict,
        description="The lines to cut: a name for each, and the shape it follows. The names of several are printed.",
        json_schema_extra=NAMES,
    )
    regions: Annotated[dict[str, Point], OnlyTable] = Field(
        default_factory=dict,
        description="The parts that the lines make: a name for each, and a point that lies in it.",
        json_schema_extra=NAMES,
    )
    holes: Annotated[dict[str, Annotated[HoleTable, OnlyTable]], OnlyTable] = Field(
        default_factory=dict, description="The holes to bore, each with a name.", json_schema_extra=NAMES
    )
    note: Words = Field("", description="A sentence printed on the sheet.")


SAWS = ("band saw", "scroll saw", "table saw", "hand saw")
ToolKind = Literal[
    "band saw",
    "scroll saw",
    "table saw",
    "hand saw",
    "drill",
    "drum sander",
    "disc sander",
    "hand sanding",
    "router",
    "plane",
    "clamps",
    "other",
]


class ToolTable(Table):
    """A machine or tool with the setting that this design asks for."""

    by_kind: ClassVar[Mapping[str, tuple[str, ...]]] = {"kerf": SAWS, "diameter": ("drill",)}

    kind: ToolKind = Field(description="What kind of tool it is.", examples=['"band saw"'])
    width: Extent | None = Field(None, description="Width of the blade, belt or cutter.")
    kerf: Extent | None = Field(None, description="Width of the cut that a saw makes.", examples=['"1 mm"'])
    kerf_range: Range | None = Field(None, description="The least and the most kerf for which the plan must work.")
    diameter: Extent | None = Field(None, description="Diameter of a drill, drum or cutter.", examples=['"8 mm"'])
    capacity: Extent | None = Field(None, description="The tallest, deepest or widest work it takes.")
    body: Extent | None = Field(None, description="Thickness of a saw blade behind its teeth.")
    teeth_per_inch: Teeth | None = Field(None, description="Teeth in an inch of a saw blade, such as 6.")
    note: Words = Field("", description="A sentence for the list of tools.")


SupplyKind = Literal["glue", "finish", "abrasive", "lining", "hardware", "other"]


class SupplyTable(Table):
    """Something that is used up, or screwed on."""

    by_kind: ClassVar[Mapping[str, tuple[str, ...]]] = {"product": ("glue", "finish", "lining")}

    kind: SupplyKind = Field(description="What kind of supply it is.", examples=['"glue"'])
    product: Words = Field(
        "",
        description="Its row in the handbook; free for hardware and others.",
        examples=['"yellow wood glue"'],
    )
    count: Count | None = Field(None, description="How many, where it is counted.")
    note: Words = Field("", description="A sentence for the list of supplies.")


class ChoiceTable(Table):
    """Other woods and finishes for the same design."""

    at_least_one = (("woods", "stock", "supplies"),)

    title: Words = Field("", description="What the booklet calls it; its name if left out.", examples=['"By the fire"'])
    summary: Words = Field("", description="A sentence about how it looks and behaves.")
    woods: Annotated[dict[str, WoodName], OnlyTable] = Field(
        default_factory=dict,
        description="Woods of the design, and the wood that each board of it is of instead.",
        json_schema_extra=NAMES,
    )
    stock: Annotated[dict[str, WoodName], OnlyTable] = Field(
        default_factory=dict,
        description="Boards by name, and the wood each is of instead; they go before `woods`.",
        json_schema_extra=NAMES,
    )
    supplies: Annotated[dict[str, Filled], OnlyTable] = Field(
        default_factory=dict,
        description="Supplies by name, and the product of the handbook that is used instead.",
        json_schema_extra=NAMES,
    )


class RemedyTable(Table):
    """What a reader can do when something went wrong, in your own words: Markdown, with names in braces."""

    seen: Filled = Field(
        description="What the reader sees or feels, as a short sentence.",
        examples=['"The drawer sticks half way."'],
    )
    why: Words = Field("", description="Why it is so.")
    mend: Filled = Field(
        description="What to do.", examples=['"Pare the dried glue off with a chisel; leave the side as it is."']
    )
    piece: PieceName | None = Field(None, description="The piece it is about.", examples=['"drawer"'])
    step: Filled | None = Field(
        None, description="The heading of the step where it shows.", examples=['"Glue up the drawer"']
    )
    fit: Filled | None = Field(
        None, description="The fit it is about, by its name in `[fits]`.", examples=['"drawer slides"']
    )


class VariesTable(Table):
    """What may turn out otherwise for a reader. Every fit must hold in all of it."""

    sanding: Depth | None = Field(
        None, description="How much more or less may come off a sanded face.", examples=['"0.1 mm"']
    )
    thickness: Depth | None = Field(
        None, description="How much thicker or thinner milled boards may be.", examples=['"0.1 mm"']
    )
    humidity: Humidities | None = Field(
        None,
        description="The least and the most relative humidity through the year where the work is kept, in per cent.",
        examples=["[25, 65]"],
    )
    built_at: Humidity | None = Field(
        None, description="The relative humidity where it is built, in per cent; the middle if left out.", examples=[45]
    )
    temperature: Celsius | None = Field(None, description="The temperature there, in degrees Celsius.", examples=[20])
