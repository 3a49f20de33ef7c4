"""Outlines from drawings at their place and size: true, scaled, stretched, moved, and used in other shapes."""

import math
from pathlib import Path

import pytest

from planbook.reader import read_design
from planbook.solids import Area, Outline
from planbook.solids import Path as OpenLine
from planbook.workshop.run import build

CARD = 'title = "Tern box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'
SIZES = '[sizes]\nwide = "30 mm"\n'
SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">
<ellipse id="dish" cx="40" cy="40" rx="20" ry="10"/>
<path id="way-in" d="M 0 40 L 20 40"/>
</svg>"""


def shape(folder: Path, fields: str, more: str = "", name: str = "dish") -> Outline:
    (folder / "drawn.svg").write_text(SVG, "utf-8")
    table = f'[shapes.it]\nkind = "drawing"\nfile = "drawn.svg"\nid = "{name}"\n{fields}\n{more}'
    (folder / "design.toml").write_text(CARD + SIZES + table, "utf-8")
    (folder / "steps.md").write_text("## Look\n\nLook at it.\n", "utf-8")
    reading = read_design(folder)
    assert reading.findings == ()
    assert reading.design is not None
    shapes = build(reading.design).shapes
    return shapes["more" if more else "it"]


@pytest.mark.parametrize(
    ("fields", "bounds"),
    [
        ("", (20, 10, 60, 30)),
        ('at = ["0 mm", "5 mm"]', (0, 5, 40, 25)),
        ('width = "80 mm"', (40, 20, 120, 60)),
        ('height = "2 * wide"\nat = ["0 mm", "0 mm"]', (0, 0, 120, 60)),
        ('width = "wide"\nheight = "wide"\nat = ["-wide / 2", "-wide / 2"]', (-15, -15, 15, 15)),
    ],
)
def test_place_and_size(tmp_path: Path, fields: str, bounds: tuple[float, float, float, float]) -> None:
    found = shape(tmp_path, fields)
    assert isinstance(found, Area)
    # The chords touch the curve at its ends left and right, and nearly above and below.
    assert found.bounds == pytest.approx(bounds, abs=0.02)
    left, bottom, right, top = bounds
    assert found.size == pytest.approx(math.pi / 4 * (right - left) * (top - bottom), rel=3e-3)


def test_an_open_line_keeps_its_place_beside_the_outline_it_leads_to(tmp_path: Path) -> None:
    line, dish = shape(tmp_path, "", name="way-in"), shape(tmp_path, "")
    assert isinstance(line, OpenLine)
    assert isinstance(dish, Area)
    assert [c for point in line.points for c in point] == pytest.approx([0, 20, 20, 20])
    assert dish.distance_to_edge(line.points[-1]) == pytest.approx(0, abs=1e-6)


def test_other_shapes_are_made_of_it(tmp_path: Path) -> None:
    grown = shape(tmp_path, 'width = "40 mm"', '[shapes.more]\nkind = "offset"\nof = "it"\nby = "-3 mm"\n')
    assert isinstance(grown, Area)
    assert grown.bounds == pytest.approx((23, 13, 57, 27), abs=0.05)
