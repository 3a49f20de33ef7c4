"""The full text that people read for the findings of some cases, word for word.

With PLANBOOK_UPDATE_PRINTED=1 in the environment the texts are written anew; read the difference before it is kept.
"""

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from planbook.review import review
from planbook.text import Finding, Source, for_people, plain
from planbook.workshop import Timeline

CASES = Path(__file__).parents[1] / "cases" / "review"
PRINTED = Path(__file__).parent / "printed"


@pytest.mark.parametrize("name", ["pieces", "stencils", "prose", "cuts", "left-on", "fits", "fits-in-inches"])
def test_findings_read_as_kept(name: str, as_written: Callable[[Path], Timeline]) -> None:
    kept = PRINTED / f"{name}.txt"
    text = _printed(as_written(CASES / name), name)
    if os.environ.get("PLANBOOK_UPDATE_PRINTED"):
        kept.write_text(text, "utf-8")
    assert text == kept.read_text("utf-8")


def _printed(timeline: Timeline, name: str) -> str:
    """All findings, with places as if the tests were run inside the folder of cases."""
    sources = {
        (short := f"{name}/{Path(file).name}"): Source(short, source.text)
        for file, source in timeline.design.sources.items()
    }
    found = [_moved(finding, name) for finding in review(timeline)]
    return "\n\n".join(plain(for_people(finding, sources)) for finding in found) + "\n"


def _moved(finding: Finding, name: str) -> Finding:
    place = replace(finding.place, file=f"{name}/{Path(finding.place.file).name}")
    also = tuple(
        replace(aside, place=replace(aside.place, file=f"{name}/{Path(aside.place.file).name}"))
        for aside in finding.also
    )
    return replace(finding, place=place, also=also)
