"""The tables of a rack file: which keys a board of the reader's own has, and what a rack may set for the saw."""

from typing import Annotated

from pydantic import Field

from planbook.model import RackKind
from planbook.reader.fields import Count, Depth, Extent, Flag, OnlyTable, Span, WoodName
from planbook.reader.tables import Table


class DefectTable(Table):
    """A stretch of a board that no part may touch: a knot, a check, a stain."""

    from_: Depth = Field(
        alias="from", description="Where it begins, from the first end of the board.", examples=['"300 mm"']
    )
    to: Extent = Field(description="Where it ends, from the same end.", examples=['"380 mm"'])
    across: Span | None = Field(
        None, description="From where to where it reaches across, from one long edge; all across if left out."
    )


class RackTable(Table):
    """A board, bar, sheet or offcut of the reader's own, or several alike."""

    wood: WoodName = Field(description="A wood of the handbook.", examples=['"cherry"'])
    thickness: Extent = Field(description="How thick it is now.", examples=['"27 mm"'])
    width: Extent = Field(description="How wide, across the grain.", examples=['"150 mm"'])
    length: Extent = Field(description="How long, along the grain.", examples=['"1.8 m"'])
    count: Count = Field(1, description="How many of them there are.")
    kind: RackKind = Field("board", description="What it is; a bar is used in its full width.")
    planed: Flag = Field(False, description="Whether it is planed, so that it can be used as thick as it is.")
    defects: list[Annotated[DefectTable, OnlyTable]] = Field(
        default_factory=list, description="Stretches to keep clear of."
    )


class RackHead(Table):
    """What a rack sets for the saw, instead of the handbook. These keys stand at the top of the file."""

    kerf: Extent | None = Field(None, description="Width of the cut of the saw that cuts boards up.")
    edge_trim: Depth | None = Field(None, description="What comes off each long edge first.")
    end_trim: Depth | None = Field(None, description="What comes off each end first.")
    squaring_width: Depth | None = Field(None, description="What squaring takes off the width of a part.")
    squaring_length: Depth | None = Field(None, description="What squaring takes off the length of a part.")
    keep_width: Depth | None = Field(None, description="The least width of an offcut worth keeping.")
    keep_length: Depth | None = Field(None, description="The least length of an offcut worth keeping.")
