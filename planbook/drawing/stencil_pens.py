"""The pens, tints and layer names of stencils: thick lines for the blade, thin ones for everything else.

Line widths are of the series of ISO 128-2 (0.13, 0.18, 0.25, 0.35 mm), thick to thin nearly 2 to 1 or more;
centre lines are thin long-dash-dot lines.
"""

from planbook.drawing.marks import Pen

INK = "#1d1d1b"
SOFT = "#6b6a64"

CUT = Pen(0.35, INK)
SAND = Pen(0.18, INK, (5.0, 1.2))
GUIDE = Pen(0.18, INK, (1.2, 1.2))
EDGE = Pen(0.18, SOFT)
TICK = Pen(0.18, INK)
HOLE = Pen(0.25, INK)
THIN = Pen(0.13, INK)
HATCH = Pen(0.13, "#a09f97")
LEADER = Pen(0.13, INK)
ARROW = Pen(0.25, INK)
CHECK = Pen(0.18, INK)
FRAME = Pen(0.13, SOFT, (0.6, 1.4))
TRIM = Pen(0.18, INK, (3.0, 1.0, 0.6, 1.0))
CROP = Pen(0.18, SOFT)

DUST = "#d8d2c2"
TAB = "#ecebe6"

BODY = 3.2
SMALL = 2.6
TITLE = 4.8

LAYERS = (
    "cut",
    "sand to",
    "guide",
    "edge",
    "kerf side",
    "kerf",
    "waste",
    "hole",
    "centre",
    "entry",
    "grain",
    "words",
    "name",
    "check",
    "match",
    "map",
    "frame",
    "tile",
    "trim",
    "apart",
    "crop",
)
