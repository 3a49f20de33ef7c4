"""Exact lengths, angles and times: reading, printing and formulas (not findings, not places in files)."""

from planbook.units.apart import (
    Leeway,
    bored_alike,
    fine_enough,
    in_fractions,
    in_metric,
    measured_as_given,
    thick_enough,
    told_apart,
    within_leeways,
)
from planbook.units.chains import Chain, settled, settled_finely, settled_in_rows, unsettled
from planbook.units.drills import is_half_of_a_bit, is_sold_by, show_drill
from planbook.units.duration import read_minutes, show_minutes
from planbook.units.formula import Formula, Measure, Use, parse_formula
from planbook.units.literal import read_length, read_quantity
from planbook.units.nearest import near
from planbook.units.printing import (
    FINE_MM,
    INCH_16,
    INCH_32,
    INCH_64,
    INCH_DECIMAL,
    MM_AND_INCH,
    MM_HALF,
    MM_TENTH,
    MM_WHOLE,
    LengthStyle,
    fine_size,
    is_exact,
    show_at_least,
    show_fine,
    show_length,
    show_quantity,
    to_mm_text,
)
from planbook.units.problem import ProblemKind, UnitProblem
from planbook.units.quantity import MM_PER_INCH, Quantity
from planbook.units.sums import Sum, added_up

__all__ = [
    "FINE_MM",
    "INCH_16",
    "INCH_32",
    "INCH_64",
    "INCH_DECIMAL",
    "MM_AND_INCH",
    "MM_HALF",
    "MM_PER_INCH",
    "MM_TENTH",
    "MM_WHOLE",
    "Chain",
    "Formula",
    "Leeway",
    "LengthStyle",
    "Measure",
    "ProblemKind",
    "Quantity",
    "Sum",
    "UnitProblem",
    "Use",
    "added_up",
    "bored_alike",
    "fine_enough",
    "fine_size",
    "in_fractions",
    "in_metric",
    "is_exact",
    "is_half_of_a_bit",
    "is_sold_by",
    "measured_as_given",
    "near",
    "parse_formula",
    "read_length",
    "read_minutes",
    "read_quantity",
    "settled",
    "settled_finely",
    "settled_in_rows",
    "show_at_least",
    "show_drill",
    "show_fine",
    "show_length",
    "show_minutes",
    "show_quantity",
    "thick_enough",
    "to_mm_text",
    "told_apart",
    "unsettled",
    "within_leeways",
]
