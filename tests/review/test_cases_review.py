"""Small designs with their expected findings written in them, and the same designs mended, which earn none."""

from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

from planbook.model import with_choice
from planbook.reader import read_design
from planbook.review import kinds, review
from planbook.workshop import Timeline
from planbook.workshop.envelope import prove

Build = Callable[[Path], Timeline]
SAMPLES = sorted(path for path in (Path(__file__).parents[2] / "designs").iterdir() if path.is_dir())


@pytest.mark.cases("review")
def test_case_earns_exactly_its_findings(case_folder: Path, expectations: ModuleType, as_written: Build) -> None:
    findings = review(as_written(case_folder))
    names = {kind.code: kind.name for kind in kinds()}
    assert expectations.found_findings(findings, case_folder) == expectations.expected_findings(case_folder)
    assert all(names[each.code] == each.name for each in expectations.expectations_of(case_folder))


@pytest.mark.cases("review")
def test_mended_case_earns_nothing(case_folder: Path, as_mended: Build) -> None:
    assert review(as_mended(case_folder)) == ()


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: folder.name)
def test_every_sample_design_is_clean_over_its_whole_envelope(folder: Path) -> None:
    reading = read_design(folder)
    assert reading.findings == ()
    assert reading.design is not None
    timeline = prove(reading.design)
    assert review(timeline) == ()
    assert timeline.fits
    assert timeline.envelope is not None


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: folder.name)
def test_the_sample_designs_are_clean_in_every_choice_of_woods(folder: Path) -> None:
    reading = read_design(folder)
    assert reading.design is not None
    for choice in reading.design.choices:
        assert review(prove(with_choice(reading.design, choice))) == (), choice


def test_the_envelope_of_the_box_has_all_that_varies() -> None:
    reading = read_design(Path(__file__).parents[2] / "designs" / "curlew-box")
    assert reading.design is not None
    timeline = prove(reading.design)
    assert timeline.envelope is not None
    assert {spread.what for spread in timeline.envelope.spreads} == {"kerf", "sanding", "thickness", "humidity"}
