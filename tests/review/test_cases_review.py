"""Small designs with their expected findings written in them, and the same designs mended, which earn none."""

from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

from planbook.model import with_choice
from planbook.reader import read_design
from planbook.review import kinds, review
from planbook.workshop import Timeline
from planbook.workshop.run import build

Build = Callable[[Path], Timeline]


@pytest.mark.cases("review")
def test_case_earns_exactly_its_findings(case_folder: Path, expectations: ModuleType, as_written: Build) -> None:
    findings = review(as_written(case_folder))
    names = {kind.code: kind.name for kind in kinds()}
    assert expectations.found_findings(findings, case_folder) == expectations.expected_findings(case_folder)
    assert all(names[each.code] == each.name for each in expectations.expectations_of(case_folder))


@pytest.mark.cases("review")
def test_mended_case_earns_nothing(case_folder: Path, as_mended: Build) -> None:
    assert review(as_mended(case_folder)) == ()


@pytest.mark.parametrize("name", ["curlew-box", "tide-shelf"])
def test_the_sample_designs_are_clean_in_every_choice_of_woods(name: str) -> None:
    reading = read_design(Path(__file__).parents[2] / "designs" / name)
    assert reading.findings == ()
    assert reading.design is not None
    assert reading.design.choices
    for design in (reading.design, *(with_choice(reading.design, choice) for choice in reading.design.choices)):
        assert review(build(design)) == ()
