"""Builds that remember what need not be done again come out as those that do not."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planbook.model import Design
from planbook.reader import read_design
from planbook.workshop.fitting import measure_fit
from planbook.workshop.memory import Memory
from planbook.workshop.run import finish
from planbook.workshop.seasons import Swelling
from planbook.workshop.varying import Variation

SAMPLE = Path(__file__).parents[2] / "designs" / "curlew-box"
Write = Callable[[str, str], Design]


variations = st.builds(
    Variation,
    st.fixed_dictionaries(
        {}, optional={"narrow blade": st.sampled_from((0.9, 1.1, 1.3)), "resaw blade": st.sampled_from((0.9, 1.3))}
    ),
    st.fixed_dictionaries(
        {}, optional={"sanding": st.sampled_from((-0.1, 0.1)), "thickness": st.sampled_from((-0.1, 0.1))}
    ),
)


@settings(max_examples=5, deadline=None)
@given(st.lists(variations, min_size=1, max_size=3))
def test_what_is_remembered_is_what_would_be_built(varied: list[Variation]) -> None:
    """A build from memory and one without it measure the same, piece by piece and fit by fit."""
    design = read_design(SAMPLE).design
    assert design is not None
    memory = Memory()
    finish(design, None, memory=memory)
    for each in varied:
        remembered, anew = finish(design, None, each, memory).timeline, finish(design, None, each).timeline
        assert [t.kind for t in remembered.troubles] == [t.kind for t in anew.troubles]
        assert [f.least for f in remembered.fits] == pytest.approx([f.least for f in anew.fits], abs=1e-5)
        for a, b in zip(remembered.object, anew.object, strict=True):
            assert a.name == b.name
            assert a.solid.volume == pytest.approx(b.solid.volume, rel=1e-7)
            assert [*a.solid.bounds[0], *a.solid.bounds[1]] == pytest.approx(
                [*b.solid.bounds[0], *b.solid.bounds[1]], abs=1e-5
            )


def test_the_same_build_again_does_nothing_anew() -> None:
    design = read_design(SAMPLE).design
    assert design is not None
    memory = Memory()
    first = finish(design, None, memory=memory).timeline
    memory.recalled = 0
    again = finish(design, None, memory=memory).timeline
    assert memory.recalled >= len(design.operations)
    assert all(a is b for a, b in zip(first.object, again.object, strict=True))


def test_a_fit_on_the_same_solids_is_not_measured_again(design_of: Write, ring: tuple[str, str]) -> None:
    design = design_of(*ring)
    memory = Memory()
    done = finish(design, None, memory=memory)
    fit = design.fits["turns"]
    assert measure_fit(fit, done.shop, Swelling(0.0), memory) is measure_fit(fit, done.shop, Swelling(0.0), memory)
