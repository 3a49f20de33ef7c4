"""The records that a whole design becomes."""

from fractions import Fraction
from pathlib import Path

import pytest

from planbook.model import Design
from planbook.model.sizes import evaluate, evaluate_sizes
from planbook.reader import read_design

CLEAN = Path(__file__).parents[1] / "cases" / "reader" / "clean-box"


@pytest.fixture(scope="module")
def design() -> Design:
    made = read_design(CLEAN).design
    assert made is not None
    return made


def test_card(design: Design) -> None:
    card = design.card
    assert (card.title, card.version, card.units) == ("Curlew box", "1.0", "mm")
    assert design.sources[card.place.file].line(card.place.line)[card.place.column - 1 :].startswith("Curlew box")


def test_sizes_may_stand_in_any_order(design: Design) -> None:
    values, problems = evaluate_sizes(design)
    assert problems == ()
    assert values["wall"].value == Fraction(25, 2)
    assert values["drawer height"].value == Fraction(7, 2) * Fraction(127, 5) / 3
    assert (values["tilt"].is_angle, values["sides"].is_number) == (True, True)
    assert list(values) == list(design.sizes)


def test_stock_has_a_corner_even_if_none_is_written(design: Design) -> None:
    values, _ = evaluate_sizes(design)
    left, right = design.stock["left board"], design.stock["right"]
    assert [evaluate(each, values).value for each in left.at] == [0, 0, 0]
    assert [evaluate(each, values).value for each in right.at] == [0, 19, 0]
    assert (left.wood, left.grain, right.rough) == ("black walnut", "x", None)
    assert left.rough is not None


def test_boards_may_share_a_word_so_that_they_match(design: Design, tmp_path: Path) -> None:
    assert {board.match for board in design.stock.values()} == {""}
    (tmp_path / "steps.md").write_bytes((CLEAN / "steps.md").read_bytes())
    text = (CLEAN / "design.toml").read_text("utf-8")
    (tmp_path / "design.toml").write_text(text.replace("[stock.right]", '[stock.right]\nmatch = " pair "'), "utf-8")
    made = read_design(tmp_path).design
    assert made is not None
    assert made.stock["right"].match == "pair"


def test_shapes_keep_the_nodes_of_their_keys(design: Design) -> None:
    moon = design.shapes["moon"]
    assert (moon.kind, sorted(moon.fields)) == ("cut away", ["by", "from"])
    assert moon.fields["from"].value == "disc"
    assert design.shapes["track"].fields["closed"].value is False


def test_stencils_are_numbered_in_the_order_of_the_file(design: Design) -> None:
    front, top = design.stencils.values()
    assert [(front.name, front.number, front.origin), (top.name, top.number, top.origin)] == [
        ("front", 1, "lower middle"),
        ("top", 2, "lower left"),
    ]
    assert [(line.name, line.shape) for line in front.lines] == [("outline", "outline"), ("drum", "disc")]
    assert [hole.name for hole in (*front.holes, *top.holes)] == ["peg", "pivot"]
    assert [region.name for region in front.regions] == ["inside"]


def test_tools_supplies_and_fits(design: Design) -> None:
    blade = design.tools["narrow blade"]
    assert (blade.kind, blade.kerf_range is not None, blade.diameter) == ("band saw", True, None)
    assert (design.supplies["pins"].count, design.supplies["glue"].product) == (2, "yellow wood glue")
    assert {name: fit.kind for name, fit in design.fits.items()} == {
        "play": "gap",
        "strong": "wall",
        "runs": "slide",
        "opens": "swing",
        "even": "flush",
    }


def test_every_place_shows_what_it_names(design: Design) -> None:
    for named in (*design.sizes.values(), *design.stock.values(), *design.shapes.values(), *design.fits.values()):
        line = design.sources[named.place.file].line(named.place.line)
        assert line[named.place.column - 1 :][: named.place.length] == named.name
    for size in design.sizes.values():
        place = size.expr.place
        shown = design.sources[place.file].line(place.line)[place.column - 1 :][: place.length]
        assert shown == size.expr.formula.text


def test_harmless_errors_leave_the_design_whole(tmp_path: Path) -> None:
    for name in ("design.toml", "steps.md"):
        (tmp_path / name).write_text((CLEAN / name).read_text("utf-8"), "utf-8")
    with (tmp_path / "design.toml").open("a") as file:
        file.write('colour = "red"\n')
    reading = read_design(tmp_path)
    assert [finding.code for finding in reading.findings] == ["INP11"]
    assert reading.design is not None
