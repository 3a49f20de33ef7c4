"""What only the drawing of a design can find: a stencil that no reasonable number of sheets would hold."""

from planbook.drawing.tiles_grid import TooManyTiles
from planbook.model import Design
from planbook.text import Finding, Kind, Severity

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
