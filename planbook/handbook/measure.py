"""Lumber measure: board feet, exactly."""

from fractions import Fraction

INCH_MM = Fraction(127, 5)
"""One inch in millimetres, exactly (international yard, 1959)."""

BOARD_FOOT_MM3 = 144 * INCH_MM**3
"""One board foot, 144 cubic inches, in cubic millimetres, exactly."""


Length = Fraction | int


def board_feet(thickness_mm: Length, width_mm: Length, length_mm: Length) -> Fraction:
    """Board feet of a board by its true size in millimetres: its volume over 144 cubic inches, exact."""
    return Fraction(thickness_mm) * Fraction(width_mm) * Fraction(length_mm) / BOARD_FOOT_MM3


def board_feet_nominal(thickness_mm: Length, width_mm: Length, length_mm: Length) -> Fraction:
    """Board feet as lumber is sold: on the nominal size, thickness below one inch counted as one inch.

    Common practice of the lumber trade.
    """
    return board_feet(max(Fraction(thickness_mm), INCH_MM), width_mm, length_mm)
