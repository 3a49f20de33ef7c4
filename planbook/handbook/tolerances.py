"""What turns out otherwise from one reader to the next, where the maker of a design says nothing about it."""

SANDING_MM = 0.1
"""More or less off each sanded face, mm (common practice: a stroke or two with 120 grit)."""
THICKNESS_MM = 0.1
"""Milled boards thicker or thinner than asked, mm (common practice: what a planer's scale can be trusted for)."""
HUMIDITY = (25.0, 65.0)
"""Relative humidity indoors through the year, per cent (common practice: heated in winter, summer air)."""
CELSIUS = 20.0
"""Temperature indoors, deg C (common practice)."""
