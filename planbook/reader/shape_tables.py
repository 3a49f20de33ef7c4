"""The tables under [shapes]: the keys of every kind of plane shape; nothing is drawn here."""

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from planbook.reader.fields import (
    Angle,
    Depth,
    Extent,
    Filled,
    Flag,
    Length,
    OnlyTable,
    Point,
    Points,
    SeveralShapeNames,
    ShapeName,
    ShapeNames,
    named,
    refuse,
)
from planbook.reader.tables import Table

_ORIGIN = '["0 mm", "0 mm"]'


class Circle(Table):
    """A circle, by its middle and its radius or diameter."""

    exactly_one = (("radius", "diameter"),)

    kind: Literal["circle"]
    at: Point = Field(description="Its middle.", examples=[_ORIGIN])
    radius: Extent | None = Field(None, description="From the middle to the edge.", examples=['"40 mm"'])
    diameter: Extent | None = Field(None, description="From edge to edge.", examples=['"80 mm"'])


class Ellipse(Table):
    """An ellipse whose axes run right and up."""

    kind: Literal["ellipse"]
    at: Point = Field(description="Its middle.", examples=[_ORIGIN])
    width: Extent = Field(description="From its left to its right edge.", examples=['"80 mm"'])
    height: Extent = Field(description="From its lower to its upper edge.", examples=['"50 mm"'])


class Rectangle(Table):
    """A rectangle, with rounded corners if asked for."""

    exactly_one = (("at", "middle"),)

    kind: Literal["box"]
    at: Point | None = Field(None, description="Its lower left corner.", examples=[_ORIGIN])
    middle: Point | None = Field(None, description="Its middle.", examples=[_ORIGIN])
    width: Extent = Field(description="To the right.", examples=['"80 mm"'])
    height: Extent = Field(description="Up.", examples=['"50 mm"'])
    corner: Depth | None = Field(None, description="Radius of its corners.")


class PolygonShape(Table):
    """A closed shape with straight edges."""

    kind: Literal["polygon"]
    points: Points = Field(
        description="Its corners, one after the other, three or more.",
        examples=['[["0 mm", "0 mm"], ["80 mm", "0 mm"], ["0 mm", "50 mm"]]'],
    )


class Leg(Table):
    """A part of a path: a straight line, or an arc about a middle, or an arc through a point."""

    to: Point = Field(description="Where it ends.", examples=[_ORIGIN])
    around: Point | None = Field(None, description="The middle of the arc.")
    turn: Literal["left", "right"] | None = Field(None, description="Which way the arc turns.")
    bulge_through: Point | None = Field(None, description="A point on the arc.")


def _one_way(leg: Leg) -> Leg:
    """An arc is told in one way, and in full."""
    if leg.bulge_through is not None and (leg.around is not None or leg.turn is not None):
        raise refuse("odds", words="`bulge_through` stands alone: without `around` and `turn`")
    if (leg.around is None) != (leg.turn is None):
        lacking = "turn" if leg.turn is None else "around"
        raise refuse("lacks", key=lacking, why="an arc is told by `around` and `turn` together")
    return leg


def _some_legs(value: Any) -> Any:
    if not isinstance(value, list):
        raise refuse("type", wanted="a list of tables such as { to = [...] }", found=named(value))
    if not value:
        raise refuse("count", wanted="1 or more points to go to", found=0)
    return value


class PathShape(Table):
    """A line of straight and round parts, closed unless told otherwise."""

    kind: Literal["path"]
    from_: Point = Field(alias="from", description="Where it starts.", examples=[_ORIGIN])
    to: Annotated[list[Annotated[Leg, OnlyTable, AfterValidator(_one_way)]], BeforeValidator(_some_legs)] = Field(
        description="Its parts in order.",
        examples=['[{ to = ["80 mm", "0 mm"] }, { to = ["0 mm", "50 mm"] }]'],
    )
    closed: Flag = Field(True, description="Whether it returns to its start; true if left out.")


class LineShape(Table):
    """A straight line."""

    kind: Literal["line"]
    from_: Point = Field(alias="from", description="Where it starts.", examples=[_ORIGIN])
    to: Point = Field(description="Where it ends.", examples=['["80 mm", "0 mm"]'])


class ArcBand(Table):
    """A part of a ring."""

    kind: Literal["arc band"]
    middle: Point = Field(description="The middle of the ring.", examples=[_ORIGIN])
    inner: Extent = Field(description="Its inner radius.", examples=['"30 mm"'])
    outer: Extent = Field(description="Its outer radius.", examples=['"40 mm"'])
    start: Angle = Field(description="Where it starts, left round from the right.", examples=['"0 deg"'])
    end: Angle = Field(description="Where it ends.", examples=['"180 deg"'])
    ends: Literal["round", "square"] = Field("square", description="How its two ends look; square if left out.")


class DrawingShape(Table):
    """An outline taken from a drawing in the folder of the design, in true size or scaled."""

    kind: Literal["drawing"]
    file: Filled = Field(
        description="The drawing, an SVG or DXF file in the folder of the design.", examples=['"pebble.svg"']
    )
    id: Filled = Field(
        description="The name of the outline in it: the id of an SVG element or group; a DXF layer, or a handle.",
        examples=['"outline"'],
    )
    at: Point | None = Field(
        None,
        description="Where its lower left corner goes. Left out, it stands as drawn: the lower left corner "
        "of an SVG page, or the zero of a DXF drawing, is the origin.",
    )
    width: Extent | None = Field(None, description="Its width; left out, it keeps its shape, or its true size.")
    height: Extent | None = Field(None, description="Its height; left out, it keeps its shape, or its true size.")


class Join(Table):
    """Everything that lies in at least one of several shapes."""

    kind: Literal["join"]
    of: SeveralShapeNames = Field(description="The shapes.", examples=['["drum", "foot"]'])


class CutAway(Table):
    """One shape without what lies in others."""

    kind: Literal["cut away"]
    from_: ShapeName = Field(alias="from", description="The shape that is cut.", examples=['"drum"'])
    by: ShapeNames = Field(description="The shapes that are taken away.", examples=['["foot"]'])


class Overlap(Table):
    """What lies in all of several shapes."""

    kind: Literal["overlap"]
    of: SeveralShapeNames = Field(description="The shapes.", examples=['["drum", "foot"]'])


class Offset(Table):
    """A shape grown or, by a negative length, shrunk all round."""

    kind: Literal["offset"]
    of: ShapeName = Field(description="The shape.", examples=['"drum"'])
    by: Length = Field(description="How far outwards; inwards if negative.", examples=['"-6 mm"'])


class Mirror(Table):
    """A shape mirrored: across u turns left and right about a vertical line, across v up and down."""

    kind: Literal["mirror"]
    of: ShapeName = Field(description="The shape.", examples=['"drum"'])
    across: Literal["u", "v"] = Field(description="The direction that is turned round.", examples=['"u"'])
    at: Length = Field(description="Where the mirror stands along that direction.", examples=['"0 mm"'])


class Fillet(Table):
    """A shape with its corners rounded."""

    kind: Literal["fillet"]
    of: ShapeName = Field(description="The shape.", examples=['"drum"'])
    radius: Extent = Field(description="Radius of the corners.", examples=['"6 mm"'])


class Move(Table):
    """A shape moved."""

    kind: Literal["move"]
    of: ShapeName = Field(description="The shape.", examples=['"drum"'])
    by: Point = Field(description="How far to the right and up.", examples=['["10 mm", "0 mm"]'])


class Turn(Table):
    """A shape turned about a point."""

    kind: Literal["turn"]
    of: ShapeName = Field(description="The shape.", examples=['"drum"'])
    angle: Angle = Field(description="How far, left round.", examples=['"90 deg"'])
    about: Point = Field(description="The point that stays.", examples=[_ORIGIN])


SHAPES: dict[str, type[Table]] = {
    "circle": Circle,
    "ellipse": Ellipse,
    "box": Rectangle,
    "polygon": PolygonShape,
    "path": PathShape,
    "line": LineShape,
    "arc band": ArcBand,
    "drawing": DrawingShape,
    "join": Join,
    "cut away": CutAway,
    "overlap": Overlap,
    "offset": Offset,
    "mirror": Mirror,
    "fillet": Fillet,
    "move": Move,
    "turn": Turn,
}
AnyShape = Annotated[
    Circle
    | Ellipse
    | Rectangle
    | PolygonShape
    | PathShape
    | LineShape
    | ArcBand
    | DrawingShape
    | Join
    | CutAway
    | Overlap
    | Offset
    | Mirror
    | Fillet
    | Move
    | Turn,
    Field(discriminator="kind"),
]
