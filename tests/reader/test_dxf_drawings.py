"""Outlines from DXF drawings, written with ezdxf and read back: layers, handles, units, arcs, splines."""

import io
import math

import ezdxf
import pytest
from ezdxf.document import Drawing
from scipy.integrate import quad
from scipy.interpolate import BSpline

from planbook.model import ArcTo
from planbook.reader.dxf_shapes import dxf_outline
from planbook.reader.svg_shapes import UnknownId
from planbook.reader.svg_tree import Unreadable
from planbook.solids import Area, Path
from planbook.solids.curves import outline


@pytest.fixture
def document() -> Drawing:
    made = ezdxf.new("R2010")
    made.header["$INSUNITS"] = 4
    return made


def data_of(document: Drawing) -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding)


def drawn(document: Drawing, name: str = "outline") -> Area:
    found = outline(dxf_outline(data_of(document), name).strokes, 20_000)
    assert isinstance(found, Area)
    assert found.fault() is None
    return found


ON = {"layer": "outline"}


def test_lines_and_arcs_of_a_layer_in_any_order_make_one_outline(document: Drawing) -> None:
    space = document.modelspace()
    space.add_line((0, 20), (40, 20), dxfattribs=ON)
    space.add_line((40, 0), (0, 0), dxfattribs=ON)
    space.add_arc((40, 10), 10, -90, 90, dxfattribs=ON)
    space.add_line((0.004, 0), (0, 20), dxfattribs=ON)
    space.add_line((5, 5), (9, 9), dxfattribs={"layer": "notes"})
    found = drawn(document, "OUTLINE")
    assert found.size == pytest.approx(800 + math.pi * 50, rel=1e-3)
    assert found.bounds == pytest.approx((0, 0, 50, 20), abs=0.03)


def test_a_layer_goes_before_a_handle_and_a_handle_names_one_line(document: Drawing) -> None:
    space = document.modelspace()
    space.add_circle((0, 0), 5, dxfattribs=ON)
    one = space.add_circle((50, 0), 9, dxfattribs={"layer": "other"})
    found = drawn(document, str(one.dxf.handle).lower())
    assert found.size == pytest.approx(math.pi * 81, rel=5e-3)


@pytest.mark.parametrize(("units", "mm"), [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0)])
def test_units_of_the_file(document: Drawing, units: int, mm: float) -> None:
    document.header["$INSUNITS"] = units
    document.modelspace().add_circle((2, 3), 1.5, dxfattribs=ON)
    found = dxf_outline(data_of(document), "outline")
    assert found.sized
    assert found.bounds == pytest.approx((0.5 * mm, 1.5 * mm, 3.5 * mm, 4.5 * mm))


def test_a_file_without_units_says_so(document: Drawing) -> None:
    document.header["$INSUNITS"] = 0
    document.modelspace().add_circle((0, 0), 5, dxfattribs=ON)
    assert not dxf_outline(data_of(document), "outline").sized


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.3, -0.3, 2.0])
def test_a_bulge_is_the_segment_of_a_circle(document: Drawing, bulge: float) -> None:
    points = [(0, 0, bulge), (30, 0, 0)]
    document.modelspace().add_lwpolyline(points, format="xyb", close=True, dxfattribs=ON)
    turn = 4 * math.atan(abs(bulge))
    radius = 15 / math.sin(turn / 2)
    size = radius**2 / 2 * (turn - math.sin(turn))
    found = drawn(document)
    assert found.size == pytest.approx(size, rel=5e-3)
    # A positive bulge turns left: from left to right, it hangs below.
    assert (found.centroid[1] < 0) == (bulge > 0)


def test_old_polylines_ellipses_and_mirrored_circles(document: Drawing) -> None:
    space = document.modelspace()
    space.add_polyline2d([(0, 0), (30, 0), (30, 20)], close=True, dxfattribs={"layer": "wedge"})
    space.add_ellipse((5, 5), (20, 10), 0.5, dxfattribs={"layer": "dish"})
    space.add_circle((10, 0), 4, dxfattribs={"layer": "turned", "extrusion": (0, 0, -1)})
    space.add_circle((10, 0), 4, dxfattribs={"layer": "leaning", "extrusion": (0, 1, 1)})
    assert drawn(document, "wedge").size == pytest.approx(300)
    assert drawn(document, "dish").size == pytest.approx(math.pi * 500 * 0.5, rel=3e-3)
    assert drawn(document, "turned").centroid[0] == pytest.approx(-10)
    with pytest.raises(Unreadable) as leaning:
        dxf_outline(data_of(document), "leaning")
    assert "does not lie flat" in leaning.value.words


def test_an_open_arc_stays_an_arc(document: Drawing) -> None:
    document.modelspace().add_arc((0, 0), 10, 350, 100, dxfattribs=ON)
    (stroke,) = dxf_outline(data_of(document), "outline").strokes
    (arc,) = stroke.segments
    assert isinstance(arc, ArcTo)
    assert arc.sweep == pytest.approx(math.radians(110))
    assert stroke.start == pytest.approx((10 * math.cos(math.radians(350)), 10 * math.sin(math.radians(350))))


def test_a_spline_has_the_length_that_another_library_gives_it(document: Drawing) -> None:
    control = [(0, 0), (10, 30), (30, -10), (50, 25), (60, 0)]
    spline = document.modelspace().add_open_spline(control, dxfattribs=ON)
    line = outline(dxf_outline(data_of(document), "outline").strokes, 20_000)
    assert isinstance(line, Path)
    curve = BSpline(list(spline.knots), control, 3)
    slope = curve.derivative()
    length = quad(lambda t: math.hypot(*slope(t)), curve.t[3], curve.t[-4], limit=200)[0]
    assert line.length == pytest.approx(length, rel=1e-3)
    assert line.points[0] == pytest.approx((0, 0), abs=1e-9)
    assert line.points[-1] == pytest.approx((60, 0), abs=1e-9)


def test_what_is_unknown_or_strange_is_refused(document: Drawing) -> None:
    space = document.modelspace()
    space.add_text("Plate", dxfattribs={"layer": "words"})
    space.add_circle((0, 0), 5, dxfattribs=ON)
    space.add_blockref("nothing", (0, 0), dxfattribs={"layer": "blocks"})
    document.blocks.new("nothing")
    with pytest.raises(UnknownId) as missing:
        dxf_outline(data_of(document), "outlin")
    assert missing.value.known == ("outline",)
    for name, words in (("words", "draws no line"), ("blocks", "INSERT")):
        with pytest.raises(Unreadable) as refused:
            dxf_outline(data_of(document), name)
        assert words in refused.value.words


@pytest.mark.parametrize("keep", [0.2, 0.6, 0.9, 0.99])
def test_a_file_that_breaks_off_ends_in_a_refusal_or_an_outline(document: Drawing, keep: float) -> None:
    document.modelspace().add_circle((0, 0), 5, dxfattribs=ON)
    whole = data_of(document)
    try:
        found = dxf_outline(whole[: int(len(whole) * keep)], "outline")
    except (Unreadable, UnknownId):
        return
    assert found.strokes
