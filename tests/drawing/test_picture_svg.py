"""Pictures as SVG: true size, short numbers, safe text."""

import re
import xml.etree.ElementTree as ET

from planbook.drawing.marks import Fill, Pen, Picture, Stroke, Words
from planbook.drawing.svg import svg

PEN = Pen(0.35)


def paths(text: str) -> list[str]:
    return [e.attrib["d"] for e in ET.fromstring(text).iter() if e.tag.endswith("path")]


def walked(d: str) -> list[list[tuple[float, float]]]:
    """Points of the runs of a path of absolute moves and relative lines."""
    runs = []
    for start, rest in re.findall(r"M([^a-zA-Z]*)l?([^a-zA-Z]*)", d):
        numbers = [float(n) for n in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", start + " " + rest)]
        x = y = 0.0
        points = []
        for dx, dy in zip(numbers[::2], numbers[1::2], strict=True):
            x, y = x + dx, y + dy
            points.append((round(x, 2), round(y, 2)))
        runs.append(points)
    return runs


def test_one_unit_is_one_millimetre():
    root = ET.fromstring(svg(Picture(90, 70.25, ())))
    assert (root.attrib["width"], root.attrib["height"]) == ("90mm", "70.25mm")
    assert root.attrib["viewBox"] == "0 0 90 70.25"


def test_lines_are_found_again_to_a_hundredth():
    line = ((0.1, -0.004), (0.5, 0.25), (-3.126, 100.0), (7.0, 7.0), (7.001, 7.001))
    (d,) = paths(svg(Picture(90, 70, (Stroke(line, PEN),))))
    assert walked(d) == [[(0.1, 0.0), (0.5, 0.25), (-3.13, 100.0), (7.0, 7.0)]]


def test_neighbouring_lines_of_one_pen_share_a_path():
    lines = [Stroke(((0.0, k), (9.0, k)), PEN, "crease") for k in range(5)]
    assert len(paths(svg(Picture(90, 70, tuple(lines))))) == 1
    assert len(paths(svg(Picture(90, 70, (*lines, Stroke(((0.0, 0.0), (1.0, 1.0)), Pen(0.5))))))) == 2


def test_rounding_does_not_add_up_along_a_line():
    line = tuple((k / 3, k / 7) for k in range(400))
    (d,) = paths(svg(Picture(90, 70, (Stroke(line, PEN),))))
    x, y = walked(d)[0][-1]
    assert abs(x - 399 / 3) < 0.006
    assert abs(y - 399 / 7) < 0.006


def test_a_dot_is_drawn():
    (d,) = paths(svg(Picture(90, 70, (Stroke(((3.0, 4.0),), PEN),))))
    assert d == "M3 4h0"


def test_holes_are_cut_by_the_even_odd_rule():
    ring = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0))
    text = svg(Picture(90, 70, (Fill((ring, ring), "#ffffff", opacity=0.5),)))
    assert 'fill-rule="evenodd"' in text
    assert 'fill-opacity="0.5"' in text
    assert paths(text)[0].count("z") == 2


def test_text_is_escaped_and_cleaned():
    text = svg(Picture(90, 70, (Words((1, 2), "<b>&\x00\ud800木", 2.8, "end", 30.0, bold=True),), alt="a < b"))
    root = ET.fromstring(text)
    words = next(e for e in root.iter() if e.tag.endswith("text"))
    assert words.text == "<b>&木"
    assert words.attrib["text-anchor"] == "end"
    assert words.attrib["transform"] == "rotate(30 1 2)"
    assert next(e for e in root.iter() if e.tag.endswith("title")).text == "a < b"
