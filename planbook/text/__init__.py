"""Source files, places in them, findings and how they are shown."""

from planbook.text.findings import Aside, Finding, Kind, Severity, in_order
from planbook.text.places import Place, Source, Sources
from planbook.text.show import Line, Span, as_json, for_people, one_line, plain, tally

__all__ = [
    "Aside",
    "Finding",
    "Kind",
    "Line",
    "Place",
    "Severity",
    "Source",
    "Sources",
    "Span",
    "as_json",
    "for_people",
    "in_order",
    "one_line",
    "plain",
    "tally",
]
