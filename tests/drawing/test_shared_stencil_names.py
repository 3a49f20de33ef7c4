"""A stencil that serves several pieces carries the names that its parts share, not those of the first piece."""

from pathlib import Path

import pytest

from planbook.drawing.stencil_art import StencilArt
from planbook.drawing.stencil_read import stencil_arts
from planbook.reader import read_design
from planbook.workshop.run import build

STOOL = Path(__file__).parents[2] / "designs" / "dory-stool"


@pytest.fixture(scope="module")
def arts() -> dict[str, StencilArt]:
    reading = read_design(STOOL)
    assert reading.design is not None
    return {art.title: art for art in stencil_arts(build(reading.design))}


def test_the_two_sides_share_one_sheet(arts: dict[str, StencilArt]) -> None:
    assert arts["Side"].pieces == ("left blank", "right blank")
    assert {region.name for region in arts["Side"].regions} == {"side", "slugs", "waste"}


def test_the_two_rails_share_one_sheet(arts: dict[str, StencilArt]) -> None:
    assert arts["Rail"].pieces == ("front rail blank", "back rail blank")
    assert {region.name for region in arts["Rail"].regions} == {"rail", "waste"}


def test_a_sheet_for_one_piece_keeps_its_names(arts: dict[str, StencilArt]) -> None:
    assert {region.name for region in arts["Top"].regions} == {"top", "top slugs", "top waste"}
