"""The rows of a handbook of the maker's own: which keys each table has, why, and the handbook's record of each."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import Field

from planbook.handbook import (
    OPERATIONS,
    SUPPLIES,
    Abrasive,
    Blade,
    Finish,
    Glue,
    Lining,
    LumberSize,
    Rate,
    Row,
    SheetSize,
    Wood,
    rate,
)
from planbook.reader.book_fields import (
    Amount,
    Change,
    Coverage,
    Density,
    Grain,
    Gravity,
    Names,
    Percent,
    Size,
    Spread,
    Teeth,
    Time,
    Tint,
)
from planbook.reader.fields import Count, Filled, Flag, Words
from planbook.reader.tables import Table

OWN: Literal["the maker's own"] = "the maker's own"
WATER_12 = 1.12
"""Mass of wood at 12 % moisture for each part of dry wood (Wood Handbook Eq. 4-14)."""
MINUTES_A_DAY, MINUTES_AN_HOUR = 1440, 60


@dataclass(frozen=True, slots=True)
class Odd:
    """What cannot be so: the key it is written at, in words that follow "in wood `bog oak`, "; or no such choice."""

    key: str
    words: str
    value: str = ""
    choices: tuple[str, ...] = ()


class OwnRow(Table):
    """A row of the maker's own."""

    source: Filled = Field(
        description="Where the figures come from, in your own words: it is printed.",
        examples=['"the merchant\'s data sheet, 2024"'],
    )
    also_called: Names = Field(default_factory=list, description="Other names that mean the same.")

    def head(self, name: str) -> dict[str, Any]:
        """What every row of the handbook has."""
        return {"name": name, "source": self.source, "standing": OWN, "aliases": tuple(self.also_called)}

    def odds(self, name: str) -> Iterator[Odd]:
        """What in the row cannot be so."""
        return iter(())

    def row(self, name: str) -> Row:
        """The record for the handbook."""
        raise NotImplementedError


class WoodRow(OwnRow):
    """A wood or sheet material."""

    group: Literal["hardwood", "softwood", "sheet"] = Field(description="Which kind of wood.", examples=['"hardwood"'])
    latin: Words = Field("", description="Its botanical name.")
    gravity: Gravity | None = Field(
        None, description="Specific gravity: ovendry mass over the volume at 12 % moisture."
    )
    density: Density | None = Field(None, description="Density at 12 % moisture in kg/m3, instead of `gravity`.")
    shrink_radial: Percent | None = Field(
        None, description="Shrinkage across the rings, green to ovendry, in per cent."
    )
    shrink_tangential: Percent | None = Field(
        None, description="Shrinkage along the rings, green to ovendry, in per cent."
    )
    shrink_volumetric: Percent | None = Field(
        None, description="Shrinkage of the volume, green to ovendry, in per cent."
    )
    change_radial: Change | None = Field(
        None, description="Change across the rings for each point of moisture, as a share such as 0.0018."
    )
    change_tangential: Change | None = Field(
        None, description="Change along the rings for each point of moisture, as a share such as 0.0037."
    )
    dust: Words = Field("", description='What its dust does: completes "The dust of this wood ...".')
    dust_affects: Names = Field(default_factory=list, description="What the dust affects, such as the skin, the eyes.")
    tint: Tint = Field("#d9bf94", description="Its colour in pictures.", examples=['"#5a4632"'])

    def odds(self, name: str) -> Iterator[Odd]:
        """Two densities, a volume that shrinks less than one side, dust that affects nothing."""
        if self.gravity is not None and self.density is not None:
            yield Odd("density", "`density` and `gravity` say the same thing twice; one of them is enough")
        sides = max(self.shrink_radial or 0, self.shrink_tangential or 0)
        if self.shrink_volumetric is not None and self.shrink_volumetric < sides:
            words = f"the volume shrinks by {self.shrink_volumetric:g} %, one side alone by {sides:g} %"
            yield Odd("shrink_volumetric", words)
        if bool(self.dust) != bool(self.dust_affects):
            yield Odd("dust" if self.dust else "dust_affects", "`dust` and `dust_affects` need each other")

    def row(self, name: str) -> Wood:
        """The record for the handbook."""
        gravity = self.density / 1000 / WATER_12 if self.density is not None else self.gravity
        return Wood(
            **self.head(name),
            latin=self.latin,
            group=self.group,
            gravity_12=gravity,
            shrink_radial=self.shrink_radial,
            shrink_tangential=self.shrink_tangential,
            shrink_volumetric=self.shrink_volumetric,
            change_radial=self.change_radial,
            change_tangential=self.change_tangential,
            dust=self.dust,
            dust_site=tuple(self.dust_affects),
            dust_source=self.source if self.dust else "",
            tint=self.tint,
            figure="plain",
        )


class WithCautions(OwnRow):
    """A row of something that may need care."""

    cautions: Names = Field(
        default_factory=list, description=f"What to warn of: {', '.join(SUPPLIES)}.", examples=['["epoxy"]']
    )

    def odds(self, name: str) -> Iterator[Odd]:
        """Cautions that the handbook does not have."""
        for each in self.cautions:
            if each not in SUPPLIES:
                yield Odd("cautions", "there is no caution of that name", each, SUPPLIES)


class GlueRow(WithCautions):
    """A glue."""

    kind: Literal[
        "pva", "hide", "polyurethane", "epoxy", "cyanoacrylate", "contact", "spray", "tape", "paste", "other"
    ] = Field(description="What kind of glue it is.", examples=['"pva"'])
    open: Time = Field(description="How long it stays open.", examples=['"5 min"'])
    clamp: Time = Field(description="How long the joint stays in clamps.", examples=['"1 h"'])
    cure: Time = Field(description="How long until the joint may be worked.", examples=['"24 h"'])
    spread: Spread = Field(description="Grams for a square metre of joint.", examples=["175"])
    gap_filling: Flag = Field(False, description="Whether it fills gaps.")

    def odds(self, name: str) -> Iterator[Odd]:
        """Clamps that stay on after the cure."""
        yield from super().odds(name)
        if self.clamp > self.cure:
            yield Odd("clamp", "`clamp` is longer than `cure`: glue that has cured needs no clamps")

    def row(self, name: str) -> Glue:
        """The record for the handbook."""
        return Glue(
            **self.head(name),
            kind=self.kind,
            open_minutes=self.open,
            clamp_minutes=self.clamp,
            cure_minutes=self.cure,
            spread_g_m2=self.spread,
            gap_filling=self.gap_filling,
            cautions=tuple(self.cautions),
        )


class FinishRow(WithCautions):
    """A finish."""

    kind: Literal["drying oil", "shellac", "lacquer", "wax", "varnish", "waterborne", "paint"] = Field(
        description="What kind of finish it is.", examples=['"wax"']
    )
    coverage: Coverage = Field(description="Square metres that a litre covers.", examples=["12"])
    coats: Count = Field(description="Usual number of coats.", examples=["2"])
    recoat: Time = Field(description="Time between coats.", examples=['"4 h"'])
    cure: Time = Field(description="Time until it has hardened.", examples=['"7 days"'])
    flammable: Flag = Field(description="Whether it burns easily.", examples=["true"])
    oily_rags: Flag = Field(description="Whether rags with it can set themselves on fire.", examples=["false"])

    def odds(self, name: str) -> Iterator[Odd]:
        """Coats that take longer to the next one than to cure."""
        yield from super().odds(name)
        if self.recoat > self.cure:
            yield Odd("recoat", "`recoat` is longer than `cure`: a coat that has cured can take the next")

    def row(self, name: str) -> Finish:
        """The record for the handbook."""
        rags = ("oily rags",) if self.oily_rags and "oily rags" not in self.cautions else ()
        return Finish(
            **self.head(name),
            kind=self.kind,
            coverage_m2_per_litre=self.coverage,
            coats=self.coats,
            recoat_minutes=self.recoat,
            cure_days=self.cure / MINUTES_A_DAY,
            flammable=self.flammable,
            oily_rags=self.oily_rags,
            cautions=(*self.cautions, *rags),
        )


class BladeRow(OwnRow):
    """A kind of saw blade."""

    kind: Literal["band saw", "scroll saw", "table saw", "hand saw"] = Field(
        description="The saw it belongs to.", examples=['"band saw"']
    )
    width: Size | None = Field(None, description="Width of a band.")
    kerf: Size = Field(description="Width of its cut.", examples=['"1 mm"'])
    least_kerf: Size | None = Field(None, description="Its narrowest cut.")
    most_kerf: Size | None = Field(None, description="Its widest cut.")
    body: Size = Field(description="Thickness of the steel without the set.", examples=['"0.6 mm"'])
    teeth_per_inch: Teeth | None = Field(None, description="Teeth to an inch.")
    least_radius: Size | None = Field(None, description="The tightest curve it follows.")

    def odds(self, name: str) -> Iterator[Odd]:
        """A kerf outside its range, or steel thicker than its cut."""
        if self.least_kerf is not None and self.least_kerf > self.kerf:
            yield Odd("least_kerf", "`least_kerf` is more than `kerf`")
        if self.most_kerf is not None and self.most_kerf < self.kerf:
            yield Odd("most_kerf", "`most_kerf` is less than `kerf`")
        if self.body > self.kerf:
            yield Odd("body", "`body` is more than `kerf`: the steel would not go through its own cut")

    def row(self, name: str) -> Blade:
        """The record for the handbook."""
        return Blade(
            **self.head(name),
            kind=self.kind,
            width_mm=self.width,
            kerf_mm=self.kerf,
            kerf_min_mm=self.least_kerf or self.kerf,
            kerf_max_mm=self.most_kerf or self.kerf,
            body_mm=self.body,
            teeth_per_inch=self.teeth_per_inch,
            least_radius_mm=self.least_radius,
        )


class AbrasiveRow(OwnRow):
    """An abrasive."""

    grit: Count = Field(description="Its grit.", examples=["180"])
    micrometres: Grain = Field(description="The size of its grains in thousandths of a millimetre.", examples=["82"])

    def row(self, name: str) -> Abrasive:
        """The record for the handbook."""
        return Abrasive(**self.head(name), grit=self.grit, micrometres=self.micrometres)


class LiningRow(WithCautions):
    """A lining."""

    kind: Filled = Field(description="What kind of lining it is.", examples=['"felt"'])
    unit: Literal["m2", "g", "ml"] = Field(description="What it is measured in.", examples=['"m2"'])
    amount: Amount = Field(description="How much a square metre takes.", examples=["1.1"])
    adhesive: Words = Field("", description="What sticks it down: a glue or lining of the handbook, or nothing.")
    wait: Time = Field(description="How long to wait afterwards.", examples=['"12 h"'])

    def row(self, name: str) -> Lining:
        """The record for the handbook."""
        return Lining(
            **self.head(name),
            kind=self.kind,
            unit=self.unit,
            amount_per_m2=self.amount,
            adhesive=self.adhesive,
            wait_hours=self.wait / MINUTES_AN_HOUR,
            cautions=tuple(self.cautions),
        )


class RateRow(OwnRow):
    """How long an operation takes you."""

    setup: Time = Field(description="Time to set up once.", examples=['"10 min"'])
    each: Time = Field(
        description="Time for each unit of the work, in the unit of the built-in row.", examples=['"2 min"']
    )

    def odds(self, name: str) -> Iterator[Odd]:
        """A rate of no operation."""
        if rate(name) is None:
            yield Odd("", "there is no operation of that name", name, OPERATIONS)

    def row(self, name: str) -> Rate:
        """The record for the handbook. Raises KeyError where `odds` has something to say."""
        known = rate(name)
        if known is None:
            raise KeyError(name)
        head = {**self.head(known.name), "aliases": (*known.aliases, *self.also_called)}
        return Rate(**head, setup_minutes=self.setup, unit_minutes=self.each, unit=known.unit)


class LumberRow(OwnRow):
    """A size of lumber as it is sold."""

    kind: Literal["hardwood thickness", "softwood thickness", "softwood width"] = Field(
        description="What the size is of.", examples=['"hardwood thickness"']
    )
    nominal: Size = Field(description="The size by which it is sold.", examples=['"1 in"'])
    dressed: Size = Field(description="What is left of it, planed on both sides.", examples=['"13/16 in"'])
    one_side: Size | None = Field(None, description="What is left of it, planed on one side.")

    def odds(self, name: str) -> Iterator[Odd]:
        """Planed lumber that is thicker than rough lumber."""
        if self.dressed > self.nominal:
            yield Odd("dressed", "`dressed` is more than `nominal`: planing adds no wood")
        if self.one_side is not None and not self.dressed <= self.one_side <= self.nominal:
            yield Odd("one_side", "`one_side` does not lie between `dressed` and `nominal`")

    def row(self, name: str) -> LumberSize:
        """The record for the handbook."""
        return LumberSize(
            **self.head(name),
            kind=self.kind,
            nominal_mm=self.nominal,
            dressed_mm=self.dressed,
            one_side_mm=self.one_side,
        )


class SheetRow(OwnRow):
    """A size of sheets as they are sold."""

    width: Size = Field(description="Its width.", examples=['"1220 mm"'])
    length: Size = Field(description="Its length.", examples=['"2440 mm"'])

    def row(self, name: str) -> SheetSize:
        """The record for the handbook."""
        return SheetSize(**self.head(name), width_mm=self.width, length_mm=self.length)


TABLES: Mapping[str, type[OwnRow]] = {
    "wood": WoodRow,
    "glue": GlueRow,
    "finish": FinishRow,
    "blade": BladeRow,
    "abrasive": AbrasiveRow,
    "rate": RateRow,
    "lining": LiningRow,
    "sheet": SheetRow,
    "lumber": LumberRow,
}
"""The tables that a handbook of the maker's own may have."""
