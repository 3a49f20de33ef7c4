"""Editions in other units, on other papers: how lengths are printed and what files are called."""

from fractions import Fraction

import pytest

from planbook.booklet import Edition
from planbook.handbook import paper
from planbook.speech import speaking


def test_decimal_inches() -> None:
    edition = Edition(units="in-decimal")
    assert edition.length(Fraction("88.9")) == "3.5 in"
    assert edition.box(Fraction("88.9"), Fraction("50.8"), Fraction("19.05")) == "3.5 × 2 × 0.75 in"
    assert edition.system == "in"


def test_both_units_say_inches_in_brackets() -> None:
    edition = Edition("a4", "both")
    assert edition.length(Fraction("88.9")) == "88.9 mm (3 1/2 in)"
    assert edition.box(Fraction("88.9"), Fraction("50.8")).replace("\u00a0", " ") == "88.9 × 50.8 mm (3 1/2 × 2 in)"
    assert edition.length(Fraction("1.1")) == "1.1 mm (0.043 in)"  # a kerf: fine in both
    assert edition.system == "mm"
    assert edition.drawn_style.also is None


def test_a_decimal_comma() -> None:
    with speaking("de"):
        assert Edition("a4", "mm").length(Fraction("88.9")) == "88,9 mm"
        assert Edition("a4", "mm").title == "A4, Millimeter"


def test_files_carry_what_differs() -> None:
    assert Edition("a4", "mm").marks == ("a4", "mm")
    edition = Edition("a4", "mm", "de", ink="black", layout="shop", stencils_on="a3")
    assert "-".join(edition.marks) == "a4-mm-de-shop-black-stencils-a3"


# ISO 216 (A3), ASME Y14.1 (size B, 11 x 17 in); rolls of 24 and 36 in, 1 in = 25.4 mm.
@pytest.mark.parametrize(("name", "width"), [("a3", 297), ("tabloid", 279.4), ("roll", 609.6), ("roll-36", 914.4)])
def test_papers_of_stencils(name: str, width: float) -> None:
    row = paper(name)
    assert row is not None
    assert float(row.width_mm) == pytest.approx(width)
    assert Edition(stencils_on=name).stencil_paper == row  # type: ignore[arg-type]
