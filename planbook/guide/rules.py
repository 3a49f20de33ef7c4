"""Every kind of finding, family by family."""

import re
from collections.abc import Iterable, Iterator
from itertools import groupby

from planbook.booklet.manual import manual_words
from planbook.guide.records import Finding, Section
from planbook.text import Kind

FAMILIES = {
    "ARC": "the archive",
    "BUY": "buying and cutting up",
    "COP": "buyers' copies",
    "COS": "prices",
    "ENV": "what may turn out otherwise",
    "FIL": "a film",
    "FLO": "the flow of pieces",
    "INP": "reading the files",
    "MAC": "machines",
    "OPE": "fields of operations",
    "ORD": "orders",
    "PHO": "photos, and what else words bring in",
    "PRI": "pictures and stencils",
    "PRT": "what is printed",
    "REL": "releases",
    "SAF": "safety",
    "SHA": "shapes, cuts and fits",
    "SHF": "the shelf",
    "SOL": "looking for a size",
    "SUP": "tools and supplies",
    "TIM": "timber",
    "WOR": "words",
}


def finding_sections(kinds: Iterable[Kind]) -> Iterator[Section]:
    """The kinds of finding, in a section for each family of codes."""
    ordered = sorted(kinds, key=lambda kind: kind.code)
    for family, members in groupby(ordered, key=lambda kind: kind.code[:3]):
        title = f"{family}: {FAMILIES.get(family, 'others')}"
        yield Section(title, f"findings-{family.lower()}", tuple(_finding(kind) for kind in members))


_BEYOND = re.compile("[^\\u0000-\\uffff]")
"""Characters that no font of the house has: pictographs, in examples of names that cannot be printed."""


def _sample(text: str) -> str:
    return _BEYOND.sub("◊", text.strip("\n"))


def _finding(kind: Kind) -> Finding:
    what, why = manual_words(kind.what), manual_words(kind.why)
    anchor = f"finding-{kind.code.lower()}"
    return Finding(kind.code, kind.name, str(kind.severity), anchor, what, why, _sample(kind.bad), _sample(kind.good))
