"""What only the drawing of a design can find: a stencil too large for paper, a picture that hides what it is about."""

from collections.abc import Mapping

from planbook.drawing.marks import Picture
from planbook.drawing.plain_sight import FINER
from planbook.drawing.tiles_grid import TooManyTiles
from planbook.model import Design, Step
from planbook.text import Finding, Kind, Severity

MOST_TOLD = 4
"""Things told one by one that a picture does not show; the rest is counted."""

TOO_LARGE = Kind(
    code="PRI01",
    name="stencil-too-large",
    severity=Severity.ERROR,
    what="A stencil is so large that it would be printed in more tiles than anybody puts together.",
    why="Every join between tiles adds a little error and a lot of work; a batten or a string draws it better.",
    bad="""[shapes.table]
kind   = "circle"
at     = ["1500 mm", "1500 mm"]
radius = "1500 mm"
""",
    good="""[shapes.table]
kind   = "circle"
at     = ["300 mm", "300 mm"]
radius = "300 mm"
""",
)


def too_large(problem: TooManyTiles, design: Design) -> Finding:
    """The finding for a stencil that would take too many tiles."""
    # Sheets count on past mirrored ones, so that a sheet's number may be higher than its stencil's.
    titled = [s for s in design.stencils.values() if problem.title.startswith(s.title or s.name)]
    stencil = max((s for s in titled if s.number <= problem.number), key=lambda s: s.number)
    size = f"{problem.width:.0f} x {problem.height:.0f} mm"
    headline = (
        f"stencil `{stencil.name}` is {size} large and would take {problem.tiles} tiles; {problem.most} is the most"
    )
    hint = "print on larger paper, or put several small stencils along the line"
    return TOO_LARGE.at(stencil.place, headline, label="too large to be printed", hint=hint)


NOT_SHOWN = Kind(
    code="PRI02",
    name="not-in-the-picture",
    severity=Severity.WARNING,
    what="The picture of a step does not show what the step is about.",
    why="The reader looks for the piece or the line in the picture and cannot find it, and has to guess where it is.",
    bad="""## Bore the block and its pin

One picture has to hold a block of 600 mm and a pin of 1 mm.

```bore
pieces = ["block", "pin"]
```
""",
    good="""## Bore the block

```bore
piece = "block"
```

## Bore the pin

```bore
piece = "pin"
```
""",
)


def not_shown(design: Design, pictures: Mapping[int, Picture]) -> tuple[Finding, ...]:
    """A finding for each step whose picture does not show something that the step is about."""
    return tuple(
        _hidden(step, pictures[step.number].missing)
        for step in design.steps
        if step.number in pictures and pictures[step.number].missing
    )


def _hidden(step: Step, missing: tuple[str, ...]) -> Finding:
    few = ", ".join(missing[:MOST_TOLD]) + (f" and {len(missing) - MOST_TOLD} more" if len(missing) > MOST_TOLD else "")
    headline = f"the picture of step {step.number} does not show {few}"
    hint = "do this work in a step of its own, so that its picture can be larger and seen from another side"
    if all(each.startswith(FINER) for each in missing):
        hint = "draw the outlines with fewer corners: a tenth of a millimetre is not seen in wood"
    return NOT_SHOWN.at(step.place, headline, label="cannot be seen in its picture", hint=hint)
