"""What every rule owes: a code and a name of its own, an explanation, words for a trouble that the build can have."""

import ast
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import pytest

import planbook.workshop
from planbook.reader import KINDS
from planbook.review import kinds, review, rules
from planbook.review.field_words import EXAMPLES
from planbook.review.pointing import NAMING
from planbook.review.rule import Told
from planbook.review.written import UNKNOWN
from planbook.text import Severity
from planbook.workshop import Timeline, Trouble
from planbook.workshop.fields import specs
from planbook.workshop.registry import operations

WORKSHOP = Path(planbook.workshop.__file__).parent
CASES = Path(__file__).parents[1] / "cases" / "review"
RAISING = {"snag", "Trouble", "_Undrawable", "Wrong"}
HANDED_ON = {"kind", "problem.kind", "wrong.kind"}
"""First arguments that only pass on a kind named elsewhere."""
FAMILIES = {
    "flow": "FLO",
    "shape": "SHA",
    "fields": "OPE",
    "words": "WOR",
    "supplies": "SUP",
    "machine": "MAC",
    "timber": "TIM",
    "print": "PRT",
    "safety": "SAF",
    "envelope": "ENV",
}


def _emitted() -> Iterator[str]:
    for path in sorted(WORKSHOP.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in RAISING:
                first = node.args[0]
                if isinstance(first, ast.Constant):
                    yield str(first.value)
                else:
                    assert ast.unparse(first) in HANDED_ON, f"{path.name}:{node.lineno} names its kind elsewhere"


def _worded() -> list[str]:
    return [kind for rule in rules() if isinstance(rule.check, Told) for kind in rule.check.troubles]


def test_every_trouble_of_the_build_has_one_rule() -> None:
    assert sorted(_worded()) == sorted(set(_emitted()))


def test_every_rule_words_its_own_kind() -> None:
    for rule in rules():
        if isinstance(rule.check, Told):
            assert rule.check.kind is rule.KIND


def test_codes_and_names_are_unique() -> None:
    both = (*KINDS, *kinds())
    assert len({kind.code for kind in both}) == len(both)
    assert len({kind.name for kind in kinds()}) == len(kinds())


def test_codes_follow_the_folder_and_leave_no_gap() -> None:
    for folder, letters in FAMILIES.items():
        codes = [r.KIND.code for r in rules() if f".review.{folder}." in r.__name__]  # type: ignore[attr-defined]
        assert codes == [f"{letters}{number:02}" for number in range(1, len(codes) + 1)]


@pytest.mark.parametrize("kind", kinds(), ids=lambda kind: kind.code)
def test_kind_is_explained(kind: object) -> None:
    for field in ("what", "why", "bad", "good"):
        assert len(getattr(kind, field).strip()) > 8, field
    for field in ("what", "why"):
        text = getattr(kind, field)
        assert text[0].isupper() or text[0] in "`12"
        assert text.endswith((".", "?"))
    assert kind.bad != kind.good  # type: ignore[attr-defined]


def test_every_rule_has_a_case(expectations: ModuleType) -> None:
    covered = {
        each.code for folder in expectations.case_folders(CASES) for each in expectations.expectations_of(folder)
    }
    no_design_can_earn = {"SHA39", "FLO16"}  # see below, and test_lost_operations.py
    assert {kind.code for kind in kinds()} - covered == no_design_can_earn


def test_nearly_every_trouble_has_a_case(as_written: Callable[[Path], Timeline]) -> None:
    seen = {t.kind for folder in sorted(CASES.iterdir()) for t in as_written(folder).troubles}
    guarded_by_the_reader = {"not-an-angle"}
    assert set(_worded()) - seen == {"volume-not-conserved", *guarded_by_the_reader}


def test_wood_that_does_not_add_up_is_owned_as_a_fault_of_the_program(
    as_written: Callable[[Path], Timeline],
) -> None:
    timeline = as_written(CASES / "lines")
    place = timeline.design.operations[-1].place
    facts = {"before": 96_000.0, "after": 95_000.0, "operation": "saw"}
    (found,) = [
        f
        for f in review(replace(timeline, troubles=(Trouble("volume-not-conserved", place, 1, facts),)))
        if f.code == "SHA39"
    ]
    assert found.headline == "step 1 starts its `saw` with 96 cm³ of wood and accounts for 95 cm³"
    assert found.stops


def test_an_angle_that_is_none_is_worded(as_written: Callable[[Path], Timeline]) -> None:
    timeline = as_written(CASES / "shapes")
    place = timeline.design.shapes["band"].fields["start"].place
    trouble = Trouble("not-an-angle", place, 0, {"found": "a length", "shape": "band"})
    (found,) = [f for f in review(replace(timeline, troubles=(trouble,))) if f.code == "OPE08"]
    assert found.headline == "a formula in shape `band` comes to a length, where an angle is wanted"


FOR_THE_MAKER = ("MAC", "TIM", "PRT", "SAF")
"""Families that mostly doubt: what cannot be built, or injures, is named in the test."""


def test_severities() -> None:
    assert {k.name for k in kinds() if k.code[:3] not in FOR_THE_MAKER and k.severity is not Severity.ERROR} == {
        "stencil-never-stuck",
        "tried-apart",
        "paper-left-on",
        "mention-of-two",
        "stencil-for-nothing",
        "line-never-used",
        "stock-never-milled",
        "hole-breaks-out",
        "against-the-grain",
        "margin-left-on",
        "typed-length",
        "step-without-words",
        "same-title",
        "wood-in-prose",
        "tool-never-used",
        "supply-never-used",
        "grits-far-apart",
        "back-to-coarser",
        "grit-unknown",
        "finish-over-sawn",
        "coarse-before-finish",
        "part-without-finish",
        "supply-not-listed",
        "tool-not-listed",
        "breaks-at-a-corner",
        "unknown-movement",
    }


def test_what_cannot_be_built_or_injures_is_an_error() -> None:
    assert {k.name for k in kinds() if k.code[:3] in FOR_THE_MAKER and k.severity is Severity.ERROR} == {
        "curve-too-tight",
        "blade-not-threaded",
        "hole-narrower-than-blade",
        "taller-than-saw",
        "drill-too-short",
        "rough-too-small",
        "small-part",
    }
    assert {k.name for k in kinds() if k.severity is Severity.NOTE} == {
        "woods-pull-apart",
        "grits-far-apart",
        "tool-not-listed",
        "stencil-tiny",
        "unknown-movement",
    }


def test_sorts_of_fields_are_those_of_the_workshop() -> None:
    sorts = {spec.what for kind in operations().values() for spec in specs(kind)}
    assert sorts - {"one of"} <= EXAMPLES.keys()
    assert set(NAMING) <= EXAMPLES.keys()
    assert UNKNOWN.keys() <= sorts


@pytest.mark.cases("review")
def test_a_headline_stands_alone(case_folder: Path, as_written: Callable[[Path], Timeline]) -> None:
    for found in review(as_written(case_folder)):
        things = (
            "step ",
            "fit ",
            "shape ",
            "board ",
            "size ",
            "stencil ",
            "line ",
            "hole ",
            "tool ",
            "supply ",
            "remedy ",
        )
        assert found.headline.startswith((*things, "`", "in `", "in inches, ", "nothing is finished"))
        assert not found.headline.endswith(".")
        assert "None" not in found.headline
        assert found.label
