"""The tables under [fits]: what must hold when the work is done; nothing is measured here.

Of pieces that are joined for good on the way, it is what must hold just before they are.
"""

from typing import Annotated, Literal

from pydantic import Field

from planbook.model import Axis, FaceName
from planbook.reader.fields import Angle, Depth, Length, PieceName, PieceNames, Shift, TwoPieces
from planbook.reader.tables import Table

_PIECE = '"drawer"'


class Gap(Table):
    """The space between two pieces."""

    at_least_one = (("least", "most"),)

    kind: Literal["gap"]
    between: TwoPieces = Field(description="The two pieces.", examples=['["drawer", "case"]'])
    along: Axis | None = Field(None, description="The direction in which it is measured; the nearest if left out.")
    least: Length | None = Field(None, description="The least space wanted.", examples=['"0.5 mm"'])
    most: Length | None = Field(None, description="The most space wanted.", examples=['"1 mm"'])


class Wall(Table):
    """The thinnest place of a piece."""

    kind: Literal["wall"]
    piece: PieceName = Field(description="The piece.", examples=[_PIECE])
    least: Depth = Field(description="The least thickness wanted.", examples=['"6 mm"'])


class Slide(Table):
    """A piece that is moved in a straight line, past others."""

    kind: Literal["slide"]
    piece: PieceName = Field(description="The piece that moves.", examples=[_PIECE])
    along: Shift = Field(description="How far it moves along x, y and z.", examples=['["0 mm", "-120 mm", "0 mm"]'])
    past: PieceNames | None = Field(None, description="The pieces it passes; all others if left out.")
    least: Depth = Field(description="The least space wanted on the way.", examples=['"0.5 mm"'])


class Swing(Table):
    """A piece that turns about an axis, past others."""

    kind: Literal["swing"]
    piece: PieceName = Field(description="The piece that moves.", examples=[_PIECE])
    about: Shift = Field(description="A point of the axis: x, y and z.", examples=['["0 mm", "0 mm", "0 mm"]'])
    axis: Axis = Field(description="The direction of the axis.", examples=['"z"'])
    angle: Angle = Field(description="How far it turns.", examples=['"90 deg"'])
    past: PieceNames | None = Field(None, description="The pieces it passes; all others if left out.")
    least: Depth = Field(description="The least space wanted on the way.", examples=['"0.5 mm"'])


class Flush(Table):
    """Two pieces that end at the same face."""

    kind: Literal["flush"]
    between: TwoPieces = Field(description="The two pieces.", examples=['["drawer", "case"]'])
    face: FaceName = Field(description="The face that they share.", examples=['"front"'])
    within: Depth = Field(description="The most that one may stand out.", examples=['"0.5 mm"'])


class LiftOut(Table):
    """A piece that is drawn straight out of the work until it is past everything else."""

    kind: Literal["lift out"]
    piece: PieceName = Field(description="The piece that is drawn out.", examples=['"lid"'])
    toward: FaceName = Field("top", description="The side to which it is drawn out.", examples=['"top"'])
    past: PieceNames | None = Field(None, description="The pieces it passes; all others if left out.")
    least: Depth = Field(description="The least space wanted on the way.", examples=['"0.5 mm"'])


class Reveal(Table):
    """A step between the faces of two pieces: how far the second stands behind the first."""

    at_least_one = (("least", "most"),)

    kind: Literal["reveal"]
    between: TwoPieces = Field(description="The piece in front and the one behind.", examples=['["case", "drawer"]'])
    face: FaceName = Field(description="The side on which the step is; largest flat faces count.", examples=['"front"'])
    least: Length | None = Field(None, description="The least step wanted.", examples=['"0.3 mm"'])
    most: Length | None = Field(None, description="The most step wanted.", examples=['"0.8 mm"'])


FITS: dict[str, type[Table]] = {
    "gap": Gap,
    "wall": Wall,
    "slide": Slide,
    "swing": Swing,
    "lift out": LiftOut,
    "flush": Flush,
    "reveal": Reveal,
}
AnyFit = Annotated[Gap | Wall | Slide | Swing | LiftOut | Flush | Reveal, Field(discriminator="kind")]
