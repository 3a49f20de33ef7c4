"""The legend explains the marks that are there, of pictures and of stencils, and no others."""

import pytest

from planbook.booklet.legend import legend
from planbook.drawing.ink import SQUARES, Ink, base, painted
from planbook.drawing.marks import Fill, Stroke, Words
from planbook.drawing.sheet_check import key
from planbook.drawing.stencil_figure import mark_box
from planbook.drawing.stencil_words import StencilWords

STENCILS = {
    "cut": "Thick line with ticks",
    "entry": "Thick line with arrow heads",
    "sand to": "Long dashes",
    "guide": "Short dashes",
    "edge": "Thin line",
    "hole": "Circle with a cross",
    "grain": "Half arrow heads",
    "match": "Diamond, half dark",
    "apart": "Short fine dashes",
    "tile": "Short fine dashes around",
    "trim": "Chain line on a tile",
    "crop": "Thin line with zigzags",
}
PICTURES = {
    "new outline": "Blue-green outline",
    "calm outline": "Pale piece, thin grey outline",
    "sheet": "Pale patch on the wood",
    "stencil line": "Thin grey line on the paper",
    "printed line": "Dark line on the paper",
    "cut line": "Red line",
    "waste side": "Red line with ticks",
    "drill axis": "Red chain line",
    "push": "Blue arrow",
    "clamp": "Blue arrow with a block",
    "hidden clamp": "Dashed blue arrow with a block",
    "sand": "Blue ticks",
    "glue face": "Small brown rings",
    "unseen: peg": "Blue-green dashes",
    "ghost": "Thin line with double dots",
    "distance": "Dimension",
    "inset place": "Two circles",
    "hatch": "Hatching",
}


@pytest.mark.parametrize("layer", PICTURES)
@pytest.mark.parametrize("ink", ["colour", "black"])
def test_a_mark_of_pictures_is_explained_where_one_has_it(layer: str, ink: Ink) -> None:
    (row,) = legend({layer, "outline", "crease", "face", "name"}, (), ink)
    assert ink == "black" or row.name == PICTURES[layer]
    assert not legend(set(PICTURES) - {layer}, (), ink).count(row)


def test_waste_is_explained_once_where_only_stencils_have_it() -> None:
    assert [row.name for row in legend((), {"waste"})] == ["Hatching"]
    assert [row.name for row in legend({"hatch"}, {"waste"})] == ["Hatching"]


@pytest.mark.parametrize("layer", STENCILS)
def test_a_mark_of_stencils_is_explained_where_it_is_printed(layer: str) -> None:
    said = {row.name for row in legend((), {layer})}
    assert said == {STENCILS[layer]}


@pytest.mark.parametrize("ink", ["colour", "black"])
def test_every_mark_is_drawn_within_its_picture(ink: Ink) -> None:
    for row in legend(PICTURES, STENCILS, ink):
        boxes = [mark_box(mark) for mark in row.picture.marks]
        assert boxes
        assert min(min(left, top) for left, top, _, _ in boxes) >= 0
        assert max(right for _, _, right, _ in boxes) <= row.picture.width
        assert max(bottom for _, _, _, bottom in boxes) <= row.picture.height


def test_the_black_edition_has_no_colours() -> None:
    for row in legend(PICTURES, STENCILS, "black"):
        for mark in row.picture.marks:
            colour = mark.pen.colour if isinstance(mark, Stroke) else mark.colour
            red, green, blue = (int(colour[k : k + 2], 16) for k in (1, 3, 5))
            assert max(red, green, blue) - min(red, green, blue) < 16


def test_samples_of_wood_have_the_tint_of_the_pictures() -> None:
    """The wood of the key is painted as the painter of the step pictures paints a face in full light."""
    for layer, role in (("sheet", "worked"), ("calm outline", "context")):
        (pale,), (dark,) = (legend({layer}, (), "colour", tint) for tint in ("#e8d5b0", "#6b4a35"))
        colours = [next(m.colour for m in row.picture.marks if isinstance(m, Fill)) for row in (pale, dark)]
        assert colours == [painted(base(tint, role, "colour"), 1.0, "colour") for tint in ("#e8d5b0", "#6b4a35")]


def test_every_layer_of_the_key_on_a_sheet_is_explained_in_the_booklet() -> None:
    layers = ("cut", "sand to", "kerf side", "waste", "hole", "entry", "edge", "guide", "apart", "crop", "tile", "trim")
    drawn = {mark.text for mark in key((0.0, 0.0), (400.0, 60.0), layers, StencilWords()) if isinstance(mark, Words)}
    assert len(drawn) == len(layers)
    assert len(legend((), layers)) == len(layers) - 1  # the side of the cut is told with the line


def test_paper_is_told_from_wood_and_from_what_stands_by_in_black_ink() -> None:
    """White wood, white paper: the squares of the paper are in its sample, and in no other."""
    for row in legend(PICTURES, STENCILS, "black"):
        squared = [m for m in row.picture.marks if isinstance(m, Stroke) and m.pen == SQUARES]
        assert bool(squared) == (row.name == "Fine squares on the wood")
        ways = {m.points[0][0] == m.points[1][0] for m in squared}
        assert not squared or ways == {True, False}
