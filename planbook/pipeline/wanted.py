"""An edition as it is asked for, before the design is read; loads nothing, so that what is kept is found quickly."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from planbook.booklet.editions import Edition, Language, Large, PaperName, Units
    from planbook.drawing.correction import Correction
    from planbook.drawing.ink import Ink
    from planbook.model import Card


@dataclass(frozen=True, slots=True)
class Wanted:
    """The options of an edition; None stands for what is usual for the design. `layout` is a name or a folder."""

    paper: "PaperName | None" = None
    units: "Units | None" = None
    language: "Language" = "en"
    ink: "Ink" = "colour"
    layout: str = "booklet"
    stencils_on: "Large | None" = None
    draft: bool = False
    correction: "Correction | None" = None
    tool_files: bool = False
    archive: bool = False
    work_a_day: int | None = None

    def __call__(self, card: "Card") -> "Edition":
        """The edition of the design with this card."""
        from planbook.booklet import edition_for, layout_names
        from planbook.drawing.correction import UNCORRECTED
        from planbook.takeoff.schedule.plan import WORK_A_DAY

        return edition_for(
            card,
            self.paper,
            self.units,
            self.draft,
            self.correction or UNCORRECTED,
            self.tool_files,
            WORK_A_DAY if self.work_a_day is None else self.work_a_day,
            self.language,
            self.ink,
            self.layout if self.layout in layout_names() else Path(self.layout),
            self.stencils_on,
            self.archive,
        )


def several(
    usual: Wanted,
    papers: "Sequence[PaperName]" = (),
    units: "Sequence[Units]" = (),
    languages: "Sequence[Language]" = (),
    inks: "Sequence[Ink]" = (),
) -> tuple[Wanted, ...]:
    """An edition for each paper, in all units, languages and inks; what is not named is that of the usual one."""
    every = product(
        papers or (usual.paper,), units or (usual.units,), languages or (usual.language,), inks or (usual.ink,)
    )
    made = (replace(usual, paper=paper, units=unit, language=tongue, ink=ink) for paper, unit, tongue, ink in every)
    return tuple(dict.fromkeys(made))
