"""Outlines from SVG drawings: true size, transforms, elements, joining, and files that mean no good."""

import math
from itertools import pairwise
from pathlib import Path

import pytest
from fontTools.misc.transform import Transform
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.transformPen import TransformPen
from fontTools.svgLib.path import parse_path
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from planbook.reader import read_design
from planbook.reader.files import MOST_BYTES
from planbook.reader.svg_shapes import UnknownId, svg_outline
from planbook.reader.svg_tree import MOST_ELEMENTS, Unreadable
from planbook.solids import Area
from planbook.solids import Path as OpenLine
from planbook.solids.curves import outline

CARD = 'title = "Curlew box"\nversion = "1.0"\nmaker = "Saltmarsh Workshop"\nunits = "mm"\n'


def svg(body: str, attributes: str = 'width="100mm" height="60mm" viewBox="0 0 100 60"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}>{body}</svg>'.encode()


def drawn(data: bytes, name: str = "it") -> Area:
    found = outline(svg_outline(data, name).strokes, 20_000)
    assert isinstance(found, Area)
    assert found.fault() is None
    return found


SQUARE = '<rect id="it" x="10" y="20" width="30" height="10"/>'


@pytest.mark.parametrize(
    ("attributes", "bounds"),
    [
        # 96 px to the inch: CSS Values and Units Module Level 3, section 5.2.
        ('width="100mm" height="60mm" viewBox="0 0 100 60"', (10, 30, 40, 40)),
        ('width="10cm" viewBox="0 0 100 60"', (10, 30, 40, 40)),
        ('height="2.36220472441in" viewBox="0 0 100 60"', (10, 30, 40, 40)),
        ('width="200mm" height="120mm" viewBox="0 0 100 60"', (20, 60, 80, 80)),
        ('width="100mm" height="60mm" viewBox="5 10 100 60"', (5, 40, 35, 50)),
        ('viewBox="0 0 96 96"', (10 * 25.4 / 96, (96 - 30) * 25.4 / 96, 40 * 25.4 / 96, (96 - 20) * 25.4 / 96)),
        ('width="100%" height="100%" viewBox="0 0 96 96"', (2.6458333, 17.4625, 10.5833333, 20.1083333)),
        ('width="96" height="96px"', (10 * 25.4 / 96, (96 - 30) * 25.4 / 96, 40 * 25.4 / 96, (96 - 20) * 25.4 / 96)),
        ('width="72pt" height="6pc"', (10 * 25.4 / 96, (96 - 30) * 25.4 / 96, 40 * 25.4 / 96, (96 - 20) * 25.4 / 96)),
        ("", (10 * 25.4 / 96, -30 * 25.4 / 96, 40 * 25.4 / 96, -20 * 25.4 / 96)),
        # Wider than the drawing: it stands in the middle (xMidYMid), unless it is told otherwise.
        ('width="140mm" height="60mm" viewBox="0 0 100 60"', (30, 30, 60, 40)),
        ('width="140mm" height="60mm" viewBox="0 0 100 60" preserveAspectRatio="xMinYMin"', (10, 30, 40, 40)),
        ('width="140mm" height="60mm" viewBox="0 0 100 60" preserveAspectRatio="none"', (14, 30, 56, 40)),
        ('width="200mm" height="60mm" viewBox="0 0 100 60" preserveAspectRatio="xMinYMin slice"', (20, 0, 80, 20)),
    ],
)
def test_true_size_and_upright(attributes: str, bounds: tuple[float, float, float, float]) -> None:
    assert drawn(svg(SQUARE, attributes)).bounds == pytest.approx(bounds, abs=1e-5)


def test_the_shape_stands_as_it_is_drawn() -> None:
    """In SVG y points down: what is drawn at the bottom of the page stays there."""
    wedge = drawn(svg('<polygon id="it" points="0,60 10,60 0,40"/>'))
    assert wedge.holds((1.0, 1.0))
    assert wedge.bounds == pytest.approx((0, 0, 10, 20))
    assert not wedge.holds((9.0, 9.0))


PATH = "M10 10 C 20 0 60 0 70 20 S 40 50 30 40 Q 20 30 10 40 Z"
TURNS = [
    ("translate(5)", Transform().translate(5, 0)),
    ("translate(5,-3)", Transform().translate(5, -3)),
    ("scale(.5)", Transform().scale(0.5)),
    ("scale(1 -2)", Transform().scale(1, -2)),
    ("rotate(30)", Transform().rotate(math.radians(30))),
    ("rotate(-40 20 10)", Transform().translate(20, 10).rotate(math.radians(-40)).translate(-20, -10)),
    ("skewX(20)", Transform().skew(math.radians(20), 0)),
    ("skewY(-15)", Transform().skew(0, math.radians(-15))),
    ("matrix(1 .2 -.3 .9 4 5)", Transform(1, 0.2, -0.3, 0.9, 4, 5)),
    ("translate(3 4), rotate(10) scale(2)", Transform().translate(3, 4).rotate(math.radians(10)).scale(2)),
]


@pytest.mark.parametrize(("outer", "first"), TURNS)
@pytest.mark.parametrize(("inner", "second"), TURNS[::3])
def test_nested_transforms_as_another_library_makes_them(
    outer: str, first: Transform, inner: str, second: Transform
) -> None:
    data = svg(f'<g transform="{outer}"><g><path id="it" transform="{inner}" d="{PATH}"/></g></g>')
    pen = AreaPen()
    parse_path(PATH, TransformPen(pen, first.transform(second)))
    found = drawn(data)
    assert found.size == pytest.approx(abs(pen.value), rel=3e-3)
    u, v = first.transform(second).transformPoint((40.0, 20.0))
    assert found.holds((u, 60 - v))


@pytest.mark.parametrize(
    ("element", "size"),
    [
        ('<circle id="it" cx="50" cy="30" r="20"/>', math.pi * 400),
        ('<ellipse id="it" cx="50" cy="30" rx="20" ry="10"/>', math.pi * 200),
        ('<ellipse id="it" cx="50" cy="30" rx="20"/>', math.pi * 400),
        ('<rect id="it" x="1" y="1" width="40" height="20"/>', 800),
        ('<rect id="it" x="1" y="1" width="40" height="20" rx="5"/>', 800 - (4 - math.pi) * 25),
        ('<rect id="it" x="1" y="1" width="40" height="20" rx="6" ry="3"/>', 800 - (4 - math.pi) * 18),
        ('<rect id="it" x="1" y="1" width="40" height="20" rx="99"/>', math.pi * 200),
        ('<polygon id="it" points="0 0 30 0 30,20"/>', 300),
        ('<polyline id="it" points="0,0 30,0 30,20 0,0"/>', 300),
        ('<path id="it" d="M0 0h30v20z"/>', 300),
        # Two half circles, each in its own path, make one round outline.
        ('<g id="it"><path d="M10 30a20 20 0 0 1 40 0"/><path d="M10 30a20 20 0 0 0 40 0"/></g>', math.pi * 400),
        (
            '<g id="it"><circle cx="50" cy="30" r="20"/><title>x</title><circle cx="50" cy="30" r="5"/></g>',
            math.pi * 375,
        ),
    ],
)
def test_areas_of_elements(element: str, size: float) -> None:
    found = drawn(svg(element))
    assert found.size == pytest.approx(size, rel=3e-3)
    assert found.size <= size * (1 + 1e-9)


def test_a_rounded_rectangle_is_the_one_that_a_geometry_library_makes() -> None:
    found = drawn(svg('<rect id="it" x="10" y="10" width="40" height="20" rx="6"/>'))
    other = box(16, 36, 44, 44).buffer(6, quad_segs=200)
    assert Polygon(found.rings[0]).symmetric_difference(other).area < 0.02 * other.length


def test_an_open_line_stays_open_and_in_order() -> None:
    drawing = svg_outline(
        svg('<g id="it"><path d="M30 0 40 0"/><path d="M10 0 20 0"/><path d="M30 0 20 0"/></g>'), "it"
    )
    found = outline(drawing.strokes, 100)
    assert isinstance(found, OpenLine)
    xs = [round(u, 6) for u, _ in found.points]
    assert xs in ([10, 20, 30, 40], [40, 30, 20, 10])
    assert all(abs(a - b) == 10 for a, b in pairwise(xs))


def test_names_that_there_are_come_with_an_unknown_one() -> None:
    with pytest.raises(UnknownId) as missing:
        svg_outline(svg('<g id="a"><path id="b" d="M0 0"/></g><text id="c"/>'), "it")
    assert missing.value.known == ("a", "b")


def test_other_namespaces_do_no_harm() -> None:
    editor = '<x:view xmlns:x="http://example.org/editor" x:id="it" id="other"><x:path d="M0 0"/></x:view>'
    assert drawn(svg(f"{editor}<g>{SQUARE}</g>")).size == pytest.approx(300)
    plain = f'<svg width="100mm" height="60mm" viewBox="0 0 100 60">{SQUARE}</svg>'.encode()
    assert drawn(plain).size == pytest.approx(300)
    wide = '<?xml version="1.0" encoding="UTF-16"?>' + svg(SQUARE).decode()
    assert drawn(wide.encode("utf-16")).size == pytest.approx(300)
    named = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    assert drawn(named.encode() + svg(SQUARE)).size == pytest.approx(300)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (svg("<g>" * 70 + SQUARE + "</g>" * 70), "nested more than 64 deep"),
        (svg("<g/>" * (MOST_ELEMENTS + 1) + SQUARE), "more than 20000 elements"),
        (svg('<path id="it" d="M0 0' + "h1" * 6000 + 'z"/>'), "more than 5000 parts"),
        (svg('<g id="it">' + '<path d="M0 0h1v1z"/>' * 2000 + "</g>"), "more than 5000 parts"),
        (b'<?xml version="1.0" encoding="klingon"?><svg/>', "encoding"),
        (b'<!DOCTYPE svg [<!ENTITY % x SYSTEM "http://example.org/x">%x;]><svg/>', "entities"),
        (b"\x00\x01\x02", "not whole XML"),
    ],
)
def test_limits(data: bytes, words: str) -> None:
    with pytest.raises(Unreadable) as refused:
        svg_outline(data, "it")
    assert words in refused.value.words


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="MmLlHhVvCcSsQqTtAaZz0123456789.,-+eE \n#", max_size=60))
@example("M0,0 L")
@example("M.5.5-1e2-.3e1z")
@example("M0 0A1 1 0 00 5 5")
def test_any_path_is_read_or_refused(text: str) -> None:
    try:
        found = svg_outline(svg(f'<path id="it" d="{text}"/>'), "it")
    except Unreadable:
        return
    assert all(math.isfinite(b) for b in found.bounds)


def test_what_a_finding_quotes_has_no_unseen_characters(tmp_path: Path) -> None:
    odd = '<path id="a\u202eb" d="M0 0"/><path id="it" d="M0 0\n\n\u202e !"/>'
    (tmp_path / "odd.svg").write_bytes(svg(odd))
    shapes = [f'[shapes.{name}]\nkind = "drawing"\nfile = "odd.svg"\nid = "{name}"\n' for name in ("it", "ab")]
    (tmp_path / "design.toml").write_text(CARD + "".join(shapes), "utf-8")
    (tmp_path / "steps.md").write_text("## Saw\n\nSaw it.\n", "utf-8")
    findings = read_design(tmp_path).findings
    assert [f.code for f in findings] == ["INP51", "INP52"]
    assert all(text.isprintable() for f in findings for text in (f.headline, f.hint, *f.notes))


def test_a_drawing_that_is_too_large_or_a_link_is_not_read(tmp_path: Path) -> None:
    folder, outside = tmp_path / "curlew", tmp_path / "secret.svg"
    folder.mkdir()
    outside.write_bytes(svg(SQUARE))
    (folder / "large.svg").write_bytes(b" " * (MOST_BYTES + 1))
    (folder / "link.svg").symlink_to("../secret.svg")
    (folder / "inner.svg").write_bytes(svg(SQUARE))
    (folder / "linked.svg").symlink_to("inner.svg")
    (folder / "more").mkdir()
    (folder / "more" / "deep.svg").write_bytes(svg(SQUARE))
    names = ("large.svg", "link.svg", "linked.svg", "more/deep.svg", "more\\\\deep.svg", "a\\u0007.svg")
    shapes = [f'[shapes.s{at}]\nkind = "drawing"\nfile = "{name}"\nid = "it"\n' for at, name in enumerate(names)]
    (folder / "design.toml").write_text(CARD + "".join(shapes), "utf-8")
    (folder / "steps.md").write_text("## Saw\n\nSaw it.\n", "utf-8")
    findings = read_design(folder).findings
    assert all(f.headline.isprintable() for f in findings)
    found = {(f.code, f.headline.split("`")[1]) for f in findings if "`" in f.headline}
    assert found >= {("INP05", "large.svg"), ("INP03", "link.svg"), ("INP03", "more\\deep.svg")}
    assert not any(name in ("linked.svg", "more/deep.svg") for _, name in found)
