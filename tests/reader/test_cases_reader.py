"""Small designs with their expected findings written in them: what the reader says, and nothing more."""

from pathlib import Path
from types import ModuleType

import pytest

from planbook.reader import KINDS, read_design
from planbook.reader.photo_kinds import ALL as OF_PHOTOS


@pytest.mark.cases("reader")
def test_case_earns_exactly_its_findings(case_folder: Path, expectations: ModuleType) -> None:
    findings = read_design(case_folder).findings
    assert expectations.found_findings(findings, case_folder) == expectations.expected_findings(case_folder)


@pytest.mark.cases("reader")
def test_case_names_kinds_and_columns_as_they_are(case_folder: Path, expectations: ModuleType) -> None:
    names = {kind.code: kind.name for kind in (*KINDS, *OF_PHOTOS)}
    found = {(Path(f.place.file).name, f.place.line, f.code, f.place.column) for f in read_design(case_folder).findings}
    for each in expectations.expectations_of(case_folder):
        assert names[each.code] == each.name
        if each.column is not None:
            assert (each.file, each.line, each.code, each.column) in found


@pytest.mark.cases("reader")
def test_a_design_is_whole_or_there_is_none(case_folder: Path) -> None:
    reading = read_design(case_folder)
    if not any(finding.stops for finding in reading.findings):
        assert reading.design is not None
    if case_folder.name.endswith("-clean"):
        assert reading.findings == ()


def test_every_kind_has_a_case(expectations: ModuleType) -> None:
    root = Path(__file__).parents[1] / "cases" / "reader"
    covered = {each.code for folder in expectations.case_folders(root) for each in expectations.expectations_of(folder)}
    made_while_testing = {"INP01", "INP05"}  # need a missing folder and a large file
    assert {kind.code for kind in KINDS} - covered == made_while_testing
