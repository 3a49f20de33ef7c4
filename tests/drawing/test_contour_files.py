"""Stencils and pieces as files for other tools, read back by independent readers."""

import io
import math
import os
import subprocess
import sys

import ezdxf
import pytest
import shapely
import svgelements
import trimesh
from ezdxf import path as ezpath

from planbook.drawing.contours import LAYERS, drawn
from planbook.drawing.contours_dxf import contours_dxf
from planbook.drawing.contours_svg import contours_svg
from planbook.drawing.stencil_art import ArtHole, ArtLine, StencilArt
from planbook.drawing.stl import stl
from planbook.solids import FACE_FRAMES, Path
from planbook.solids.plane import arc_band, box, ellipse
from planbook.solids.solid import prism

BAND = arc_band((100, 20), 75, 85, 20, 160)
BLOB = ellipse((100, 55), 60, 34)
WINDOW = box(20, 15, 40, 30, 8)
ART = StencilArt(
    2,
    3,
    "Lid & “groove”",
    "front",
    ("blank",),
    face=box(0, 0, 200, 120),
    lines=(
        ArtLine("band", BAND, "cut", "outside", 0.0, 1.0),
        ArtLine("blob", BLOB, "sand to"),
        ArtLine("window", WINDOW, "cut", "outside", 0.8, 1.0),
        ArtLine("way in", Path(((100.0, 120.0), (100.0, 105.0))), "entry"),
    ),
    holes=(ArtHole("pin", (40, 30), 6.35, None),),
)
FLAT = 1e-4
"""How closely the readers flatten curves, mm."""


@pytest.fixture(scope="module")
def dxf():
    return ezdxf.read(io.StringIO(contours_dxf(drawn(ART))))


@pytest.fixture(scope="module")
def svg():
    return svgelements.SVG.parse(io.StringIO(contours_svg(drawn(ART))), ppi=25.4)


def dxf_polygons(document, layer):
    """Every closed outline of a layer, its entities joined end to end, as the format's own reader flattens them."""
    runs = [
        [(p.x, p.y) for p in ezpath.make_path(entity).flattening(FLAT)]
        for entity in document.modelspace().query(f'*[layer=="{layer}"]')
        if entity.dxftype() != "CIRCLE"
    ]
    lines = shapely.set_precision(shapely.MultiLineString([run for run in runs if len(run) > 1]), 1e-6)
    return sorted(shapely.get_parts(shapely.polygonize(list(lines.geoms))), key=lambda p: p.area)


def svg_polygons(document, layer):
    """The same for the paths of a group; y down in the file."""
    (group,) = [g for g in document.elements() if getattr(g, "id", None) == layer.replace(" ", "-")]
    found = []
    for element in group:
        if isinstance(element, svgelements.Path):
            points = []
            for part in element:
                if not isinstance(part, svgelements.Move):
                    steps = 1 if isinstance(part, svgelements.Line | svgelements.Close) else 400
                    points += [part.point(i / steps) for i in range(steps + 1)]
            found.append(shapely.Polygon([(p.x, p.y) for p in points]))
    return sorted(found, key=lambda p: p.area)


TRUE = {
    "band": (math.radians(140) / 2 * (85**2 - 75**2), math.radians(140) * (75 + 85) + 20),
    "window sawn": (41.6 * 31.6 - (4 - math.pi) * 8.8**2, 2 * (24 + 14) + 2 * math.pi * 8.8),
    "window": (40 * 30 - (4 - math.pi) * 64, 2 * (24 + 14) + 2 * math.pi * 8),
    "blob": (math.pi * 30 * 17, None),
}
"""Area (mm2) and length (mm) by closed forms."""


@pytest.mark.parametrize("read", ["dxf", "svg"])
def test_areas_and_lengths_are_those_of_the_closed_forms(read, request):
    document = request.getfixturevalue(read)
    polygons = {"dxf": dxf_polygons, "svg": svg_polygons}[read]
    window_sawn, band = polygons(document, LAYERS["cut"])
    window, blob = polygons(document, LAYERS["sand to"])
    found = {"band": band, "window sawn": window_sawn, "window": window, "blob": blob}
    for name, (area, length) in TRUE.items():
        # The wood left at a rounded corner is offset with mitred chords, within the tolerance of chords.
        near = 2e-3 if name == "window sawn" else 1e-3
        assert found[name].area == pytest.approx(area, rel=near), name
        if length is not None:
            assert found[name].length == pytest.approx(length, rel=near), name
    (edge,) = polygons(document, LAYERS["edge"])
    assert edge.area == pytest.approx(200 * 120, rel=1e-5)


def test_the_dxf_file_has_few_true_entities_in_millimetres(dxf):
    assert dxf.units == ezdxf.units.MM
    assert dxf.header["$INSUNITS"] == 4
    assert not dxf.audit().errors
    cut = list(dxf.modelspace().query(f'LWPOLYLINE[layer=="{LAYERS["cut"]}"]'))
    assert len(cut) == 2
    assert all(entity.closed for entity in cut)
    band, window = sorted(len(entity) for entity in cut)
    assert band == 4
    assert window <= 12  # four sides, four corners, and a chord on either side of a corner that was moved outwards
    bulges = sorted(b for entity in cut for *_, b in entity.get_points() if b)
    assert len([b for b in bulges if abs(b) > 0.3]) == 2  # the arcs of the band; the corners turn a quarter
    whole = dxf.modelspace().query("*")
    assert len(whole) <= 12
    (pin,) = dxf.modelspace().query("CIRCLE")
    assert (pin.dxf.radius, pin.dxf.center.x, pin.dxf.center.y) == (6.35 / 2, 40, 30)


def test_the_svg_file_is_at_true_size_with_layers_in_plain_words(svg):
    text = contours_svg(drawn(ART))
    assert {g.id for g in svg.elements() if isinstance(g, svgelements.Group) and g.id} == {
        "saw-lines",
        "sand-to-these-lines",
        "ways-in-for-the-blade",
        "holes",
        "edges-of-the-piece",
    }
    assert 'width="210.0000mm"' in text
    assert 'viewBox="0 0 210.0000 130.0000"' in text
    assert "Lid &amp; “groove”" in text
    (pin,) = [e for e in svg.elements() if isinstance(e, svgelements.Circle)]
    assert (pin.cx, pin.cy, pin.rx) == pytest.approx((45, 95, 6.35 / 2), abs=1e-4)


def test_the_same_stencil_gives_the_same_bytes():
    assert contours_dxf(drawn(ART)) == contours_dxf(drawn(ART))
    assert contours_svg(drawn(ART)) == contours_svg(drawn(ART))


def test_another_process_gives_the_same_bytes():
    """Sets have another order in each process; of these seeds, one gave the classes of the format another order."""
    code = (
        "from planbook.drawing.contours import Drawn, Round\nfrom planbook.drawing.contours_dxf import contours_dxf\n"
        "import hashlib\nprint(hashlib.sha256(contours_dxf(Drawn('Lid', (), (Round('holes', (0, 0), 1),), (0, 0, 1, 1))).encode()).hexdigest())"
    )
    digests = {
        subprocess.run(
            [sys.executable, "-c", code], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in "123456"
    }
    assert len(digests) == 1


def test_an_empty_stencil_is_an_empty_file_and_no_fault():
    bare = StencilArt(1, 1, "", "front", (), face=box(0, 0, 0, 0))
    assert "svg" in contours_svg(drawn(bare))
    assert not list(ezdxf.read(io.StringIO(contours_dxf(drawn(bare)))).modelspace())


def test_a_piece_as_stl_has_its_volume():
    solid = prism(BLOB, FACE_FRAMES["front"], -20.0, 0.0)
    read = trimesh.load(io.BytesIO(stl(solid)), file_type="stl")
    assert read.is_watertight
    assert read.volume == pytest.approx(solid.volume, rel=1e-5)
    assert read.bounds.ravel() == pytest.approx([c for corner in solid.bounds for c in corner], abs=1e-4)
